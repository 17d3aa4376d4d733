// Timelines through a watch: replay, chart, report, suite, compare.
import { type GoldenCase, golden } from '../case.js';

const both = (run: string): readonly string[] => [run, `${run} --json`];
const judged = (name: string, run: string, status = 0): GoldenCase =>
  golden(`replay/${name}`, both(`replay ${run}`), { status });

export const replayCases: readonly GoldenCase[] = [
  judged('calm', 'calm.yaml'),
  judged('reported', 'reported.yaml -c exact.yaml'),
  judged('early', 'early.yaml -c plain.yaml'),
  judged('late', 'late.yaml -c exact.yaml', 1),
  judged('missed', 'missed.yaml -c exact.yaml', 1),
  judged('false-alarm', 'false.yaml -c exact.yaml', 1),
  judged('false-alarm-of-two-openings', 'two-brief.yaml -c exact.yaml', 1),
  golden('replay/false-alarms-after-the-door-had-shut', ['replay night.yaml -c plain.yaml'], {
    files: {
      'night.yaml':
        'name: Openings before two outages and within them\nlength: 4h\ndoor: [at +30m for 4m, at +1h for 4m, at +2h for 20m]\n' +
        'network: [{ down: +55m, for: 30m }, { down: +1h59m, for: 30m }]\n',
    },
    status: 1,
  }),
  judged('repeats', 'repeats.yaml -c plain.yaml'),
  judged('undecided', 'undecided.yaml -c exact.yaml'),
  judged('opened-again', 'reopened.yaml -c gaps.yaml', 1),
  judged('expectations-not-met', 'met-not.yaml -c exact.yaml', 1),
  judged('delivery-day', 'delivery-day.yaml -c gaps.yaml', 1),
  judged('everything-goes-wrong', 'wind.yaml -c rich-calm.yaml', 1),
  judged('power-and-resets', 'cut.yaml', 1),
  golden('replay/resets-assumed', [
    'replay resets.yaml -c sure.yaml',
    'replay resets.yaml -c clears.yaml # status 1',
  ]),
  judged('creeping-open', 'creeping.yaml -c gaps.yaml', 1),
  judged('held-after-the-alert', 'repeats.yaml -c hold.yaml', 1),
  judged('woken-by-the-door', 'reported.yaml -c opening.yaml'),
  judged('woken-by-any-change', 'two-brief.yaml -c any-change.yaml'),
  judged('heartbeats', 'delivery-day.yaml -c heartbeat.yaml', 1),
  judged('clock-by-temperature', 'wind.yaml -c curve.yaml', 1),
  judged('generated', 'generated.yaml -c plain.yaml'),
  judged('several', 'calm.yaml missed.yaml openings.csv -c exact.yaml', 1),
  golden('replay/long-tables', [
    'replay long.yaml -c two-minutes.yaml # status 1',
    'replay long.yaml -c two-minutes.yaml --all # status 1',
    'replay busy-week.yaml',
    'replay busy-week.yaml --all',
  ]),
  golden('replay/every-phase', [
    'replay long.yaml -c two-minutes.yaml --every-phase # status 1',
    'replay openings.csv -c exact.yaml --every-phase',
    'replay openings.csv -c heartbeat.yaml --every-phase # status 1',
    'replay openings.csv -c exact.yaml --every-phase --json',
    'replay gust.yaml -c rich-calm.yaml --every-phase',
  ]),
  golden(
    'replay/cut-off-by-the-end',
    [
      'replay log.csv -c slow.yaml --zone UTC --power-on-at 60s # status 1',
      'replay log.csv -c slow.yaml --zone UTC # status 1',
      'replay log.csv -c slow.yaml --zone UTC --every-phase # status 1',
      'replay log.csv -c slow.yaml --zone UTC --every-phase --json # status 1',
      'replay log.csv -c slow.yaml --zone UTC --power-on-at 60s --json # status 1',
      'replay day.yaml -c slow.yaml # status 1',
      'replay open.csv -c slow.yaml --zone UTC --power-on-at 60s',
      'suite . -c slow.yaml # status 1',
    ],
    {
      files: {
        'slow.yaml':
          'watch: { checkInterval: 2m, escalationThreshold: 2 }\ndevice: { connectTime: 1m }\njudge: { leaveOpenAfter: 3m }\n',
        'log.csv':
          'start,end\n2026-06-01 08:00:00,2026-06-01 08:00:40\n2026-06-01 12:00:00,2026-06-01 12:04:30\n',
        'open.csv':
          'time,state\n2026-06-01 08:00,shut\n2026-06-01 12:00,open\n2026-06-01 12:04:30,open\n',
        'day.yaml':
          'name: An end too early\nlength: 2h5s\npowerOnAt: +57s\ndoor: [at 01:55:25 for 4m30s]\nexpect: { missed: 0 }\n',
      },
    },
  ),
  golden('replay/low-battery', [
    ...both('replay calm.yaml -c warns.yaml'),
    ...both('replay low.yaml -c warns.yaml'),
    ...both('replay low-unsent.yaml -c warns.yaml'),
  ]),
  golden('replay/another-seed', ['replay wind.yaml -c rich-calm.yaml --seed linnet --json'], {
    status: 1,
  }),
  golden('replay/powered-later', ['replay reported.yaml -c exact.yaml --power-on-at 90s']),
  golden('replay/traced', [
    'replay reported.yaml -c exact.yaml --trace wakes.ndjson',
    'replay wind.yaml -c rich-calm.yaml --trace wind.ndjson # status 1',
  ]),
  golden('replay/charted', ['replay reported.yaml -c exact.yaml --chart day.svg']),
  golden('replay/remarks-on-a-scenario', ['replay odd.yaml'], {
    files: {
      'odd.yaml':
        'name: Out of order, and a gap that seals\ndoor: [at 09:00 for 1m, { at: "08:00", for: 2m, gap: 1mm }]\n' +
        'network: [{ down: "08:00", for: 1h }, { down: "08:30", for: 1h }]\n',
    },
  }),
  golden('replay/warned', ['replay calm.yaml -c cautioned.yaml']),
  golden('replay/narrow-terminal', ['replay delivery-day.yaml -c gaps.yaml'], {
    terminalColumns: 64,
    status: 1,
  }),
  golden('replay/wide-terminal', ['--no-color replay wind.yaml -c rich-calm.yaml'], {
    terminalColumns: 160,
    status: 1,
  }),
  golden('logs/forms', [
    'replay edges.csv -c exact.yaml',
    'replay openings.csv -c exact.yaml',
    'replay openings.tsv -c exact.yaml',
    'replay openings.ndjson -c exact.yaml',
    'replay contact.csv -c exact.yaml',
    'replay unended.csv -c exact.yaml',
  ]),
  golden('logs/standard-input', [
    'replay - --format csv -c exact.yaml --json < edges.csv',
    'replay - --format ndjson -c exact.yaml --json < openings.ndjson',
  ]),
  golden('logs/from-and-until', [
    'replay openings.csv -c exact.yaml --from 2026-05-08T06:30:00Z --until 2026-05-08T08:00:00Z',
  ]),
  golden(
    'logs/closed-contact',
    [
      'replay hatch.csv -c exact.yaml',
      'replay hatch.csv -c exact.yaml --json',
      'replay hatch.csv -c exact.yaml --open-word true --shut-word false',
      'chart hatch.csv -c exact.yaml -o hatch.svg',
    ],
    {
      files: {
        'hatch.csv':
          'time,contact\n2026-05-08T06:00:00Z,true\n2026-05-08T06:02:30Z,false\n2026-05-08T06:12:30Z,true\n2026-05-08T07:00:00Z,true\n',
      },
    },
  ),
  golden(
    'logs/several-sensors',
    [
      'replay store.csv -c exact.yaml # status 2',
      'replay store.ndjson -c exact.yaml # status 2',
      'replay store.csv -c exact.yaml --where sensor=hatch',
      'replay --where sensor=gate --open-word agape store.csv -c exact.yaml',
      'replay store.ndjson -c exact.yaml --where sensor=hatch --json',
      'replay store.csv -c exact.yaml --where sensor=hatch --where sensor=gaet # status 2',
      'replay store.csv -c exact.yaml --where snesor=hatch # status 2',
      'replay store.csv -c exact.yaml --where hatch # status 2',
      'profile store.csv --where sensor=hatch',
      'estimate -c exact.yaml --profile-from store.csv --years 5 # status 2',
      'estimate -c exact.yaml --profile seed-bank --where sensor=hatch --years 5 # status 2',
    ],
    {
      files: {
        'store.csv':
          'time,sensor,state\n2026-05-08T06:00:00Z,hatch,open\n2026-05-08T06:01:00Z,gate,open\n2026-05-08T06:01:30Z,gate,shut\n' +
          '2026-05-08T06:12:00Z,hatch,shut\n2026-05-08T06:40:00Z,hatch,shut\n2026-05-08T06:40:00Z,gate,shut\n',
        'store.ndjson':
          '{"time":1778220000,"sensor":"hatch","open":true}\n{"time":1778220060,"sensor":"gate","open":true}\n' +
          '{"time":1778220090,"sensor":"gate","open":false}\n{"time":1778220720,"sensor":"hatch","open":false}\n{"time":1778222400,"sensor":"hatch","open":false}\n',
      },
    },
  ),
  golden(
    'logs/unavailable',
    [
      'replay gaps.csv -c exact.yaml',
      'replay gaps.csv -c exact.yaml --json',
      'replay gaps.csv -c exact.yaml --unavailable-word unknown',
      'replay half-seen.csv -c exact.yaml --every-phase # status 1',
      'replay half-seen.csv -c exact.yaml --every-phase --json # status 1',
      'chart gaps.csv -c exact.yaml -o gaps.svg',
    ],
    {
      files: {
        'gaps.csv':
          'time,state\n2026-05-08T06:00:00Z,shut\n2026-05-08T06:10:00Z,open\n2026-05-08T06:11:00Z,Unavailable\n2026-05-08T06:30:00Z,shut\n' +
          '2026-05-08T07:10:00Z,open\n2026-05-08T07:20:00Z,\n2026-05-08T07:40:00Z,shut\n2026-05-08T09:00:00Z,shut\n',
        'half-seen.csv':
          'time,state\n2026-05-08T06:00:00Z,shut\n2026-05-08T06:10:00Z,open\n2026-05-08T06:11:00Z,unavailable\n2026-05-08T06:30:00Z,shut\n' +
          '2026-05-08T07:10:00Z,open\n2026-05-08T07:13:10Z,unavailable\n2026-05-08T07:40:00Z,shut\n2026-05-08T08:10:00Z,open\n' +
          '2026-05-08T08:12:10Z,unavailable\n2026-05-08T08:12:50Z,open\n2026-05-08T08:24:00Z,shut\n2026-05-08T09:00:00Z,shut\n',
      },
    },
  ),
  golden(
    'logs/clocks-go-back',
    [
      'replay night.csv -c exact.yaml --zone Europe/Oslo',
      'replay unclear.csv -c exact.yaml --zone Europe/Oslo # status 2',
      'replay unclear.csv -c exact.yaml --zone Europe/Oslo --lenient # status 1',
      'replay lost.csv -c exact.yaml --zone Europe/Oslo --lenient # status 1',
    ],
    {
      files: {
        'night.csv':
          'start,end\n2026-10-25 02:50,2026-10-25 02:10\n2026-10-26 08:00,2026-10-26 08:00:30\n',
        'unclear.csv':
          'start,end\n2026-10-25 02:10,2026-10-25 02:11\n2026-10-26 08:00,2026-10-26 08:00:30\n',
        'lost.csv':
          'start,end\n2026-10-25 08:00,2026-10-25 07:10\n2026-10-26 08:00,2026-10-26 08:00:30\n2026-10-26 09:00,2026-10-26 09:00:30\n',
      },
    },
  ),
  golden(
    'logs/other-forms',
    [
      'replay dots.csv -c exact.yaml --zone Europe/Oslo',
      'replay slashes.csv -c exact.yaml --zone Europe/Oslo # status 2',
      'replay slashes.csv -c exact.yaml --zone Europe/Oslo --time-format "%d/%m/%Y %I:%M %p"',
      'replay list.json -c exact.yaml',
      'replay unnamed.csv -c exact.yaml # status 2',
    ],
    {
      files: {
        'dots.csv':
          'Date;Time;State\n08.05.2026;06:00;shut\n08.05.2026;06:10;open\n08.05.2026;06:22;shut\n08.05.2026;08:00;shut\n',
        'slashes.csv':
          'time,state\n08/05/2026 6:10 AM,open\n08/05/2026 6:22 AM,shut\n08/05/2026 8:00 PM,shut\n',
        'list.json':
          '[{"at": "2026-05-08T06:10:00Z", "hatch": {"state": "open"}},\n {"at": "2026-05-08T06:22:00Z", "hatch": {"state": "shut"}}]\n',
        'unnamed.csv': 'moment,hatch\n2026-05-08T06:10:00Z,ajar\n2026-05-08T06:22:00Z,tight\n',
      },
    },
  ),
  golden('logs/zones', [
    'replay local.csv -c exact.yaml',
    'replay local.csv -c exact.yaml --zone Europe/Oslo',
    'replay local.csv -c exact.yaml --zone +02:00 --json',
  ]),
  golden('logs/repaired', [
    'replay untidy.csv -c exact.yaml # status 2',
    'replay untidy.csv -c exact.yaml --lenient # status 1',
    'replay untidy.csv -c exact.yaml --lenient --json # status 1',
  ]),
  golden('logs/own-words', [
    'replay odd-words.csv -c exact.yaml --time-column when --state-column hatch --open-word agape --shut-word tight',
  ]),
  golden('chart/svg', [
    'chart reported.yaml -c exact.yaml',
    'chart missed.yaml -c exact.yaml -o missed.svg --dark --title "Left ajar" --width 700',
    'chart wind.yaml -c rich-calm.yaml -o wind.svg --json',
  ]),
  golden('chart/other-forms', [
    'chart missed.yaml -c exact.yaml -o missed.png',
    'chart missed.yaml -c exact.yaml -o missed.vcd',
    'chart missed.yaml -c exact.yaml -o missed.html',
    'chart openings.csv -c exact.yaml -o log.svg',
  ]),
  golden('report/one-timeline', ['report missed.yaml -c exact.yaml -o report.html']),
  golden('report/several', [
    'report reported.yaml openings.csv -c supply.yaml -o report.html --title "A day at the hatch"',
    'report reported.yaml -c exact.yaml -o short.html --no-bounds --json',
  ]),
  golden('suite/met', both('suite met')),
  golden('suite/not-met', both('suite not-met'), { status: 2 }),
  golden('suite/more-than-are-listed', ['suite many'], { status: 1 }),
  golden('suite/one-watch', [
    'suite met -c wish.yaml # status 1',
    'suite not-met -c quick.yaml # status 2',
  ]),
  golden('suite/narrow-terminal', ['--no-color suite not-met -c exact.yaml'], {
    terminalColumns: 60,
    status: 2,
  }),
  golden('suite/junit', [
    'suite met --junit results.xml',
    'suite not-met --junit not-met.xml # status 2',
  ]),
  golden('suite/against-faults', both('suite asked --against-mistakes')),
  golden(
    'compare/not-sent',
    both('compare compared-doors.csv --device-log silent.csv -c compared.yaml'),
    { status: 1 },
  ),
  golden(
    'compare/as-it-should',
    both('compare compared-doors.csv --device-log sound.ndjson -c compared.yaml'),
  ),
  golden('compare/only-messages', [
    'compare two-weeks.csv --device-log messages.csv -c heartbeat.yaml --zone UTC # status 1',
    'compare two-weeks.csv --device-log messages.csv -c plain.yaml --zone UTC',
  ]),
  golden(
    'compare/misread',
    both('compare compared-doors.csv --device-log misread.csv -c compared.yaml'),
    { status: 1 },
  ),
];
