// Recognizes a file of another kind than is needed: one error instead of twelve.

import type { Diagnostic } from '../../base/index.js';
import { isRecord } from '../../base/index.js';
import type { TextDocument } from './document.js';

type Kind = 'scenario' | 'watch file' | 'usage profile';

const tellingKeys: Readonly<Record<Kind, readonly string[]>> = {
  scenario: ['name', 'start', 'length', 'network', 'power', 'expect', 'generate'],
  'watch file': ['watch', 'device', 'judge', 'supply'],
  'usage profile': ['openingsPerHour', 'visits', 'days', 'fitted'],
};

/** What a file may be that has no sections. */
type RowsKind =
  | 'door log'
  | 'device log'
  | 'list of trials'
  | 'record of a drill'
  | 'log of temperatures'
  | 'list of readings of the current asleep';

/** What dozewatch reads, by the name that an error gives it. */
export type FileKind = Kind | RowsKind;

const ways: Readonly<Record<FileKind | 'certificate' | 'printed', string>> = {
  scenario:
    'a scenario is a timeline: name it without an option, and a watch file (dozewatch init writes one) with -c',
  'watch file': 'give the watch file with -c, and a scenario or a door log as the timeline',
  'usage profile': 'give it with --profile, to a command that takes one',
  certificate: 'dozewatch verify checks it',
  printed: 'a program reads it; no command does',
  'door log':
    'a door log is a timeline: name it without an option, and a watch file (dozewatch init writes one) with -c',
  'device log': 'dozewatch compare takes it with --device-log, and the door log as the timeline',
  'list of trials': 'dozewatch place takes it, without --sleep-current',
  'list of readings of the current asleep': 'dozewatch place takes it, with --sleep-current',
  'record of a drill': 'dozewatch drill takes it with --record',
  'log of temperatures': 'dozewatch margin takes it; see dozewatch margin --help',
};

/** Which kinds an error about a file of another kind names; null: it is not such an error. */
export function kindsIn(
  message: string,
): { readonly kind: FileKind; readonly wanted: FileKind } | null {
  const [, kind = '', wanted = ''] =
    /^this (?:is|looks like) a (.+), but a (.+) is needed (?:here|for --)/u.exec(message) ?? [];
  return isKind(kind) && isKind(wanted) ? { kind, wanted } : null;
}

function isKind(name: string): name is FileKind {
  return Object.hasOwn(ways, name) && name !== 'certificate' && name !== 'printed';
}

/** The one error to report when a file is of another kind altogether, else null. */
export function otherKind(document: TextDocument, wanted: Kind): Diagnostic | null {
  const { root } = document;
  if (typeof root !== 'object' || root === null || Array.isArray(root)) return null;
  const refused = (what: string, hint: string): Diagnostic => {
    const message = `this is a ${what}, but a ${wanted} is needed here`;
    const source = document.place([]);
    return { code: 'other-kind-of-file', severity: 'error', source, message, hint };
  };
  // What dozewatch prints names its schema, and holds sections of a watch file as well.
  const schema: unknown = Reflect.get(root, 'schema');
  if (typeof schema === 'string' && schema.startsWith('dozewatch/')) {
    return schema.startsWith('dozewatch/certificate/')
      ? refused('certificate', ways.certificate)
      : refused('result that dozewatch printed', ways.printed);
  }
  // The sections of a watch file are mappings; elsewhere `device` may be the name of one.
  const isTelling = (kind: Kind, key: string): boolean =>
    Object.hasOwn(root, key) && (kind !== 'watch file' || isRecord(Reflect.get(root, key)));
  const count = (kind: Kind): number =>
    tellingKeys[kind].filter((key) => isTelling(kind, key)).length;
  if (count(wanted) > 0) return null;
  const others: readonly Kind[] = ['watch file', 'scenario', 'usage profile'];
  const other = others.find((kind) => kind !== wanted && count(kind) > 0);
  return other === undefined ? null : refused(other, ways[other]);
}

const logName = /\.(?:csv|tsv|ndjson|jsonl)(?:\.gz)?$/iu;
const dateOrEpoch = /\d{4}-\d{2}-\d{2}|\d{1,4}[./]\d{1,2}[./]\d{2,4}|\b\d{10}(?:\d{3})?\b/u;
const logLine = /[,;\t|]|^\s*\{.*\}\s*$/u;

