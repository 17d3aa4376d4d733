// Door logs that are odd, broken or in doubt, by what is odd about them.
import type { DoorLogOptions } from '../../src/scenarios/index.js';
import { blocksOf, linesOf } from './texts.js';

export interface OddLog {
  readonly text: string;
  readonly options?: Partial<DoorLogOptions>;
}

/** With which else each is read. */
export const otherOptions: readonly Partial<DoorLogOptions>[] = [
  { lenient: true },
  { newestFirst: true },
  { zone: 'Europe/Oslo' },
  { date: '2026-05-08' },
];

const plain = (kind: string): readonly OddLog[] =>
  blocksOf(`door-logs-${kind}`).map((text) => ({ text }));

const readings: readonly OddLog[] = [
  'time,value\n10,3\n100,0\n110,0\n',
  'time,contact\n10,0\n100,3\n110,1.15\n',
  'time,value\n10,0.2\n20,1.15\n30,1.25\n40,"1,15"\n50,1.05 V\n60,-2\n70,1.3e0\n80,+9µA\n',
  'time,state\n10,1.2\n20,open\n30,1.2\n40,shut\n50,1.3\n',
  'time,value\n10,1.15\n20,1.15\n30,3\n40,1.15\n50,0\n',
].flatMap((text) =>
  [
    { openAbove: '1.2' },
    { openBelow: '1.2' },
    { openAbove: '1.1..1.2' },
    { openBelow: '1.1 V..1.2 V' },
    { openAbove: '1.2..1.1' },
    { openBelow: 'x' },
    { openBelow: '1..2..3' },
    { openAbove: '1,2', stateColumn: 'value' },
  ].map((options) => ({ text, options })),
);

const chosen: readonly OddLog[] = [
  [{ column: 'sensor', value: 'a' }],
  [{ column: 'SENSOR', value: ' b ' }],
  [
    { column: 'sensor', value: 'a' },
    { column: 'Sensor', value: 'b' },
  ],
  [
    { column: 'sensor', value: 'a' },
    { column: 'kind', value: 'door' },
  ],
  [{ column: 'sensor', value: 'c' }],
  [{ column: 'sensro', value: 'a' }],
  [{ column: 'kind', value: 'dor' }],
  [{ column: 'state', value: 'open' }],
].flatMap((where) => [
  {
    text: 'time,sensor,kind,state\n10,a,door,open\n20,b,door,open\n30,a,lamp,on\n40,a,door,shut\n50,b,door,shut\n',
    options: { where },
  },
  {
    text: '{"time":10,"sensor":"a","kind":"door","state":"open"}\n{"time":20,"kind":"lamp","sensor":"b"}\n{"time":30,"sensor":"b","kind":null,"state":"open"}\n{"time":40,"sensor":"a","kind":"door","state":"shut"}\n',
    options: { where, file: 'doors.ndjson' },
  },
]);

/** Each header above four rows of its length. */
const headers = linesOf('door-log-headers').flatMap((header) =>
  [
    ['2026-05-08 06:00:00', 'open', '2026-05-08 06:10:00', '12'],
    ['2026-05-08 06:00:00', '2026-05-08 06:10:00', '90', '0'],
    ['7', '2026-05-08 06:00:00', '0.83', '1.2'],
    ['2026-05-08', '06:00', 'open', '1'],
  ].map((row): OddLog => {
    return { text: `${header}\n${row.slice(0, header.split(',').length).join(',')}\n` };
  }),
);

const named: readonly OddLog[] = [
  ...[
    { timeColumn: 'a' },
    { timeColumn: 'a', stateColumn: 'b' },
    { timeColumn: 'A ', stateColumn: 'B' },
    { stateColumn: 'b' },
    { timeColumn: 'a', stateColumn: 'a' },
    { timeColumn: 'x', stateColumn: 'b' },
  ],
  ...[
    { startColumn: 'a' },
    { startColumn: 'a', endColumn: 'c' },
    { startColumn: 'a', durationColumn: 'd' },
    { startColumn: 'a', durationColumn: 'd', durationUnit: 'min' as const },
    { endColumn: 'c', durationColumn: 'd', durationUnit: 's' as const },
    { endColumn: 'c' },
  ],
  ...[
    { durationColumn: 'd' },
    { startColumn: 'a', endColumn: 'c', durationColumn: 'd' },
    { startColumn: 'a', stateColumn: 'b' },
    { startColumn: 'a', endColumn: 'a' },
    { dateColumn: 'a' },
    { timeColumn: 'a', stateColumn: 'b', dateColumn: 'd' },
  ],
].map((options) => ({
  text: 'a,b,c,d\n2026-05-08 06:00,open,2026-05-08 06:10,90\n2026-05-08 07:00,shut,2026-05-08 07:20,120\n',
  options,
}));

const datedFiles: readonly OddLog[] = [
  'door-2026-05-08.csv',
  'door_20260508.csv',
  'door.2026.05.08.log',
  'door-2026-13-08.csv',
  '120260508.csv',
  'door-202605081.csv',
].map((file) => ({ text: 'time,state\n06:00,open\n06:10,shut\n', options: { file } }));

