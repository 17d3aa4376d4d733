// Which tests concern a folder: its own, and laws and comparisons that would notice a change in it. A folder that is missing
// here has its own tests only.
import path from 'node:path';
import { filesUnder, root } from './set-up.mjs';

/** Folders and beginnings of files, from the project's root. @type {Readonly<Record<string, readonly string[]>>} */
const more = {
  machine: ['tests/agreement/kernel-and-oracle', 'tests/laws/device-logic'],
  sim: ['tests/agreement/', 'tests/laws/runs'],
  verdict: ['tests/laws/reasons'],
};

/** Instead of a folder's own tests, those that are quick enough to run for each mutant. @type {Readonly<Record<string, readonly string[]>>} */
const own = {
  verify: ['tests/verify/recorded', 'tests/verify/malformed', 'tests/verify/rules'],
};

/** @param {string} folder below src */
export function testsOf(folder) {
  const [top = ''] = folder.split('/');
  return [...(own[top] ?? [`tests/${top}/`]), ...(more[top] ?? [])];
}

/** The test files whose path from the root begins like this. @param {string} beginning */
export function filesMatching(beginning) {
  const folder = path.join(root, beginning.slice(0, beginning.lastIndexOf('/')));
  return filesUnder(folder)
    .map((file) => path.relative(root, file).split(path.sep).join('/'))
    .filter((file) => file.startsWith(beginning) && file.endsWith('.test.ts'));
}
