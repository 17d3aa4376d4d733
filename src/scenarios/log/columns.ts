// Which columns of a log hold what: named by options, or known by their header.
import { bad, type Decoded, good, type Problem } from '../text/problem.js';
import { didYouMean } from '../text/suggest.js';
import type { DoorLogOptions } from '../types.js';

/** One row an edge, or one row an opening: the names of the columns as the header has them. */
export type LogColumns =
  | {
      readonly kind: 'edges';
      readonly time: string;
      /** Of the date, where a time alone stands in the time column; null: no such column. */
      readonly date: string | null;
      readonly state: string;
    }
  | {
      readonly kind: 'openings';
      /** Of the start of an opening; of its end, where `hasEndFirst`. */
      readonly start: string;
      /** The rows have the end of an opening and its length. */
      readonly hasEndFirst?: true;
      readonly end: string | null;
      /** Of the length of an opening, where the rows have no end. */
      readonly duration: string | null;
      readonly startDate: string | null;
      readonly endDate: string | null;
    };

type UsedColumns = readonly [
  first: string,
  second: string | null,
  firstDate: string | null,
  secondDate: string | null,
];

/** Of the time and the state, or the start and the end, and of the dates of both; null: there is no such column. */
export function usedColumns(columns: LogColumns): UsedColumns {
  return columns.kind === 'edges'
    ? [columns.time, columns.state, columns.date, null]
    : [columns.start, columns.end ?? columns.duration, columns.startDate, columns.endDate];
}

type Role = 'time' | 'date' | 'state' | 'start' | 'end' | 'duration';
type NamedRole = Exclude<Role, 'date' | 'duration'>;

/** Columns that hold a date beside a column with a time of day. */
const startDates: readonly string[] = ['start_date', 'date_opened', 'opened_date', 'open_date'];
const endDates: readonly string[] = ['end_date', 'date_closed', 'closed_date', 'close_date'];

/** What each column may be called, the likeliest first. */
const names: Readonly<Record<Role, readonly string[]>> = {
  duration: [],
  time: [
    ...[
      'time',
      'timestamp',
      'datetime',
      'date_time',
      'at',
      'ts',
      'when',
      'event_time',
      'event_timestamp',
    ],
    ...[
      'hhmm',
      'hhmmss',
      'recorded_at',
      'created_at',
      'logged_at',
      'utc_time',
      'local_time',
      'clock',
      'time_of_day',
      'epoch',
      'unix_time',
    ],
    ...['date', 'day'],
  ],
  date: ['date', 'day'],
  state: [
    ...[
      'state',
      'status',
      'contact',
      'value',
      'door',
      'is_open',
      'open',
      'door_state',
      'door_status',
    ],
    ...['contact_state', 'new_state', 'position', 'val', 'event', 'action'],
  ],
  start: [
    ...['start', 'from', 'opened', 'open', 'opened_at', 'start_time', 'start_at', 'started_at'],
    ...['opening', 'open_time', 'opened_time', 'time_opened', 'begin', 'start_date'],
  ],
  end: [
    ...['end', 'to', 'closed', 'until', 'closed_at', 'end_time', 'end_at', 'ended_at'],
    ...['closing', 'close', 'close_time', 'closed_time', 'time_closed', 'end_date'],
    ...['shut', 'shut_at', 'shut_time', 'time_shut'],
  ],
};

/** What the length of an opening may be called, with or without a unit behind it. */
const durationNames =
  /^(?:duration|length|open_duration|duration_open|open_for|opened_for|time_open|elapsed)(?:_(?:m?s|m?secs?|seconds|millis|milliseconds|mins?|minutes|h|hrs?|hours))?$|^open_(?:m?s|secs?|seconds|mins?|minutes|hours)$|^(?:seconds|minutes)(?:_open)?$/u;

/** What a state column may be called beside a time and without a start. */
const closedNames: readonly string[] = ['closed', 'is_closed', 'shut', 'is_shut'];

