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

/**
 * Instead of a folder's own tests, those that are quick enough to run for each mutant. Of scenarios, a folder in it has the
 * tests that concern it: with all of both, each trial loads a bundle of 1.8 MB.
 * @type {Readonly<Record<string, readonly string[]>>}
 */
const own = {
  bounds: ['spread', 'zones', 'changes', 'closed-form', 'gaps', 'eager', 'every-state'].map(
    (name) => `tests/bounds/${name}.test`,
  ),
  hunt: ['search', 'trials', 'arbitraries'].map((name) => `tests/hunt/${name}.test`),
  'scenarios/log': ['door-log', 'log-', 'record', 'sensors'].map(
    (name) => `tests/scenarios/${name}`,
  ),
  'scenarios/profile': ['fit', 'profile', 'resamples', 'visits', 'year-worlds'].map(
    (name) => `tests/scenarios/${name}`,
  ),
  'scenarios/quantity': ['tests/scenarios/duration', 'tests/scenarios/measure'],
  'scenarios/scenario': ['ajar', 'expectations', 'opening', 'scenario'].map(
    (name) => `tests/scenarios/${name}`,
  ),
  'scenarios/text': ['tests/scenarios/document', 'tests/scenarios/suggest'],
  'scenarios/time': ['tests/scenarios/log-', 'tests/scenarios/time'],
  'scenarios/watch': ['tests/scenarios/overrides', 'tests/scenarios/watch-'],
  verify: ['tests/verify/recorded', 'tests/verify/malformed', 'tests/verify/rules'],
};

/** @param {string} folder below src, or a file there: the list of the nearest folder around it is taken */
export function testsOf(folder) {
  const [top = ''] = folder.split('/');
  let nearest = folder;
  while (own[nearest] === undefined && nearest !== top) nearest = path.posix.dirname(nearest);
  return [...(own[nearest] ?? [`tests/${top}/`]), ...(more[top] ?? [])];
}

/** The test files whose path from the root begins like this. @param {string} beginning */
export function filesMatching(beginning) {
  const folder = path.join(root, beginning.slice(0, beginning.lastIndexOf('/')));
  return filesUnder(folder)
    .map((file) => path.relative(root, file).split(path.sep).join('/'))
    .filter((file) => file.startsWith(beginning) && file.endsWith('.test.ts'));
}
