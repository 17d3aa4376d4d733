// Inputs that can be made as long as one likes, and what reads them: where twice the input takes far more than twice the
// work, somebody's log of a year is never read to its end. The tests look at how each ends, the soak at the time it takes.
import { parseDrillRecord } from '../../src/drill/index.js';
import { planning, readLink } from '../../src/planner/index.js';
import { openReply } from '../../src/rig/index.js';
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
import { type GrowthCase, howItEnds } from './growth-case.js';
import { commandCases } from './growth-commands.js';

/** The ends of the steps of a drill. */
const fiveSteps = [1, 2, 3, 4, 5].map((hours) => hours * 3_600_000);

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
  'a device log': (text) => parseDeviceLog(text, 'device.csv', { zone: null }),
  'temperature readings': (text) => parseReadings(text, 'readings.csv'),
  'a drill record': (text) => parseDrillRecord(text, 'record.csv', fiveSteps),
  'a row of a drill record': (text) => parseDrillRecord(`1${text}x`, 'record.csv', fiveSteps),
  'a planner link': (text) => readLink(`#${text}`),
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
    filledFrom: null,
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
      of: reader,
      size: 30_000,
      ends: null,
      make: (n) => wrap(piece.repeat(Math.ceil(n / piece.length))),
      run: (text) => howItEnds(run(text)),
    })),
  ),
);

const listOf = (n: number, entry: (index: number) => string, joint = ''): string =>
  Array.from({ length: n }, (_, index) => entry(index)).join(joint);

const startMs = Date.UTC(2026, 4, 4);
const iso = (index: number): string => new Date(startMs + index * 1_000).toISOString();

function scenario(
  name: string,
  line: (index: number) => string,
  {
    key = 'door',
    ends = 'read',
  }: { readonly key?: string; readonly ends?: GrowthCase['ends'] } = {},
): GrowthCase {
  return {
    name: `a scenario of ${name}`,
    of: 'a scenario',
    size: 3_000,
    ends,
    make: (n) =>
      `name: x\nstart: 2026-05-04T00:00:00Z\nlength: 3660d\n${key}:\n${listOf(n, (index) => `  - ${line(index)}\n`)}`,
    run: (text) => {
      const parsed = parseScenario(text, 's.yaml');
      const watch = parseWatchFile(null, 'w.yaml');
      return howItEnds(parsed.ok && watch.ok ? timelineOf(parsed.value, watch.value) : parsed);
    },
  };
}

const scenarios: readonly GrowthCase[] = [
  scenario('openings', (index) => `{ at: +${String(index * 60)}s, for: 20s }`),
  scenario('openings at once', () => '{ at: +60s, for: 20s }', { ends: 'refused' }),
  scenario('openings with unknown keys', (index) => `{ at: +${String(index)}s, fro: 20s }`, {
    ends: 'refused',
  }),
  scenario('times of day', (index) => `{ at: "day ${String((index % 3000) + 1)} 07:00", for: 1s }`),
  scenario('sentences', (index) => `"at +${String(index * 60)}s for 20s (note)"`),
  scenario('notes of one opening', (index) => `{ at: +${String(index)}s, for: 1s, note: n }`),
  scenario('gaps', (index) => `{ at: +${String(index * 60)}s, for: 20s, gap: 10mm }`),
  scenario('outages', (index) => `{ down: +${String(index * 60)}s, for: 90s }`, { key: 'network' }),
  scenario('power losses', (index) => `{ lost: +${String(index * 60)}s, for: 20s }`, {
    key: 'power',
  }),
  scenario('resets', (index) => `+${String(index)}s`, { key: 'resets' }),
  scenario('resets at once', () => '+1s', { key: 'resets', ends: 'refused' }),
  scenario('stuck contacts', (index) => `{ stuck: shut, at: +${String(index * 60)}s, for: 20s }`, {
    key: 'contact',
  }),
  scenario(
    'temperatures',
    (index) => `{ at: +${String(index)}s, celsius: ${String(index % 30)} }`,
    { key: 'temperature' },
  ),
];

function watch(
  name: string,
  make: (n: number) => string,
  ends: GrowthCase['ends'] = 'refused',
): GrowthCase {
  const run = (text: string) => howItEnds(parseWatchFile(text, 'w.yaml'));
  return { name: `a watch file of ${name}`, of: 'a watch file', size: 5_000, ends, make, run };
}

