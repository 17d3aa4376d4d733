// What is estimated: rates, profiles, charge, warmth, and the choice of settings.
import { type GoldenCase, golden } from '../case.js';

const both = (run: string): readonly string[] => [run, `${run} --json`];
const small = '--interval 1m..5m --recheck 1m,3m --threshold 1..2 --years 3 --jobs 1';
const tune = `tune -c supply.yaml --profile rare.yaml ${small}`;
const space = 'margin --start 1C --outside 20C --limit 5C';

export const yearCases: readonly GoldenCase[] = [
  golden(
    'estimate/named-profile',
    both('estimate -c plain.yaml --profile goose-house --years 10 --jobs 1'),
  ),
  golden(
    'estimate/lost-messages',
    [
      ...both('estimate -c lossy.yaml --profile seed-bank --years 40 --jobs 1'),
      'estimate -c few.yaml --profile left.yaml --years 20 --jobs 1',
      'estimate -c waits.yaml --profile seed-bank --years 10 --jobs 1',
      'year -c lossy.yaml --profile seed-bank --years 2',
    ],
    {
      files: {
        'lossy.yaml':
          'watch: { checkInterval: 2m, heartbeatInterval: 1d }\njudge: { leaveOpenAfter: 5m }\nanswer: { afterMissedHeartbeat: 1d }\ndelivery: { lost: 20% }\n',
        'few.yaml':
          'watch: { checkInterval: 2m }\njudge: { leaveOpenAfter: 5m }\ndelivery: { lost: 20% }\n',
        'left.yaml': 'openingsPerHour: { "0-24": 0.01 }\nduration: { fixed: 10m }\n',
        'waits.yaml':
          'watch: { checkInterval: 2m, afterAlert: hold-until-reset, alertCooldown: 0s }\njudge: { leaveOpenAfter: 5m }\nanswer: { afterAlert: 1h }\ndelivery: { lost: 5% }\n',
      },
    },
  ),
  golden('estimate/own-profile', [
    'estimate -c ranges.yaml --profile store.yaml --years 5 --seed 7',
  ]),
  golden('estimate/faults', [
    'estimate -c plain.yaml --profile rare.yaml --years 10 --outage-rate 12/year --outage-lasting 30m --power-loss-rate 2/year --power-loss-lasting 1h --confidence 90% --chart years.svg',
  ]),
  golden('estimate/little-is-known', [
    'estimate -c plain.yaml --profile never-left.yaml --years 2',
    'estimate -c plain.yaml --years 2',
    'estimate -c wish.yaml --profile rare.yaml --years 2 --precision 5% --precision-of missed',
  ]),
  golden('estimate/precision', [
    'estimate -c wish.yaml --profile rare.yaml --precision 40% --precision-of missed-share',
  ]),
  golden('estimate/from-a-log', [
    'estimate -c wish.yaml --profile-from two-weeks.csv --years 5',
    'estimate -c wish.yaml --profile-from two-weeks.csv --as-logged --years 5',
  ]),
  golden('estimate/parts', [
    'estimate -c plain.yaml --profile seed-bank --years 6 --shard 1/2 -o part-1.json',
    'estimate -c plain.yaml --profile seed-bank --years 6 --shard 2/2 -o part-2.json',
    'merge part-1.json part-2.json --chart years.svg',
    'merge part-1.json part-2.json --json --confidence 99%',
    'merge part-1.json # status 2',
  ]),
  golden('profile/fitted', both('profile two-weeks.csv')),
  golden('profile/as-logged', ['profile two-weeks.csv --as-logged -c plain.yaml']),
  golden('profile/few-rows', ['profile openings.csv']),
  golden('battery/preset', both('battery -c supply.yaml')),
  golden('battery/own-currents', both('battery -c rich.yaml')),
  golden('battery/contact-and-range', ['battery -c tuned.yaml', 'battery -c hold.yaml']),
  golden('battery/cold-cells', [
    'battery -c cold-cells.yaml',
    'battery -c cold-cells.yaml --json',
    'replay quiet-months.yaml -c cold-cells.yaml',
  ]),
  golden('battery/warning-that-never-comes', ['battery -c never-low.yaml quiet-months.yaml']),
  golden(
    'battery/cells',
    [
      'battery -c cells.yaml week.yaml',
      'replay week.yaml -c cells.yaml',
      'bounds -c cells.yaml',
      'tune -c cells.yaml --profile rare.yaml --interval 1m..2m --recheck 2m --threshold 2 --years 2 --jobs 1',
    ],
    {
      files: {
        'cells.yaml':
          'watch: { checkInterval: 2m, heartbeatInterval: 1d }\ndevice: { bootTime: 300ms..600ms, connectTime: 2s..8s, clockError: -1%..1% }\njudge: { leaveOpenAfter: 5m }\nsupply: { preset: bare-board, cells: alkaline-aa, series: 3 }\n',
        'week.yaml':
          'name: A week at the goose-house hatch\nstart: 2026-05-04T00:00:00Z\nlength: 1w\ndoor:\n  - { at: "2026-05-04T08:00", for: 10m }\n  - { at: "2026-05-06T08:00", for: 2m }\n',
      },
    },
  ),
  golden(
    'battery/low-voltage-in-the-cold',
    ['battery -c cold.yaml', 'battery -c room.yaml', 'battery -c share.yaml'],
    {
      files: Object.fromEntries(
        [
          ['cold', 'atVoltage: 2.5V', -10],
          ['room', 'atVoltage: 2.5V', 20],
          ['share', 'at: 20%', -10],
        ].map(([name, low, celsius]) => [
          `${name}.yaml`,
          `watch: { checkInterval: 3m, lowBattery: { ${low} } }\njudge: { leaveOpenAfter: 10m }\nsupply: { preset: bare-board, cells: alkaline-aa, series: 2, celsius: ${celsius}, regulator: { kind: boost, quiescent: 60uA, efficiency: 85% } }\n`,
        ]),
      ),
    },
  ),
  golden('battery/heartbeat', ['battery -c heartbeat.yaml']),
  golden('battery/timelines', both('battery -c supply.yaml delivery-day.yaml late.yaml')),
  golden(
    'battery/powered-later',
    [
      'battery -c supply.yaml later.yaml',
      'replay later.yaml -c supply.yaml # status 0',
      'replay later.yaml -c supply.yaml --power-on-at 23h # status 1',
      'battery -c supply.yaml never.yaml',
    ],
    {
      files: {
        'later.yaml':
          'name: Powered on at six\nstart: 2026-05-08T00:00:00Z\nlength: 1d\npowerOnAt: "06:00"\ndoor: [{ at: "12:00", for: 20m }]\n',
        'never.yaml':
          'name: Never powered\nstart: 2026-05-08T00:00:00Z\nlength: 1d\npower: [{ lost: "00:00", for: 1d }]\n',
      },
    },
  ),
  golden('battery/flat-before-the-end', both('battery -c hold.yaml repeats.yaml')),
  golden('battery/calibrated', both('battery -c supply.yaml --calibrate "1200mAh lasted 150d"')),
  golden('battery/two-lives', [
    ...both(
      'battery -c supply.yaml --calibrate "1200mAh lasted 120d at 2m" --calibrate "1200mAh lasted 200d at 10m"',
    ),
    'battery -c supply.yaml --calibrate "1200mAh lasted 120d at 2m" --calibrate "1200mAh lasted 100d at 10m" # status 2',
    'battery -c supply.yaml --calibrate "1200mAh lasted 120d at 2m" --calibrate "1200mAh lasted 121d at 2m" # status 2',
  ]),
  golden('battery/charted', ['battery -c supply.yaml delivery-day.yaml --chart battery.svg']),
  golden(
    'year/cells-that-are-replaced',
    [
      'year -c cells.yaml --profile flower-store --start 2026-05-04',
      'year -c cells.yaml --profile seed-bank --years 3 --chart year.svg',
      'year -c hold.yaml --profile seed-bank --years 2 --chart year.svg',
    ],
    {
      files: {
        'cells.yaml':
          'watch: { checkInterval: 2m, heartbeatInterval: 1d }\nsupply: { preset: bare-board, cells: alkaline-aa, series: 2, regulator: { kind: boost, quiescent: 60uA, efficiency: 85% } }\nanswer: { charges: { every: 4w } }\n',
        'hold.yaml':
          'watch: { afterAlert: hold-until-reset, alertCooldown: 0s }\nsupply: { preset: bare-board, cells: alkaline-aa, series: 2, regulator: { kind: boost, quiescent: 60uA, efficiency: 85% } }\n',
      },
    },
  ),
  golden(
    'year/too-late-for-the-weakest-cells',
    ['year -c cells.yaml --profile flower-store --years 2 --seed 3'],
    {
      files: {
        'cells.yaml':
          'watch: { checkInterval: 3m, heartbeatInterval: 1d }\njudge: { leaveOpenAfter: 10m }\nsupply: { preset: tuned-board, cells: lithium-coin, capacity: 230mAh, parallel: 2, celsius: 3, connect: { current: 59mA, time: 3s } }\nanswer: { charges: { every: 7w } }\n',
      },
    },
  ),
  golden('year/holds-without-warning', ['year -c watch.yaml --profile seed-bank --years 3'], {
    files: {
      'watch.yaml':
        'watch: { afterAlert: hold-until-reset, alertCooldown: 0s, lowBattery: { at: 15% } }\nsupply: { preset: bare-board, capacity: 2200mAh }\nanswer: { charges: { every: 12w } }\n',
    },
  }),
  golden(
    'year/a-warning-that-never-comes',
    ['year -c watch.yaml --profile goose-house --years 2'],
    {
      files: {
        'watch.yaml':
          'watch: { checkInterval: 5m, heartbeatInterval: 1d, lowBattery: { atVoltage: 3.9V } }\nsupply: { preset: bare-board, cells: nimh-aa, series: 4, regulator: { kind: buck, quiescent: 60uA, efficiency: 85% } }\nanswer: { afterMissedHeartbeat: 1d, charges: { afterWarning: 3d } }\n',
      },
    },
  ),
  golden('year/a-warning-not-yet-due', ['year -c watch.yaml --profile goose-house --years 2'], {
    files: {
      'watch.yaml':
        'watch: { checkInterval: 2m, heartbeatInterval: 1d, lowBattery: { at: 20% } }\nsupply: { preset: bare-board, cells: alkaline-aa, series: 2 }\nanswer: { afterMissedHeartbeat: 1d, charges: { afterWarning: 3d } }\n',
    },
  }),
  golden(
    'year/waits-for-ever',
    [
      'year -c watch.yaml --profile seed-bank --years 2',
      'year -c lost.yaml --profile goose-house --years 1',
    ],
    {
      files: {
        'watch.yaml':
          'watch: { afterAlert: hold-until-reset, alertCooldown: 0s }\nsupply: { preset: bare-board, capacity: 2200mAh }\n',
        'lost.yaml':
          'watch: { afterAlert: hold-until-reset, alertCooldown: 0s }\nsupply: { preset: bare-board, capacity: 500mAh }\nanswer: { afterAlert: 1h }\ndelivery: { lost: 1% }\n',
      },
    },
  ),
  golden(
    'year/cells-for-the-year',
    ['year -c watch.yaml --profile rare.yaml --years 1 -o cells.ics'],
    {
      files: {
        'watch.yaml':
          'watch: { checkInterval: 2m, heartbeatInterval: 1d }\nsupply: { preset: tuned-board, cells: lithium-aa, series: 2, regulator: { kind: boost, quiescent: 6uA, efficiency: 80% } }\n',
      },
    },
  ),
  golden('year/charged', [
    ...both('year -c year.yaml --profile seed-bank --years 3'),
    'year -c plain.yaml --profile rare.yaml --years 2',
    'year -c plain.yaml --profile rare.yaml --years 2 -o charge.ics # status 2',
    'year -c year.yaml --profile rare.yaml --years 1 -o charge.ics',
    'year -c year.yaml --profile rare.yaml --years 1 --outage-rate 12/year --outage-lasting 2h --chart year.svg',
  ]),
  golden('silence/probably-nothing', [
    ...both(
      'silence -c supply.yaml --charged 2026-05-04 --now 2026-06-29 --messages messages.csv --profile seed-bank --zone Europe/Lisbon',
    ),
    'silence --charged 2026-05-04 --now 2026-05-05 --profile goose-house --no-config',
  ]),
  golden('silence/probably-dead', [
    'silence -c supply.yaml --charged 2026-05-04 --now 2026-08-29 --profile seed-bank --lasts 6w # status 1',
    'silence -c hold.yaml --charged 2026-05-04 --now 2026-05-24 --messages messages.csv --profile rare.yaml --prior unanswered=60% # status 1',
    'silence -c heartbeat.yaml --charged 2026-05-04 --now 2026-05-24 --messages messages.csv --profile rare.yaml # status 1',
  ]),
  golden(
    'silence/cells-that-are-replaced',
    [
      'silence -c cells.yaml --charged 2026-03-01T18:00 --now 2026-03-02T20:00 --profile rare.yaml # status 1',
      'silence -c cells.yaml --charged 2026-03-01T18:00 --now 2026-03-03T19:00 --profile flower-store # status 1',
      'silence -c cells.yaml --charged 2026-03-01 --now 2026-08-20 --profile flower-store # status 1',
      'silence -c hold.yaml --charged 2026-03-01 --now 2026-03-31 --profile flower-store # status 1',
      'battery -c cells.yaml',
      'battery -c derated.yaml',
    ],
    {
      files: {
        'derated.yaml':
          'supply: { preset: tuned-board, cells: lithium-coin, capacity: 230mAh, parallel: 2, celsius: 3, derating: [{ celsius: 3, share: 95% }], connect: { current: 59mA, time: 3s } }\n',
        'cells.yaml':
          'watch: { checkInterval: 3m, heartbeatInterval: 1d, lowBattery: { at: 20% } }\ndevice: { clockError: -1%..1% }\nsupply: { preset: tuned-board, cells: lithium-coin, capacity: 230mAh, parallel: 2, celsius: 3, connect: { current: 59mA, time: 3s } }\nanswer: { charges: { every: 7w } }\n',
        'hold.yaml':
          'watch: { checkInterval: 3m, afterAlert: hold-until-reset, alertCooldown: 0s }\nsupply: { preset: tuned-board, cells: alkaline-aa, series: 2, regulator: { kind: boost, quiescent: 5uA, efficiency: 80% } }\n',
      },
    },
  ),
  golden(
    'silence/waits-for-a-reset',
    [
      ...both('silence -c watch.yaml --charged 2026-05-04 --now 2026-06-20 --profile seed-bank'),
      'silence -c watch.yaml --charged 2026-05-04 --now 2026-05-24 --messages messages.csv --profile goose-house # status 1',
    ],
    {
      files: {
        'watch.yaml':
          'watch: { checkInterval: 2m, afterAlert: hold-until-reset, alertCooldown: 0s }\njudge: { leaveOpenAfter: 5m }\nsupply: { preset: bare-board, capacity: 5Ah }\ndelivery: { lost: 30% }\n',
      },
    },
  ),
  golden(
    'silence/outages-at-the-same-hour',
    [
      'silence -c evening.yaml --charged 2026-03-01T18:00 --now 2026-03-03T19:00 --profile rare.yaml --json # status 1',
      'silence -c evening.yaml --charged 2026-03-01T18:00 --now 2026-03-03T19:00 --profile rare.yaml # status 1',
      'silence -c evening.yaml --charged 2026-03-01T18:00 --now 2026-03-03T19:00 --profile rare.yaml --prior outages=50/year --prior spell=3w # status 1',
      'silence -c evening.yaml --charged 2026-03-01T18:00 --now 2026-03-06T19:00 --profile rare.yaml --messages beats.csv # status 1',
      'silence -c long.yaml --charged 2026-03-01T18:00 --now 2026-03-03T19:00 --profile rare.yaml # status 1',
    ],
    {
      files: {
        'evening.yaml':
          'watch: { checkInterval: 4m, heartbeatInterval: 1d }\nenvironment: { longestOutage: 1h }\n',
        'long.yaml':
          'watch: { checkInterval: 4m, heartbeatInterval: 1d }\nenvironment: { longestOutage: 2d }\n',
        'beats.csv': 'time,event\n2026-03-02T18:06,heartbeat\n2026-03-05T08:00,alert\n',
      },
    },
  ),
  golden(
    'silence/heartbeats-missing-between-messages',
    [
      'silence -c watch.yaml --charged 2026-05-04 --now 2026-05-10T17:30 --messages gap.csv --profile rare.yaml # status 1',
      'silence -c watch.yaml --charged 2026-05-04 --now 2026-05-10T17:30 --messages gap.csv --profile rare.yaml --json # status 1',
      'silence -c watch.yaml --charged 2026-05-04 --now 2026-05-10T17:30 --messages gaps.csv --profile rare.yaml # status 1',
      'silence -c watch.yaml --charged 2026-05-04 --now 2026-05-05T17:30 --messages all.csv --profile rare.yaml',
      'silence --no-config --charged 2026-05-04 --now 2026-05-05T17:30 --messages all.csv --profile rare.yaml # status 1',
    ],
    {
      files: {
        'watch.yaml':
          'watch: { checkInterval: 2m, heartbeatInterval: 8h }\ndevice: { clockError: -1%..1% }\n',
        'gap.csv':
          'time,event\n2026-05-04T08:01,heartbeat\n2026-05-10T07:01,heartbeat\n2026-05-10T17:01,alert\n',
        'gaps.csv':
          'time,event\n2026-05-05T08:01,heartbeat\n2026-05-06T12:01,heartbeat\n2026-05-08T14:00,heartbeat\n2026-05-10T09:00,heartbeat\n2026-05-10T17:01,heartbeat\n',
        'all.csv':
          'time,event\n2026-05-04T08:01,heartbeat\n2026-05-04T16:03,heartbeat\n2026-05-05T00:04,heartbeat\n2026-05-05T08:06,heartbeat\n2026-05-05T16:08,heartbeat\n',
      },
    },
  ),
  golden(
    'silence/refused',
    [
      'silence -c plain.yaml --charged 2026-05-04 --now 2026-05-01',
      'silence -c plain.yaml --charged 2026-05-04 --now 2026-05-12 --messages messages.csv',
      'silence -c plain.yaml --charged soon',
      'silence -c plain.yaml --charged 2026-05-04 --now 2026-05-12 --prior net=1',
      'silence -c plain.yaml --charged 2026-05-04 --now 2026-05-12 --prior network=often',
      'silence -c plain.yaml --charged 2026-05-04 --now 2026-05-12 --prior lost=2',
      'silence -c plain.yaml --charged 2026-05-04 --now 2026-05-12 --prior outages=2/year',
      'silence -c outage.yaml --charged 2026-05-04 --now 2026-05-12 --prior spell=2w',
      'silence -c heartbeat.yaml --charged 2026-05-04 --now 2026-05-12 --prior network=0/year --prior firmware=0/year --prior contact=0/year --prior lost=0%',
    ],
    {
      status: 2,
      files: { 'outage.yaml': 'environment: { longestOutage: 1h }\n' },
    },
  ),
  golden('margin/in-time', both(`${space} --tau-open 5h --worst-delay 8m --response 15m`)),
  golden(
    'margin/too-late',
    both(`${space} --tau-open 5h --tau-ajar 20h --worst-delay 8m --response 70m`),
    {
      status: 1,
    },
  ),
  golden(
    'margin/readings-and-doorway',
    both(
      `${space} --readings warming.csv -c plain.yaml --door-width 1m --door-height 2m --volume 12m3`,
    ),
    {
      status: 1,
    },
  ),
  golden(
    'margin/outage',
    [
      `${space} --tau-open 5h --response 15m -c outages.yaml`,
      `${space} --tau-open 5h --response 60m -c outages.yaml`,
      'bounds -c outages.yaml --outage 0s --report-within 10m # status 0',
    ],
    { status: 1 },
  ),
  golden('margin/seen-later', [
    ...both(`${space} --tau-open 5h -c delivery.yaml --response 15m`),
    'bounds -c delivery.yaml # status 1',
    'replay reported.yaml -c delivery.yaml',
    'hunt -c delivery.yaml --runs 40 --property delivered-in-the-end --calm',
  ]),
  golden('margin/named-limits', [
    'margin --start 4C --outside 25C --limit vaccines --tau-open 5h --worst-delay 8m',
    'margin --start -20C --outside 5C --limit freezer --tau-open 5h --worst-delay 8m --response 30m # status 1',
    'margin --start 1C --outside 18C --limit cut-flowers --tau-open 5h --worst-delay 8m',
  ]),
  golden('tune/recommended', [
    `${tune} --worst-delay 8m -o tuned.yaml --chart front.svg`,
    `${tune} --worst-delay 8m --json`,
  ]),
  golden(
    'tune/nothing-does-it',
    [`${tune} --life 900d -o tuned.yaml --chart front.svg`, `${tune} --life 900d --json`],
    {
      status: 1,
    },
  ),
  golden('tune/whatever-went-before', [
    `${tune} --any-state --wake-on timer,opening --sure-from 7m --all`,
  ]),
];
