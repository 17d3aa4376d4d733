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

const ways: Readonly<Record<Kind | 'certificate' | 'printed', string>> = {
  scenario:
    'a scenario is a timeline: name it without an option, and a watch file (dozewatch init writes one) with -c',
  'watch file': 'give the watch file with -c, and a scenario or a door log as the timeline',
  'usage profile': 'give it with --profile, to a command that takes one',
  certificate: 'dozewatch verify checks it',
  printed: 'a program reads it; no command does',
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
