// Sound inputs of every kind, and the command lines that read them: what the soak changes a little.
import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { exampleFiles } from '../cli/help-example-files.js';
import { inOwnFolder, type Ran, runIn } from '../laws/support/in-process.js';

export interface Corpus {
  readonly files: ReadonlyMap<string, string>;
  readonly lines: readonly CommandLine[];
}

export interface CommandLine {
  readonly args: readonly string[];
  /** The file of it that is changed; null: the words themselves. */
  readonly file: string | null;
  /** In how many of all draws it is passed over: some take a second. */
  readonly seldom: number;
}

function line(text: string, file: string | null, seldom = 0): CommandLine {
  return { args: text.split(' '), file, seldom };
}

const watches = ['watch.yaml', 'soon.yaml', 'wanted.yaml', 'rich.yaml'];

const lines: readonly CommandLine[] = [
  ...watches.flatMap((watch) => [
    line(`replay day.yaml -c ${watch}`, watch),
    line(`replay day.yaml -c ${watch} --json`, watch),
    line(`battery -c ${watch}`, watch),
    line(`emit diagram -c ${watch} --format mermaid`, watch, 0.7),
    line(`margin --start 2C --outside 21C --limit 8C --tau-open 3h -c ${watch}`, watch, 0.7),
  ]),
  line('bounds -c soon.yaml', 'soon.yaml', 0.7),
  line('bounds -c watch.yaml --json', 'watch.yaml', 0.9),
  line('replay day.yaml -c watch.yaml', 'day.yaml'),
  line('replay busy.yaml -c watch.yaml --json', 'busy.yaml'),
  line('replay busy.yaml -c rich.yaml --trace wakes.ndjson', 'busy.yaml'),
  line('chart busy.yaml -c watch.yaml -o busy.svg', 'busy.yaml', 0.7),
  line('suite suite -c watch.yaml', 'suite/calm.yaml'),
  line('replay doors.csv -c watch.yaml', 'doors.csv'),
  line('replay doors.tsv -c watch.yaml', 'doors.tsv'),
  line('replay doors.ndjson -c watch.yaml --json', 'doors.ndjson'),
  line('replay rows.csv -c watch.yaml', 'rows.csv'),
  line('replay rows.csv --lenient --zone Europe/Lisbon', 'rows.csv'),
  line('profile doors.csv', 'doors.csv', 0.5),
  line('estimate -c soon.yaml --profile store.yaml --years 2 --jobs 1', 'store.yaml', 0.7),
  line('compare doors.csv --device-log device.csv -c watch.yaml', 'device.csv'),
  line('compare doors.csv --device-log device.ndjson -c watch.yaml', 'device.ndjson'),
  line('compare doors.csv --device-log wakes.ndjson -c watch.yaml', 'wakes.ndjson'),
  line('drill -c soon.yaml --short --record results.csv', 'results.csv', 0.9),
  line('verify proof.json -c soon.yaml', 'proof.json', 0.5),
  line('merge part-1.json part-2.json', 'part-1.json'),
  line(
    'margin --start 2C --outside 21C --limit cold-food --readings warming.csv --worst-delay 8m',
    'warming.csv',
  ),
  line('rig firmware.c day.yaml -c watch.yaml', 'firmware.c', 0.9),
  line('rig firmware.cpp busy.yaml --json', 'firmware.cpp', 0.95),
  line('replay day.yaml -c watch.yaml --json', null),
  line('bounds -c soon.yaml --interval 2m --recheck 1m --strict', null, 0.5),
  line('battery -c rich.yaml --json', null),
  line(
    'margin --start 2C --outside 21C --limit 8C --tau-open 3h --worst-delay 8m --response 10m',
    null,
  ),
  line('chart day.yaml -c watch.yaml --width 800 -o day.svg', null, 0.5),
  line('emit scxml -c watch.yaml -o watch.scxml', null, 0.5),
  line('estimate -c soon.yaml --profile goose-house --years 2 --jobs 1 --seed 3', null, 0.8),
];

