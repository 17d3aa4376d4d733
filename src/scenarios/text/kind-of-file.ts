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

const ways: Readonly<Record<Kind | 'certificate' | 'printed' | 'log', string>> = {
  scenario:
    'a scenario is a timeline: name it without an option, and a watch file (dozewatch init writes one) with -c',
  'watch file': 'give the watch file with -c, and a scenario or a door log as the timeline',
  'usage profile': 'give it with --profile, to a command that takes one',
  certificate: 'dozewatch verify checks it',
  printed: 'a program reads it; no command does',
  log: 'a door log is a timeline: name it without an option, and a watch file (dozewatch init writes one) with -c',
};

/** The one error to report when a file is of another kind altogether, else null. */
export function otherKind(
  document: TextDocument,
  wanted: 'scenario' | 'watch file',
): Diagnostic | null {
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
  return {
    code: 'other-kind-of-file',
    severity: 'error',
    source: { ...document.place([]), line: 1, column: 1 },
    message: 'this looks like a door log, but a watch file is needed here',
    hint: ways.log,
  };
}