/** The first of the columns that are read which the header has twice; null: it has each once. */
export function nameTwice(
  header: readonly string[],
  used: readonly (string | null)[],
): string | null {
  const isTwice = (name: string): boolean => header.indexOf(name) !== header.lastIndexOf(name);
  return used.find((name) => name !== null && isTwice(name)) ?? null;
}

export function columnTwice(header: readonly string[], name: string): Problem {
  return {
    code: 'columns-unclear',
    says: `the header has the column ${name} twice`,
    found: header.join(', '),
    hint: 'give one of them another name',
  };
}

const hint =
  'name the columns: --time-column and --state-column, or --start-column and --end-column or --duration-column';

/** Finds the columns of a header. Errors: `column-unknown`, `columns-unclear`, `columns-not-found`. */
export function findColumns(
  header: readonly string[],
  options: DoorLogOptions,
): Decoded<LogColumns> {
  const named: Partial<Record<Role, string>> = {};
  for (const role of ['time', 'date', 'state', 'start', 'end', 'duration'] as const) {
    const wanted = options[`${role}Column`];
    if (wanted === undefined) continue;
    const column = columnNamed(header, wanted);
    if (!column.ok) return column;
    named[role] = column.value;
  }
  return chosen(header, named);
}

function chosen(
  header: readonly string[],
  named: Partial<Record<Role, string>>,
): Decoded<LogColumns> {
  const known = (role: Role): string | undefined => named[role] ?? byName(header, role);
  const forEdges = named.time !== undefined || named.state !== undefined;
  const forOpenings =
    named.start !== undefined || named.end !== undefined || named.duration !== undefined;
  const time = forOpenings ? undefined : known('time');
  const endAndLength = named.end !== undefined && named.duration !== undefined;
  const start =
    forEdges || (endAndLength && named.start === undefined) ? undefined : known('start');
  const closed = start === undefined ? byWords(header, closedNames) : undefined;
  const state = forOpenings ? undefined : (known('state') ?? closed);
  const hasEndFirst = named.end !== undefined && named.start === undefined;
  const end = forEdges || (named.duration !== undefined && !hasEndFirst) ? undefined : known('end');
  const duration =
    start === undefined || end !== undefined ? undefined : lengthBeside(header, named, start);
  const found = header.join(', ');
  if (forEdges && forOpenings) {
    const both = 'a row is either a change of the door or an opening, not both';
    const oneKind = 'give --time-column and --state-column, or --start-column and --end-column';
    return bad('columns-unclear', both, { found, hint: oneKind });
  }
  const edges = time !== undefined && state !== undefined && time !== state;
  const isLong = end !== undefined || duration !== undefined || forOpenings;
  // Beside a time and a state, a length alone does not make a row an opening.
  const isOpening = end !== undefined || forOpenings || !edges;
  const openings = start !== undefined && isLong && isOpening && start !== end;
  if (edges && openings) {
    return bad('columns-unclear', 'the columns fit both changes of the door and openings', {
      found,
      hint,
    });
  }
  if (edges)
    return good({ kind: 'edges', time, state, date: dateBeside(header, named, [time, state]) });
  if (openings) return good(openingColumns(header, named, { start, end, duration }));
  const backwards = start === undefined && end !== undefined ? endFirst(header, named, end) : null;
  if (backwards !== null) return good(backwards);
  const missing = missingWord({ time, state, start, end });
  return bad('columns-not-found', missing, {
    found,
    expected:
      'the columns time and state (one row for each change), or start and end or duration (one row for each opening)',
    ...(isLikeYaml(header) ? { hint: yamlHint, tries: ['--format scenario'] } : { hint }),
  });
}

const yamlHint = 'this looks like YAML: if it is a scenario, read it as one';

function isLikeYaml([first = '', ...others]: readonly string[]): boolean {
  return others.length === 0 && /^[\w$]+:(?: |$)/u.test(first);
}

