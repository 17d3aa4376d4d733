// Inputs that can be made as long as one likes, and what reads them: where twice the input takes far more than twice the
// work, somebody's log of a year is never read to its end. Run with any `n`; what is asserted is only that it ends well.
import { parseDrillRecord } from '../../src/drill/index.js';
import { planning, stateOf } from '../../src/planner/index.js';
import {
  openDoorLog,
  parseCelsius,
  parseDeviceLog,
  parseDuration,
  parseInstant,
  parseMeasuredLife,
  parseProfile,
  parseReadings,
  parseScenario,
  parseShare,
  parseVolume,
  parseWatchFile,
  timelineOf,
} from '../../src/scenarios/index.js';
import { verifyCertificate } from '../../src/verify/index.js';

/** Something of any length, and what is to be done with it in about linear time. */
export interface GrowthCase {
  readonly name: string;
  /** @param n about how many characters or rows it has. */
  make(n: number): string;
  run(input: string): unknown;
}

const at = { file: 'option' };

/** Pieces that a slow reader would try to fit in many ways. */
const fillers: Readonly<Record<string, string>> = {
  blanks: ' ',
  tabs: '\t',
  newlines: '\n',
  digits: '1',
  commas: ',',
  dots: '.',
  colons: ':',
  dashes: '-',
  slashes: '/',
  brackets: '[',
  braces: '{',
  'round brackets': '(',
  quotes: '"',
  'escaped quotes': '\\"',
  letters: 'a',
  'zero bytes': '\0',
  'lone surrogates': '\ud800',
  'byte order marks': '\ufeff',
  'two-part words': 'for until ',
  units: '1m ',
  ranges: '1m..',
};

/** Readers of one short text: an option, or a value in a file. */
const readers: Readonly<Record<string, (text: string) => unknown>> = {
  'a duration': (text) => parseDuration(text, at),
  'an instant': (text) => parseInstant(text, 'Europe/Paris', at),
  'a share': (text) => parseShare(text, at, { least: 0, most: 1 }),
  'a temperature': (text) => parseCelsius(text, at),
  'a volume': (text) => parseVolume(text, at),
  'a measured life': (text) => parseMeasuredLife(text, at),
  'a door sentence': (text) => parseScenario(scenarioWith(JSON.stringify(text)), 's.yaml'),
  'a watch file': (text) => parseWatchFile(text, 'w.yaml'),
  'a watch file in JSON': (text) => parseWatchFile(text, 'w.json'),
  'a value of a watch file': (text) =>
    parseWatchFile(`watch: { checkInterval: ${JSON.stringify(text)} }`, 'w.yaml'),
  'a key of a watch file': (text) =>
    parseWatchFile(`watch: { ${JSON.stringify(text)}: 1m }`, 'w.yaml'),
  'a scenario': (text) => parseScenario(text, 's.yaml'),
  'a profile': (text) => parseProfile(text, 'p.yaml'),
  'a door log': (text) => readLog(text, 'log.csv'),
  'a door log in NDJSON': (text) => readLog(text, 'log.ndjson'),
  'a time in a door log': (text) => readLog(`time,state\n${text},open\n`, 'log.csv'),
  'a device log': (text) => parseDeviceLog(text, 'device.csv', null),
  'temperature readings': (text) => parseReadings(text, 'readings.csv'),
  'a drill record': (text) => parseDrillRecord(text, 'record.csv', 5),
  'a row of a drill record': (text) => parseDrillRecord(`1${text}x`, 'record.csv', 5),
  'a planner link': (text) => stateOf(`#${text}`),
  'a field of the planner': (text) => planned({ 'watch.checkInterval': text }),
};

const around: Readonly<Record<string, (filler: string) => string>> = {
  alone: (filler) => filler,
  'between words': (filler) => `2m${filler}x`,
  'in a sentence': (filler) => `at 07:00${filler}for 40s${filler}ajar`,
};

function scenarioWith(entry: string): string {
  return `name: x\nstart: 2026-05-04T00:00:00Z\nlength: 7d\ndoor: [${entry}]\n`;
}

function readLog(text: string, file: string, lenient = false): unknown {
  const reader = openDoorLog({ file, lenient });
  // As a file is read: in pieces.
  for (let from = 0; from < text.length; from += 65_536)
    reader.push(text.slice(from, from + 65_536));
  return reader.finish();
}

function planned(set: Readonly<Record<string, string>>): unknown {
  return planning()({
    watchText: null,
    set,
    source: { kind: 'scenario', name: 's.yaml', text: scenarioWith('"at 07:00 for 40s"') },
    drawn: [],
    profile: 'flower-store',
  });
}

const filled: readonly GrowthCase[] = Object.entries(readers).flatMap(([reader, run]) =>
  Object.entries(fillers).flatMap(([filler, piece]) =>
    Object.entries(around).map(([how, wrap]) => ({
      name: `${reader} of ${filler}, ${how}`,
      make: (n) => wrap(piece.repeat(Math.ceil(n / piece.length))),
      run,
    })),
  ),
);

