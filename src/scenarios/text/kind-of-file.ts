// Which kind of file somebody has given: a watch file where a scenario is asked for is one mistake, not twelve.
import type { Diagnostic } from '../../base/index.js';
import type { TextDocument } from './document.js';

type Kind = 'scenario' | 'watch file';

const tellingKeys: Readonly<Record<Kind, readonly string[]>> = {
  scenario: ['name', 'start', 'length', 'network', 'power', 'expect', 'generate'],
  'watch file': ['watch', 'device', 'judge', 'supply'],
};

const ways: Readonly<Record<Kind, string>> = {
  scenario: 'give it as a timeline, and a watch file with -c',
  'watch file': 'give it with -c, and a scenario or a door log as the timeline',
};

/** The one error to report when a file is of the other kind altogether, else null. */
export function otherKind(document: TextDocument, wanted: Kind): Diagnostic | null {
  const { root } = document;
  if (typeof root !== 'object' || root === null || Array.isArray(root)) return null;
  const other = wanted === 'scenario' ? 'watch file' : 'scenario';
  const count = (kind: Kind): number =>
    tellingKeys[kind].filter((key) => Object.hasOwn(root, key)).length;
  if (count(wanted) > 0 || count(other) === 0) return null;
  const source = document.place([]);
  const message = `the file is a ${other}, and a ${wanted} is wanted`;
  return { code: 'other-kind-of-file', severity: 'error', source, message, hint: ways[other] };
}