/** The one error to report when the file given as a watch file reads like the rows of a log, else null. */
export function logInstead(text: string, document: TextDocument): Diagnostic | null {
  if (isRecord(document.root)) return null;
  const { file } = document.place([]);
  const lines = text.split('\n', 12).filter((line) => !/^\s*(?:#.*)?$/u.test(line));
  const rows = lines.filter((line) => dateOrEpoch.test(line) && logLine.test(line));
  const isList = /^[\ufeff\s]*\[\s*\{/u.test(text) && dateOrEpoch.test(text.slice(0, 2_000));
  // The first line may name the columns.
  const isLog =
    isList || logName.test(file) || (rows.length > 0 && rows.length >= lines.length - 1);
  if (!isLog) return null;
  const shown = kindOfText(text);
  const kind = shown === null || Object.hasOwn(tellingKeys, shown) ? 'door log' : shown;
  return {
    code: 'other-kind-of-file',
    severity: 'error',
    source: { ...document.place([]), line: 1, column: 1 },
    message: `this looks like a ${kind}, but a watch file is needed here`,
    hint: ways[kind],
  };
}

/** The rows that show what a file is: the first few that say something. */
const tellingRows = 12;

const ofTrials = /^(?:direction|closing|opening)\s*[,;\t]/iu;
const ofCurrent = /^(?:meter|volts)\s*[,;\t]/iu;
const ofDrill =
  /^(?:step *[,;\t] *message|\d{1,4} *[,;\t] *(?:none|no|(?:\d{1,4}:)?\d{1,4}:\d\d))\b/iu;
const ofTemperatures = /^[^,;\t]+[,;\t] *"?(?:temperature|celsius)\b[^,;\t]*$/iu;
const ofEvents = /\b(?:event|type|action|topic)\b/iu;
const ofDoor = /(?:^|[,;\t|"\s:])(?:open|opened|shut|closed|on|off|true|false)(?=$|[,;\t|"\s}])/iu;
const ofDevice = /(?:^|[,;\t|"\s])(?:power-on|check|alert|heartbeat|low-battery)(?=$|[,;\t|"\s])/iu;
const sectionName = /^"?([A-Za-z]+)"?\s*:(?:\s|$)/u;

/** What a text is, by its first rows or its sections; null: nothing shows. */
function kindOfText(text: string): FileKind | null {
  const lines = text
    .slice(0, 20_000)
    .replace(/^\ufeff/u, '')
    .split(/\r\n|\r|\n/u)
    .filter((line) => !/^\s*(?:#.*)?$/u.test(line));
  const keys = lines.map((line) => sectionName.exec(line)?.[1] ?? '');
  const kinds: readonly Kind[] = ['watch file', 'scenario', 'usage profile'];
  const sections = kinds.find((kind) => keys.some((key) => tellingKeys[kind].includes(key)));
  if (sections !== undefined) return sections;
  const [first = '', ...rest] = lines.slice(0, tellingRows);
  if (ofTrials.test(first)) return 'list of trials';
  if (ofCurrent.test(first)) return 'list of readings of the current asleep';
  if (ofDrill.test(first)) return 'record of a drill';
  const dated = [first, ...rest].filter((line) => dateOrEpoch.test(line) && logLine.test(line));
  if (dated.length === 0) return null;
  if (ofTemperatures.test(first)) return 'log of temperatures';
  const share = (pattern: RegExp): number =>
    dated.filter((line) => pattern.test(line)).length / dated.length;
  if (share(ofDevice) > 0.5) return 'device log';
  // Events under other names are not those of a door.
  return share(ofDoor) > 0.5 && !ofEvents.test(first) ? 'door log' : null;
}

/** The one error in place of those of a file that could not be read, where it is of another kind; else null. */
export function otherKindOfText(
  text: string,
  {
    file,
    wanted,
    option,
  }: { readonly file: string; readonly wanted: FileKind; readonly option?: string },
): (Diagnostic & { readonly kind: FileKind }) | null {
  const kind = kindOfText(text);
  if (kind === null || kind === wanted) return null;
  return {
    code: 'other-kind-of-file',
    severity: 'error',
    source: { file },
    kind,
    message: `this is a ${kind}, but a ${wanted} is needed ${option === undefined ? 'here' : `for ${option}`}`,
    hint: ways[kind],
  };
}
