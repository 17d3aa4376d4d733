// The folder that the examples of --help are run in: every file that they name, two weeks of a door in May.
import { mkdirSync, mkdtempSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { runIn } from '../laws/support/in-process.js';

const days = 14;

/** Opened three times a day, for longer each day. */
const edges = Array.from({ length: days }, (_, day) =>
  [7, 12, 17].flatMap((hour) => {
    const fromMs = Date.UTC(2026, 4, 4 + day, hour, 5 * day);
    const forMs = 20_000 + 15_000 * day;
    return [
      { time: new Date(fromMs).toISOString(), state: 'open' },
      { time: new Date(fromMs + forMs).toISOString(), state: 'shut' },
    ];
  }),
).flat();

const from = Date.UTC(2026, 4, 4, 7);
const wakes = Array.from({ length: 7 }, (_, index) => ({
  time: new Date(from + 400 + index * 180_400).toISOString(),
  event: 'check',
  value: 'shut',
}));
const device = [{ time: new Date(from).toISOString(), event: 'power-on', value: '' }, ...wakes];

const scenario = (name: string, rest = ''): string =>
  `name: ${name}\nstart: 2026-05-08T06:00:00+02:00\nlength: 1d\ndoor: [{ at: "07:30", for: 22m }]\n${rest}`;

const csv = (rows: readonly object[]): string =>
  [Object.keys(rows[0] ?? {}), ...rows.map((row) => Object.values(row))]
    .map((cells) => `${cells.join(',')}\n`)
    .join('');
const ndjson = (rows: readonly object[]): string =>
  rows.map((row) => `${JSON.stringify(row)}\n`).join('');

const watch = 'watch: { checkInterval: 3m }\n';
const firmware = readFileSync(path.resolve('tests', 'firmware', 'default-watch.c'), 'utf8');

export const exampleFiles = {
  'now.yaml': watch,
  'wanted.yaml': 'watch: { checkInterval: 2m, wakeOn: opening }\n',
  'soon.yaml': 'watch: { escalationThreshold: 1, retry: { interval: 1m, attempts: 1 } }\n',
  'delivery-day.yaml': scenario('Delivery day at the flower store'),
  'outage.yaml': scenario('Network down', 'network: [{ down: "07:32", for: 1h }]\n'),
  'week.yaml': scenario('A week'),
  'may.yaml': scenario('May'),
  'june.yaml': scenario('June').replace('-05-', '-06-'),
  'scenarios/calm.yaml': scenario('A calm day', 'expect: { missed: 0 }\n'),
  'doors.csv': csv(edges),
  'doors.ndjson': ndjson(edges),
  'device.csv': csv(device),
  'device.ndjson': ndjson(device),
  'serial.txt': device.map((row) => `${Object.values(row).join(' ').trim()}\n`).join(''),
  'warming.csv': 'time,temperature\n0m,3\n10m,4.5\n30m,7\n',
  'trials.csv':
    'direction,gap,reads\nclosing,6,shut\nclosing,9,open\nopening,8,shut\nopening,11,open\n',
  'messages.csv': 'time,event\n2026-05-10 08:10,alert\n2026-05-21 17:31,alert\n',
  'results.csv': 'step,message\n1,none\n',
  'firmware.c': firmware,
  'firmware.cpp': '#include "dozewatch_rig.h"\nvoid dw_wake(dw_cause) { dw_sleep_ms(60000); }\n',
};

/** The caller removes it. */
export async function exampleFolder(): Promise<string> {
  const folder = mkdtempSync(path.join(tmpdir(), 'dozewatch-test-'));
  for (const [name, text] of Object.entries(exampleFiles)) {
    mkdirSync(path.dirname(path.join(folder, name)), { recursive: true });
    writeFileSync(path.join(folder, name), text);
  }
  await runIn(folder, ['init', 'made', '--logic']);
  renameSync(path.join(folder, 'made', 'logic.mjs'), path.join(folder, 'logic.mjs'));
  const profile = await runIn(folder, ['profile', 'doors.csv', '-c', 'now.yaml']);
  writeFileSync(path.join(folder, 'my-store.yaml'), profile.stdout);
  mkdirSync(path.join(folder, 'parts'));
  for (const part of ['1', '2']) {
    for (const place of ['', 'parts/']) {
      const shard = ['--years', '4', '--shard', `${part}/2`, '-o', `${place}part-${part}.json`];
      await runIn(folder, ['estimate', '-c', 'now.yaml', '--profile', 'seed-bank', ...shard]);
    }
  }
  return folder;
}