const rich = `watch:
  checkInterval: 2m
  recheckInterval: 1m
  escalationThreshold: { open: 2, outOf: 3 }
  clearThreshold: 2
  alertCooldown: 20m
  retry: { interval: 30s, attempts: 3 }
  unsentWhenShut: drop
  heartbeatInterval: 1d
device:
  bootTime: { min: 250ms, max: 1.5s }
  connectTime: 4s
  clockError: { byTemperature: [{ celsius: -20, error: -2% }, { celsius: 25, error: 0% }] }
judge: { leaveOpenAfter: 5m, reportWithin: 12m, quietUpTo: 45s }
contact: { operateGap: 8mm, releaseGap: 12mm, bounceTime: 2ms }
door: { sealGap: 2mm }
supply:
  capacity: 650mAh
  usable: 90%
  selfDischarge: { firstDay: 2%, perMonth: 1% }
  sleepCurrent: 12uA
  boot: { current: 30mA }
  blink: { current: 4mA, time: 200ms }
  connect: { charge: 13.3mC }
  contactBias: { resistance: 1MOhm, powered: check-only }
  voltageCurve: [{ left: 0%, voltage: 3.0V }, { left: 100%, voltage: 4.15V }]
environment: { longestOutage: 10m, powerLosses: 1, resets: 1 }
`;

const busy = `name: Wind at the goose-house hatch
start: 2026-05-08T06:00:00+02:00
length: 1d
powerOnAt: +10s
door:
  - at 07:10 for 45s
  - { at: "07:30", for: 22m, note: wedged for the trolleys }
  - at +11h for 25m ajar 6mm
  - { at: "20:00", until: "20:40", gap: 10mm, approach: creeping }
network: [{ down: "07:25", for: 1h }]
power: [{ lost: "09:00", for: 2m }]
resets: ["10:00"]
contact: [{ stuck: shut, at: "12:00", for: 1h }, { chattering: true, at: "14:00", for: 5m, openShare: 30%, every: 2s }]
temperature: [{ at: "06:00", celsius: 4 }, { at: "15:00", celsius: 21.5 }]
environment: { bootTime: [400ms, 1s], clockError: { min: -1%, max: 1% } }
seed: wagtail
expect: { missed: { atMost: 3 }, worstDelayAtMost: 2h }
`;

const store = `openingsPerHour: [0,0,0,0,0,0,2,6,4,3,3,4,5,3,2,2,3,4,2,1,0,0,0,0]
weekdayFactor: 1
weekendFactor: 0.6
duration: { lognormal: { median: 25s, sigma: 0.7 } }
leaveOpen: { share: 0.2%, duration: { exponential: { mean: 20m } } }
`;

/** Writes all samples into a folder and reads them back. @throws Error when one of them cannot be made. */
export async function corpus(): Promise<Corpus> {
  const { 'doors.csv': doors } = exampleFiles;
  const given = {
    ...exampleFiles,
    'watch.yaml': exampleFiles['now.yaml'],
    'day.yaml': exampleFiles['delivery-day.yaml'],
    'suite/calm.yaml': exampleFiles['scenarios/calm.yaml'],
    'rich.yaml': rich,
    'busy.yaml': busy,
    'store.yaml': store,
    'doors.tsv': doors.replaceAll(',', '\t'),
    'rows.csv':
      'start,end,note\n2026-05-04 07:00:00,2026-05-04 07:03:20,"a, b"\n2026-05-05 23:50:00,2026-05-06 00:10:00,\n',
  };
  return await inOwnFolder({}, async (folder) => {
    for (const [name, text] of Object.entries(given)) {
      mkdirSync(path.dirname(path.join(folder, name)), { recursive: true });
      writeFileSync(path.join(folder, name), text);
    }
    await made(folder, 'bounds -c soon.yaml --certificate proof.json');
    await made(folder, 'replay busy.yaml -c watch.yaml --trace wakes.ndjson');
    for (const part of ['1', '2']) {
      await made(
        folder,
        `estimate -c soon.yaml --profile seed-bank --years 4 --shard ${part}/2 -o part-${part}.json`,
      );
    }
    return { files: filesIn(folder), lines };
  });
}

async function made(folder: string, text: string): Promise<Ran> {
  const ran = await runIn(folder, text.split(' '));
  if (ran.status > 1) throw new Error(`dozewatch ${text}: ${ran.stderr}`);
  return ran;
}

function filesIn(folder: string): ReadonlyMap<string, string> {
  return new Map(
    readdirSync(folder, { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile())
      .map((entry) => path.join(entry.parentPath, entry.name))
      .map((file) => [path.relative(folder, file), readFileSync(file, 'utf8')]),
  );
}