const watches: readonly GrowthCase[] = [
  watch('unknown keys', (n) => `watch:\n${listOf(n, (index) => `  k${String(index)}: 1\n`)}`),
  watch('the same key', (n) => `watch:\n${listOf(n, () => '  checkInterval: 1m\n')}`),
  watch('unknown sections', (n) => listOf(n, (index) => `k${String(index)}: 1\n`)),
  watch('tags', (n) => `watch: [${'!a,'.repeat(n)}]`),
  watch('aliases', (n) => `watch: [${listOf(n, () => '*a', ', ')}]`),
  watch('more values than a parser has room for', (n) => `watch: [${'1,'.repeat(250 * n)}]`),
  watch('anchors', (n) => `watch: [${listOf(n, (index) => `&a${String(index)} 1`, ', ')}]`),
  watch('comments', (n) => `${'# a\n'.repeat(n)}watch: {}`, 'read'),
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
  how: {
    readonly file?: string;
    readonly lenient?: boolean;
    readonly ends?: GrowthCase['ends'];
  } = {},
): GrowthCase {
  return {
    name: `a door log of ${name}`,
    of: 'a door log',
    size: 20_000,
    ends: how.ends ?? 'read',
    make,
    run: (text) => howItEnds(readLog(text, how.file ?? 'log.csv', how.lenient ?? false)),
  };
}

const rows = (n: number, row: (index: number) => string): string =>
  `time,state\n${listOf(n, (index) => `${row(index)}\n`)}`;

const logs: readonly GrowthCase[] = [
  log('edges', (n) => rows(n, (index) => `${iso(index)},${index % 2 === 0 ? 'open' : 'shut'}`)),
  log('repeated states', (n) => rows(n, (index) => `${iso(index)},open`)),
  log('rows that go back', (n) => rows(n, (index) => `${iso(n - index)},open`), {
    ends: 'refused',
  }),
  log(
    'repairs',
    (n) => rows(n, (index) => `${iso(n - index)},${index % 2 === 0 ? 'open' : 'shut'}`),
    {
      lenient: true,
    },
  ),
  log('unreadable rows', (n) => rows(n, () => 'yesterday,ajar'), {
    lenient: true,
    ends: 'refused',
  }),
  log(
    'openings',
    (n) => `start,end\n${listOf(n, (index) => `${iso(2 * index)},${iso(2 * index + 1)}\n`)}`,
  ),
  log(
    'overlapping openings',
    (n) => `start,end\n${listOf(n, (index) => `${iso(index)},${iso(n)}\n`)}`,
    { lenient: true },
  ),
  log('quoted lines', (n) => `time,state\n"${'""\n'.repeat(n)}"`, { ends: 'refused' }),
  log('a quote without an end', (n) => `time,state\n"${'a\n'.repeat(n)}`, { ends: 'refused' }),
  log('columns in its header', (n) => `${listOf(n, (index) => `c${String(index)}`, ',')}\n`, {
    ends: 'refused',
  }),
  log('fields in a row', (n) => `time,state\n${'a,'.repeat(n)}\n`, { ends: 'refused' }),
  log('keys in an object', (n) => `{${listOf(n, (index) => `"k${String(index)}":1`, ',')}}\n`, {
    file: 'log.ndjson',
    ends: 'refused',
  }),
  log('objects', (n) => listOf(n, (index) => `{"time":"${iso(index)}","state":"open"}\n`), {
    file: 'log.ndjson',
  }),
  log('nested lists', (n) => `${'['.repeat(n)}\n`, { file: 'log.ndjson', ends: 'refused' }),
  log('nested values', (n) => `{"time":"${iso(0)}","state":${'['.repeat(n)}${']'.repeat(n)}}\n`, {
    file: 'log.ndjson',
    ends: 'refused',
  }),
];

/** One of a kind of its own. */
function list(
  name: string,
  of: string,
  parts: Pick<GrowthCase, 'make' | 'ends'> & { readonly read: (text: string) => unknown },
): GrowthCase {
  const { make, ends, read } = parts;
  return {
    name: `${of} of ${name}`,
    of,
    size: 20_000,
    ends,
    make,
    run: (text) => howItEnds(read(text)),
  };
}

const record = (text: string): unknown => parseDrillRecord(text, 'record.csv', fiveSteps);
const device = (text: string): unknown => parseDeviceLog(text, 'device.csv', { zone: null });
const readings = (text: string): unknown => parseReadings(text, 'readings.csv');