const lengths: readonly OddLog[] = (
  [undefined, 'ms', 's', 'min', 'h', 'mm:ss', 'hh:mm'] as const
).map((durationUnit) => ({
  text: `opened,duration\n${[
    '90',
    '1.5',
    '1,5',
    '13:30',
    '0:13',
    '0:13:00',
    '1:02:03.5',
    '1:02:03,25',
    '13:60',
    '0:13:60',
    '1 day 2:03',
    '2 days, 2:03:04',
    '0 days 0:05',
    '90s',
    '13m',
    '1h30m',
    'PT13M',
    '13 minutes',
    '13 mins 5 secs',
    '2 hours',
    '2 hrs 3 min',
    '1 day',
    '-5',
    '',
    'none',
    'long',
    '1 m 90 s',
    '9999999999999999',
    '999999999999999',
    '1e3',
  ]
    .map((length, index) => `${String(1_778_220_000 + index * 1_000_000)},"${length}"`)
    .join('\n')}\n`,
  options: { ...(durationUnit === undefined ? {} : { durationUnit }) },
}));

const json: readonly OddLog[] = [
  ['doors.ndjson', '{"time":1778220000,"state":"open"}\n{"time":1778220060,"state":"shut"}\n'],
  [
    'doors.ndjson',
    '{"time":20260508060000,"state":true}\n{"time":"20260508061000","state":false}\n',
  ],
  [
    'doors.ndjson',
    '{"time":1778220000.5,"state":1}\n{"time":-5,"state":0}\n{"time":1e300,"state":1}\n{"time":1778220000123456,"state":1}\n{"time":1778220001123456789,"state":0}\n',
  ],
  ['doors.ndjson', '{"time":46150.5,"state":"open"}\n'],
  [
    'doors.ndjson',
    '{"time":null,"state":"open"}\n{"time":10,"state":null}\n{"time":20}\n{"state":"open"}\n{"time":[1],"state":{"a":1}}\n{"time":true,"state":"shut"}\n{"time":"","state":""}\n',
  ],
  [
    'doors.ndjson',
    '{"at":{"t":10},"payload":"{\\"state\\":\\"open\\"}"}\n{"at":{"t":20},"payload":"{\\"state\\":\\"shut\\"}"}\n{"at":{"t":30},"payload":"{x"}\n',
  ],
  ['doors.ndjson', '{"a":{"b":{"time":10}},"c.d":"x","state":"open"}\n'],
  ['doors.ndjson', '{"wann":"2026-05-08 06:00","was":"auf","nr":3}\n'],
  ['doors.ndjson', '{"wann":"2026-05-08 06:00","bis":"2026-05-08 06:10"}\n'],
  ['doors.ndjson', '\n  \n{"time":10,"state":"open"}\n\n{"time":20,"state":"shut"'],
  ['doors.ndjson', `${'{"a":'.repeat(70)}1${'}'.repeat(70)}\n`],
  ['doors.ndjson', '[{"time":10,"state":"open"},{"time":20,"state":"shut"}]'],
  [
    'doors.json',
    '[{"time":10,"state":"open"},\n {"time":20,"state":"sh}ut","n":"\\"}"},\n{"time":30,"state":"shut"}]\n',
  ],
  ['doors.json', '[{"time":10,"state":"open"};{"time":20,"state":"shut"}]'],
  ['doors.json', '[{"time":10,"state":"open"},\n  {"time":20,'],
  ['doors.json', '[]'],
  ['doors.json', '{}'],
  ['doors.json', 'null'],
  ['doors.json', '{"time":10,"state":"open"}'],
  ['doors.json', '[["time","state"],[10,"open"],[20,"shut"]]'],
  ['doors.json', '[[1778220000,"open"],[1778220060,"shut"]]'],
  ['doors.json', '[["2026-05-08 06:00","2026-05-08 06:10"],["2026-05-08 07:00",null]]'],
  [
    'doors.json',
    '[["a, b","2026-05-08 06:00","say \\"x\\"","open"],["c\\nd","2026-05-08 06:10","","shut"]]',
  ],
  ['doors.json', '["2026-05-08 06:00","open"]\n["2026-05-08 06:10","shut"]\n'],
  ['doors.json', '[[1,"open"],[2,{"a":1}],[3,[1,2]],[4,"shut"]]'],
  ['doors.json', '[["time","state"],[10,"open"],[20,"sh'],
  ['doors.json', '[["time","state"],[10,"open"],[20 "shut"]]'],
  ['-', '{"time":10,"state":"open"}\n{"time":20,"state":"shut"}\n'],
  ['-', ' [{"start":10,"end":20}]'],
  ['doors.tab', 'time\tstate\n10\topen, wide\n20\tshut\n'],
  ['doors.TSV', 'time\tstate\n10\topen\n'],
  ['doors.csv', '{"time":10,"state":"open"}\n'],
  ['doors.txt', '\ufefftime,state\r\n10,open\r\n20,shut\r\n'],
].map(([file = '', text = '']) => ({ text, options: { file } }));

const ownWords: readonly OddLog[] = [
  { openWords: ['auf'], shutWords: ['zu'] },
  { openWords: ['auf'] },
  { shutWords: ['zu'], unavailableWords: ['weg'] },
  { openWords: ['auf'], shutWords: ['zu'], unavailableWords: ['weg', 'ab'] },
  { openWords: ['off'], shutWords: ['on'] },
  { openWords: ['zu', 'zu'], shutWords: ['Auf'] },
].flatMap((options) => [
  { text: 'time,state\n10,auf\n20,zu\n30,weg\n40,AUF\n50,ab\n60,zu\n', options },
  { text: 'time,contact\n10,on\n20,off\n30,open\n40,auf\n', options },
]);

export const brokenLogs: Readonly<Record<string, readonly OddLog[]>> = {
  'rows-in-doubt': plain('rows-in-doubt'),
  words: [...plain('words'), ...ownWords],
  readings,
  sensors: [...plain('sensors'), ...chosen],
  quotes: plain('quotes'),
  headers: [...headers, ...named],
  dates: [...plain('dates'), ...datedFiles],
  lengths,
  json,
};