const listOf = (n: number, entry: (index: number) => string, joint = ''): string =>
  Array.from({ length: n }, (_, index) => entry(index)).join(joint);

const startMs = Date.UTC(2026, 4, 4);
const iso = (index: number): string => new Date(startMs + index * 1_000).toISOString();

function scenario(name: string, line: (index: number) => string, key = 'door'): GrowthCase {
  return {
    name: `a scenario of ${name}`,
    make: (n) =>
      `name: x\nstart: 2026-05-04T00:00:00Z\nlength: 3660d\n${key}:\n${listOf(n, (index) => `  - ${line(index)}\n`)}`,
    run: (text) => {
      const parsed = parseScenario(text, 's.yaml');
      const watch = parseWatchFile(null, 'w.yaml');
      return parsed.ok && watch.ok ? timelineOf(parsed.value, watch.value) : parsed;
    },
  };
}

const scenarios: readonly GrowthCase[] = [
  scenario('openings', (index) => `{ at: +${String(index * 60)}s, for: 20s }`),
  scenario('openings at once', () => '{ at: +60s, for: 20s }'),
  scenario('openings with unknown keys', (index) => `{ at: +${String(index)}s, fro: 20s }`),
  scenario('times of day', (index) => `{ at: "day ${String((index % 3000) + 1)} 07:00", for: 1s }`),
  scenario('sentences', (index) => `"at +${String(index * 60)}s for 20s (note)"`),
  scenario('notes of one opening', (index) => `{ at: +${String(index)}s, for: 1s, note: n }`),
  scenario('gaps', (index) => `{ at: +${String(index * 60)}s, for: 20s, gap: 10mm }`),
  scenario('outages', (index) => `{ down: +${String(index * 60)}s, for: 90s }`, 'network'),
  scenario('power losses', (index) => `{ lost: +${String(index * 60)}s, for: 20s }`, 'power'),
  scenario('resets', (index) => `+${String(index)}s`, 'resets'),
  scenario('resets at once', () => '+1s', 'resets'),
  scenario(
    'stuck contacts',
    (index) => `{ stuck: shut, at: +${String(index * 60)}s, for: 20s }`,
    'contact',
  ),
  scenario(
    'temperatures',
    (index) => `{ at: +${String(index)}s, celsius: ${String(index % 30)} }`,
    'temperature',
  ),
];

function watch(name: string, make: (n: number) => string): GrowthCase {
  return { name: `a watch file of ${name}`, make, run: (text) => parseWatchFile(text, 'w.yaml') };
}

const watches: readonly GrowthCase[] = [
  watch('unknown keys', (n) => `watch:\n${listOf(n, (index) => `  k${String(index)}: 1\n`)}`),
  watch('the same key', (n) => `watch:\n${listOf(n, () => '  checkInterval: 1m\n')}`),
  watch('unknown sections', (n) => listOf(n, (index) => `k${String(index)}: 1\n`)),
  watch('tags', (n) => `watch: [${'!a,'.repeat(n)}]`),
  watch('aliases', (n) => `watch: [${listOf(n, () => '*a', ', ')}]`),
  watch('anchors', (n) => `watch: [${listOf(n, (index) => `&a${String(index)} 1`, ', ')}]`),
  watch('comments', (n) => `${'# a\n'.repeat(n)}watch: {}`),
  watch('open lists', (n) => '['.repeat(n)),
  watch('open maps', (n) => '{a: '.repeat(n)),
  watch('dashes', (n) => '- '.repeat(n)),
  watch('question marks', (n) => '? '.repeat(n)),
  watch('deeper and deeper lines', (n) => {
    const levels = Math.ceil(Math.sqrt(2 * n));
    return listOf(levels, (index) => `${' '.repeat(index)}a:\n`);
  }),
  watch('documents', (n) => '---\na: 1\n'.repeat(n)),
  watch('block text', (n) => `watch: |\n${'  a\n'.repeat(n)}`),
  watch('folded text', (n) => `watch: >\n${'  a\n'.repeat(n)}`),
  watch('quoted lines', (n) => `watch: "${'a\n  '.repeat(n)}"`),
  watch(
    'points of a clock',
    (n) =>
      `device: { clockError: { byTemperature: [${listOf(n, (index) => `{ celsius: ${String(index / n)}, error: 1% }`, ', ')}] } }`,
  ),
];

function log(
  name: string,
  make: (n: number) => string,
  how: { readonly file?: string; readonly lenient?: boolean } = {},
): GrowthCase {
  return {
    name: `a door log of ${name}`,
    make,
    run: (text) => readLog(text, how.file ?? 'log.csv', how.lenient ?? false),
  };
}

const rows = (n: number, row: (index: number) => string): string =>
  `time,state\n${listOf(n, (index) => `${row(index)}\n`)}`;

