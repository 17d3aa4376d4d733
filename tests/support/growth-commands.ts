// Cases of growth that go through the command line: files that only a command reads, options of each kind, and what a
// command writes for a long timeline.
import { inOwnFolder, type Ran, runIn } from '../laws/support/in-process.js';
import type { GrowthCase, Outcome } from './growth-case.js';

const startMs = Date.UTC(2026, 4, 4);
const rowsOf = (n: number): string =>
  `time,state\n${Array.from({ length: n }, (_, index) => `${new Date(startMs + index * 90_000).toISOString()},${index % 2 === 0 ? 'open' : 'shut'}\n`).join('')}`;
const doors = rowsOf(20);

/** More than twenty problems take, each with the names that it could have meant; less than one that quotes all it found. */
const mostPrinted = 40_000;

/** @throws Error for what ends otherwise than as it should, or prints without end. */
function outcomeOf({ args, status, stderr }: Ran): Outcome {
  const shown = args.map((arg) => arg.slice(0, 40)).join(' ');
  if (status > 2) throw new Error(`${shown}: status ${String(status)}: ${stderr.slice(0, 2_000)}`);
  if (stderr.length > mostPrinted) {
    throw new Error(`${shown}: prints ${String(stderr.length)} characters of errors`);
  }
  if (status < 2) return 'read';
  const codes = Array.from(stderr.matchAll(/\[([a-z0-9-]+)\]$/gmu), ([, code = '']) => code);
  // The parser of command lines has words, and no codes.
  return { refused: codes.length === 0 && stderr.startsWith('error: ') ? ['usage'] : codes };
}

interface FileCase {
  readonly line: string;
  /** The file of the line that grows. */
  readonly file: string;
  readonly ends: GrowthCase['ends'];
  readonly size?: number;
}

function file(of: string, name: string, make: (n: number) => string, on: FileCase): GrowthCase {
  return {
    name: `${of} of ${name}`,
    of,
    size: on.size ?? 20_000,
    ends: on.ends,
    make,
    run: async (text) =>
      await inOwnFolder({ 'doors.csv': doors, [on.file]: text }, async (folder) =>
        outcomeOf(await runIn(folder, on.line.split(' '))),
      ),
  };
}

const merging = { line: 'merge part.json', file: 'part.json', ends: 'refused' } as const;
const checking = { line: 'verify proof.json', file: 'proof.json', ends: 'refused' } as const;

/** Texts that could be JSON, and nothing that a command wrote. */
const jsons: Readonly<Record<string, (n: number) => string>> = {
  'nested lists': (n) => '['.repeat(n) + ']'.repeat(n),
  'lists without an end': (n) => '['.repeat(n),
  'nested objects': (n) => `${'{"a":'.repeat(n)}1${'}'.repeat(n)}`,
  'one long text': (n) => `{"schema":"${'a'.repeat(20 * n)}"}`,
  'one text of quotes': (n) => `{"schema":"${'\\"'.repeat(n)}"}`,
  'one text of backslashes': (n) => `{"schema":"${'\\\\'.repeat(n)}"}`,
  'a text without an end': (n) => `{"schema":"${'a'.repeat(n)}`,
  'a text without an end, of backslashes': (n) => `{"schema":"${'\\'.repeat(n)}`,
  blanks: (n) => `{"schema"${' '.repeat(n)}:${' '.repeat(n)}1}`,
  keys: (n) => `{${Array.from({ length: n }, (_, index) => `"k${String(index)}":1`).join(',')}}`,
  'the same key': (n) => `{${Array.from({ length: n }, () => '"k":1').join(',')}}`,
  'one long key': (n) => `{"${'k'.repeat(n)}":1}`,
};

const schema = '"schema":"dozewatch/certificate/5"';
const head =
  '"head":{"seed":"1","yearsAsked":1,"profile":"a","watch":null,"logic":null,"leaveOpenAfterMs":1,"reportWithinMs":null,"outages":null,"powerCuts":null}';

