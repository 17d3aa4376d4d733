// Recognizes a watch file where a scenario is needed, and the reverse: one error instead of twelve.
import type { Diagnostic } from '../../base/index.js';
import type { TextDocument } from './document.js';

type Kind = 'scenario' | 'watch file';

const tellingKeys: Readonly<Record<Kind, readonly string[]>> = {
  scenario: ['name', 'start', 'length', 'network', 'power', 'expect', 'generate'],
  'watch file': ['watch', 'device', 'judge', 'supply'],
};

const ways: Readonly<Record<Kind, string>> = {
  scenario: 'give the watch file with -c; only commands that replay timelines take a scenario',
  'watch file': 'give the watch file with -c, and a scenario or a door log as the timeline',
};

function isMapping(value: unknown): boolean {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/** The one error to report when a file is of the other kind altogether, else null. */
export function otherKind(document: TextDocument, wanted: Kind): Diagnostic | null {
  const { root } = document;
  if (typeof root !== 'object' || root === null || Array.isArray(root)) return null;
  const other = wanted === 'scenario' ? 'watch file' : 'scenario';
  // The sections of a watch file are mappings; elsewhere `device` may be the name of one.
  const isTelling = (kind: Kind, key: string): boolean =>
    Object.hasOwn(root, key) && (kind === 'scenario' || isMapping(Reflect.get(root, key)));
  const count = (kind: Kind): number =>
    tellingKeys[kind].filter((key) => isTelling(kind, key)).length;
  if (count(wanted) > 0 || count(other) === 0) return null;
  const source = document.place([]);
  const message = `this is a ${other}, but a ${wanted} is needed here`;
  return { code: 'other-kind-of-file', severity: 'error', source, message, hint: ways[other] };
}