function openingColumns(
  header: readonly string[],
  named: Partial<Record<Role, string>>,
  of: {
    readonly start: string;
    readonly end: string | undefined;
    readonly duration: string | undefined;
  },
): LogColumns {
  const { start, end, duration } = of;
  const used = [start, end ?? duration ?? start];
  const startDate = named.date ?? byWords(unused(header, used), startDates);
  const beside = startDate ?? dateBeside(header, named, used);
  const endDate = named.date ?? byWords(unused(header, used), endDates) ?? beside;
  return {
    kind: 'openings',
    start,
    end: end ?? null,
    duration: duration ?? null,
    startDate: beside,
    endDate,
  };
}

/** Rows with an end and a length; null: there is no length. */
function endFirst(
  header: readonly string[],
  named: Partial<Record<Role, string>>,
  end: string,
): LogColumns | null {
  const duration = lengthBeside(header, named, end);
  if (duration === undefined) return null;
  const startDate = dateBeside(header, named, [end, duration]);
  return {
    kind: 'openings',
    start: end,
    hasEndFirst: true,
    end: null,
    duration,
    startDate,
    endDate: null,
  };
}

function lengthBeside(
  header: readonly string[],
  named: Partial<Record<Role, string>>,
  other: string,
): string | undefined {
  return (
    named.duration ?? header.find((name) => name !== other && durationNames.test(plainName(name)))
  );
}

function unused(header: readonly string[], used: readonly string[]): readonly string[] {
  return header.filter((column) => !used.includes(column));
}

/** The column of the date: the one named, or one that is called so beside another with the time. */
function dateBeside(
  header: readonly string[],
  named: Partial<Record<Role, string>>,
  used: readonly string[],
): string | null {
  return named.date ?? byWords(unused(header, used), names.date) ?? null;
}

function missingWord(have: Readonly<Record<NamedRole, string | undefined>>): string {
  if (have.time !== undefined && have.state === undefined && have.start === undefined) {
    return 'the header has a time column but no state column';
  }
  if (have.start !== undefined && have.end === undefined)
    return 'the header has a start column but no end or duration column';
  return 'the header has neither time and state nor start and end';
}

function byName(header: readonly string[], role: Role): string | undefined {
  return byWords(header, names[role]);
}

/** By the whole name; else by the last part of a dotted one, where only one column ends so. */
function byWords(header: readonly string[], words: readonly string[]): string | undefined {
  for (const word of words) {
    const column = header.find((name) => plainName(name) === word);
    if (column !== undefined) return column;
  }
  for (const word of words) {
    const [column, other] = header.filter(
      (name) => name.includes('.') && plainName(name.split('.').at(-1) ?? '') === word,
    );
    if (column !== undefined && other === undefined) return column;
  }
  return undefined;
}

/** Whether a column is the one that an option names. */
export function isColumn(column: string, wanted: string): boolean {
  return column === wanted || plainName(column) === plainName(wanted);
}

/** The column of a header that an option names. Error: `column-unknown`. */
export function columnNamed(header: readonly string[], wanted: string): Decoded<string> {
  const column =
    header.find((name) => name === wanted) ?? header.find((name) => isColumn(name, wanted));
  if (column !== undefined) return good(column);
  return bad('column-unknown', `the log has no column ${wanted}`, {
    found: header.join(', '),
    hint: didYouMean(wanted, header),
  });
}

/** No column is called so much; a whole file on one line is no name, and is compared as it stands. */
const longestNameCharacters = 1_000;

/** A column's name as it is compared with others: in lower case, with one underscore for each gap. */
export function plainName(name: string): string {
  if (name.length > longestNameCharacters) return name;
  const unit = name.search(/[([]/u);
  return (unit > 0 ? name.slice(0, unit) : name)
    .trim()
    .toLowerCase()
    .replaceAll(/[\s/-]+/g, '_');
}