const files: readonly GrowthCase[] = [
  ...Object.entries(jsons).flatMap(([name, make]) => [
    file('an estimate part', name, make, merging),
    file('a certificate', name, make, checking),
  ]),
  file(
    'an estimate part',
    'delays',
    (n) =>
      `{"schema":"dozewatch/estimate-part/2",${head},"fingerprint":"","from":0,"to":1,"tally":{"years":1,"counts":{},"squares":{},"leastDelayMs":null,"worstDelayMs":null,"delays":[${Array.from({ length: n }, (_, index) => `[${String(index)},1]`).join(',')}]}}`,
    merging,
  ),
  file(
    'a certificate',
    'a long watch',
    (n) => `{${schema},"watch":"${'a'.repeat(20 * n)}"}`,
    checking,
  ),
  file(
    'a certificate',
    'a watch of keys',
    (n) =>
      `{${schema},"watch":{${Array.from({ length: n }, (_, index) => `"k${String(index)}":1`).join(',')}}}`,
    checking,
  ),
  file(
    'a certificate',
    'states of nothing',
    (n) => `{${schema},"latestAtRest":{"first":[],"states":[${'{},'.repeat(n)}{}]}}`,
    checking,
  ),
  file('a trace', 'wakes', rowsOf, {
    line: 'replay log.csv --trace wakes.ndjson',
    file: 'log.csv',
    ends: 'read',
    size: 3_000,
  }),
  file('a trace', 'a wave form', rowsOf, {
    line: 'chart log.csv -o log.vcd',
    file: 'log.csv',
    ends: 'read',
    size: 3_000,
  }),
  file('a picture', 'openings', rowsOf, {
    line: 'chart log.csv -o log.svg',
    file: 'log.csv',
    ends: 'read',
    size: 3_000,
  }),
  file('a picture', 'a long title', (n) => `name: ${'a'.repeat(n)}\nlength: 1d\ndoor: []\n`, {
    line: 'chart s.yaml -o log.svg',
    file: 's.yaml',
    ends: null,
  }),
  file('a replay', 'openings', rowsOf, {
    line: 'replay log.csv',
    file: 'log.csv',
    ends: 'read',
    size: 3_000,
  }),
  file('a replay', 'openings, as JSON', rowsOf, {
    line: 'replay log.csv --json',
    file: 'log.csv',
    ends: 'read',
    size: 3_000,
  }),
  file('a profile', 'openings', rowsOf, {
    line: 'profile log.csv',
    file: 'log.csv',
    ends: null,
    size: 3_000,
  }),
];

/** Command lines with `%` in place of what grows: an option of each kind. */
const optionLines = [
  'battery --calibrate %',
  'battery --calibrate 600mAh%20d',
  'bounds --interval %',
  'bounds --threshold %',
  'bounds --clock-error %',
  'bounds --boot-time %',
  'bounds --wake-on %',
  'bounds --outage %',
  'bounds --%',
  'replay doors.csv --from %',
  'replay doors.csv --zone %',
  'replay doors.csv --open-word %',
  'replay doors.csv --time-column %',
  'replay doors.csv --power-on-at %',
  'replay doors.csv --seed %',
  'chart doors.csv -o a.svg --width %',
  'chart doors.csv -o a.svg --title %',
  'margin --outside 21C --limit 8C --tau-open 3h --start %',
  'margin --start 2C --outside 21C --tau-open 3h --limit %',
  'margin --start 2C --outside 21C --limit 8C --volume %',
  'tune --interval %',
  'tune --false-alarms %',
  'estimate --shard %',
  'estimate --years %',
  'estimate --outage-rate %',
  'estimate --profile %',
  'hunt --property %',
  'hunt --mistake %',
  'hunt --runs %',
  'emit diagram --format %',
  'completion %',
  '%',
];

const fillers: Readonly<Record<string, string>> = {
  blanks: ' ',
  digits: '1',
  letters: 'a',
  commas: ',',
  dots: '.',
  colons: ':',
  dashes: '-',
  brackets: '[',
  quotes: '"',
  units: '1m ',
  ranges: '1m..',
};

/** What a filler makes of these can be read, and then takes its time for other reasons. */
const readable = new Set([
  'replay doors.csv --open-word %',
  'replay doors.csv --seed %',
  'chart doors.csv -o a.svg --title %',
]);

const options: readonly GrowthCase[] = optionLines.flatMap((line) =>
  Object.entries(fillers).map(
    ([filler, piece]): GrowthCase => ({
      name: `${line} with ${filler}`,
      of: 'an option',
      size: 50_000,
      ends: readable.has(line) ? null : 'refused',
      make: (n) => piece.repeat(Math.ceil(n / piece.length)),
      run: async (text) =>
        await inOwnFolder({ 'doors.csv': doors }, async (folder) =>
          outcomeOf(
            await runIn(
              folder,
              line.split(' ').map((word) => word.replace('%', () => text)),
            ),
          ),
        ),
    }),
  ),
);

export const commandCases: readonly GrowthCase[] = [...files, ...options];