const lists: readonly GrowthCase[] = [
  list('one step', 'a drill record', {
    make: (n) => `step,message\n${'1,3:12\n'.repeat(n)}`,
    ends: 'read',
    read: record,
  }),
  list('rows that begin with blanks', 'a drill record', {
    make: (n) =>
      `step,message\n${`${' '.repeat(Math.ceil(Math.sqrt(n)))}1,3:12\n`.repeat(Math.ceil(Math.sqrt(n)))}`,
    ends: 'read',
    read: record,
  }),
  list('nested lists', 'a drill record', {
    make: (n) => `step,message\n1,${'['.repeat(n)}\n`,
    ends: 'refused',
    read: record,
  }),
  list('checks', 'a device log', {
    make: (n) => `time,event,value\n${listOf(n, (index) => `${iso(index)},check,open\n`)}`,
    ends: 'read',
    read: device,
  }),
  list('the same check', 'a device log', {
    make: (n) => `time,event,value\n${listOf(n, () => `${iso(0)},check,open\n`)}`,
    ends: 'read',
    read: device,
  }),
  list('columns', 'a device log', {
    make: (n) => `time,event,value${',x'.repeat(n)}\n${iso(0)},check,open${',x'.repeat(n)}\n`,
    ends: 'read',
    read: device,
  }),
  list('nested values', 'a device log', {
    make: (n) => `{"time":"${iso(0)}","event":"check","value":${'['.repeat(n)}${']'.repeat(n)}}\n`,
    ends: 'refused',
    read: device,
  }),
  list('rows', 'temperature readings', {
    make: (n) =>
      `time,temperature\n${listOf(n, (index) => `${iso(index)},${String(index % 30)}\n`)}`,
    ends: 'read',
    read: readings,
  }),
  list('unreadable rows', 'temperature readings', {
    make: (n) => `time,temperature\n${'a,b\n'.repeat(n)}`,
    ends: 'refused',
    read: readings,
  }),
  list('columns', 'temperature readings', {
    make: (n) => `time,temperature${',x'.repeat(n)}\n0,3${',x'.repeat(n)}\n`,
    ends: 'read',
    read: readings,
  }),
  list('drawn openings', 'a planner link', {
    make: (n) =>
      link({ drawn: Array.from({ length: n / 10 }, (_, index) => [2 * index, 2 * index + 1]) }),
    ends: null,
    read: plannedLink,
  }),
  list('unknown fields', 'a planner link', {
    make: (n) =>
      link({
        set: Object.fromEntries(
          Array.from({ length: n }, (_, index) => [`a.k${String(index)}`, '1']),
        ),
      }),
    ends: 'refused',
    read: plannedLink,
  }),
  ...['.', '.a', '[', '{"a":'].map((piece) =>
    list(`a key of ${piece} again and again`, 'a planner link', {
      make: (n) => link({ set: { [`watch${piece.repeat(n)}`]: '1' } }),
      ends: 'refused',
      read: plannedLink,
    }),
  ),
  ...['[', '{a: ', '- ', '!a ', '1m..', '0C: 1%, '].map((piece) =>
    list(`a field of ${piece} again and again`, 'a planner link', {
      make: (n) => link({ set: { 'device.clockError': piece.repeat(n) } }),
      ends: 'refused',
      read: plannedLink,
    }),
  ),
  list('nested lists', 'a planner link', {
    make: (n) => `#${'['.repeat(n)}${']'.repeat(n)}`,
    ends: 'refused',
    read: plannedLink,
  }),
  list('one long text', 'a planner link', {
    make: (n) => link({ watchText: '# '.repeat(100 * n) }),
    ends: 'refused',
    read: plannedLink,
  }),
];

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
  const linked = readLink(hash);
  return linked.kind === 'read' ? planning()(linked.state) : linked;
}

/** What the rig's host writes, in pieces as a pipe gives them: numbers, as text. */
function rigOutput(name: string, make: GrowthCase['make'], ends: GrowthCase['ends']): GrowthCase {
  const run = (text: string): ReturnType<typeof howItEnds> => {
    const numbers = Float64Array.from(text.split(' '), Number);
    const reader = openReply(1_000_000_000);
    let isOver = false;
    for (let from = 0; from < numbers.length && !isOver; from += 512) {
      isOver = reader.push(numbers.subarray(from, from + 512));
    }
    return reader.reply().totals === null && isOver ? { refused: ['no-record'] } : 'read';
  };
  return { name: `a rig's answer of ${name}`, of: "a rig's answer", size: 50_000, ends, make, run };
}

const rigOutputs: readonly GrowthCase[] = [
  rigOutput('power losses', (n) => listOf(n, (index) => `4 ${String(index)}`, ' '), 'read'),
  rigOutput('one printed text', (n) => `5 ${String(n)}${' 97'.repeat(n)}`, 'read'),
  rigOutput('a printed text without an end', (n) => `5 ${String(2 * n)}${' 97'.repeat(n)}`, 'read'),
  rigOutput('printed texts', (n) => listOf(n, () => '5 3 97 97 97', ' '), 'read'),
  rigOutput('retained bytes', (n) => `6 0 ${String(n)}${' 255'.repeat(n)}`, 'read'),
  rigOutput('nothing that it knows', (n) => `7${' 7'.repeat(n)}`, 'refused'),
  rigOutput(
    'a text that is too long to be one',
    (n) => `5 ${String(2 ** 25)}${' 97'.repeat(n)}`,
    'refused',
  ),
];

export const growthCases: readonly GrowthCase[] = [
  ...filled,
  ...scenarios,
  ...watches,
  ...logs,
  ...lists,
  ...rigOutputs,
  ...commandCases,
];