const logs: readonly GrowthCase[] = [
  log('edges', (n) => rows(n, (index) => `${iso(index)},${index % 2 === 0 ? 'open' : 'shut'}`)),
  log('repeated states', (n) => rows(n, (index) => `${iso(index)},open`)),
  log('rows that go back', (n) => rows(n, (index) => `${iso(n - index)},open`)),
  log(
    'repairs',
    (n) => rows(n, (index) => `${iso(n - index)},${index % 2 === 0 ? 'open' : 'shut'}`),
    {
      lenient: true,
    },
  ),
  log('unreadable rows', (n) => rows(n, () => 'yesterday,ajar'), { lenient: true }),
  log(
    'openings',
    (n) => `start,end\n${listOf(n, (index) => `${iso(2 * index)},${iso(2 * index + 1)}\n`)}`,
  ),
  log(
    'overlapping openings',
    (n) => `start,end\n${listOf(n, (index) => `${iso(index)},${iso(n)}\n`)}`,
    { lenient: true },
  ),
  log('quoted lines', (n) => `time,state\n"${'""\n'.repeat(n)}"`),
  log('a quote without an end', (n) => `time,state\n"${'a\n'.repeat(n)}`),
  log('columns in its header', (n) => `${listOf(n, (index) => `c${String(index)}`, ',')}\n`),
  log('fields in a row', (n) => `time,state\n${'a,'.repeat(n)}\n`),
  log('keys in an object', (n) => `{${listOf(n, (index) => `"k${String(index)}":1`, ',')}}\n`, {
    file: 'log.ndjson',
  }),
  log('objects', (n) => listOf(n, (index) => `{"time":"${iso(index)}","state":"open"}\n`), {
    file: 'log.ndjson',
  }),
  log('nested lists', (n) => `${'['.repeat(n)}\n`, { file: 'log.ndjson' }),
  log('nested values', (n) => `{"time":"${iso(0)}","state":${'['.repeat(n)}${']'.repeat(n)}}\n`, {
    file: 'log.ndjson',
  }),
];

const lists: readonly GrowthCase[] = [
  {
    name: 'a drill record of one step',
    make: (n) => `step,message\n${'1,3:12\n'.repeat(n)}`,
    run: (text) => parseDrillRecord(text, 'record.csv', 5),
  },
  {
    name: 'a device log of checks',
    make: (n) => `time,event,value\n${listOf(n, (index) => `${iso(index)},check,open\n`)}`,
    run: (text) => parseDeviceLog(text, 'device.csv', null),
  },
  {
    name: 'readings',
    make: (n) =>
      `time,temperature\n${listOf(n, (index) => `${iso(index)},${String(index % 30)}\n`)}`,
    run: (text) => parseReadings(text, 'readings.csv'),
  },
  {
    name: 'unreadable readings',
    make: (n) => `time,temperature\n${'a,b\n'.repeat(n)}`,
    run: (text) => parseReadings(text, 'readings.csv'),
  },
  {
    name: 'a certificate of nested lists',
    make: (n) => `${'['.repeat(Math.min(n, 5_000))}${']'.repeat(Math.min(n, 5_000))}`,
    run: checked,
  },
  {
    name: 'a certificate of unknown keys',
    make: (n) => `{${listOf(n, (index) => `"k${String(index)}":1`, ',')}}`,
    run: checked,
  },
  {
    name: 'a planner link of drawn openings',
    make: (n) =>
      link({ drawn: Array.from({ length: n }, (_, index) => [2 * index, 2 * index + 1]) }),
    run: plannedLink,
  },
  {
    name: 'a planner link of fields',
    make: (n) =>
      link({
        set: Object.fromEntries(
          Array.from({ length: n }, (_, index) => [`a.k${String(index)}`, '1']),
        ),
      }),
    run: plannedLink,
  },
  {
    name: 'a planner link with a key of many dots',
    make: (n) => link({ set: { ['.'.repeat(n)]: '1' } }),
    run: plannedLink,
  },
];

function checked(text: string): unknown {
  const parsed = parseWatchFile(null, 'w.yaml');
  if (!parsed.ok) return parsed;
  const steps = verifyCertificate(JSON.parse(text), parsed.value);
  let step = steps.next();
  while (step.done !== true) step = steps.next();
  return step.value;
}

function link(part: Readonly<Record<string, unknown>>): string {
  const state = {
    watchText: null,
    set: {},
    source: { kind: 'scenario', name: 's.yaml', text: scenarioWith('"at 07:00 for 40s"') },
    drawn: [],
    profile: 'flower-store',
    ...part,
  };
  return `#${encodeURIComponent(JSON.stringify(state))}`;
}

function plannedLink(hash: string): unknown {
  const state = stateOf(hash);
  return state === null ? null : planning()(state);
}

export const growthCases: readonly GrowthCase[] = [
  ...filled,
  ...scenarios,
  ...watches,
  ...logs,
  ...lists,
];
