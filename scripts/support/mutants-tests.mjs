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
  bounds: [
    'envelope',
    'ceiling',
    'left',
    'spread',
    'zones',
    'changes',
    'closed-form',
    'gaps',
    'eager',
    'every-state',
    'recorded-parts',
    'not-certified',
    'outgrown',
    'zone-list',
  ].map((name) => `tests/bounds/${name}.test`),
  hunt: ['search', 'trials', 'arbitraries', 'recorded'].map((name) => `tests/hunt/${name}.test`),
  'scenarios/log': [
    'door-log',
    'limits-',
    'log-',
    'record.',
    'recorded-d',
    'recorded-f',
    'recorded-i',
    'recorded-t',
    'sensors',
  ].map((name) => `tests/scenarios/${name}`),
  'scenarios/profile': [
    'fit',
    'profile',
    'recorded-profiles',
    'resamples',
    'visits',
    'year-worlds',
  ].map((name) => `tests/scenarios/${name}`),
  'scenarios/quantity': [
    'duration',
    'limits-',
    'measure',
    'recorded-faults',
    'recorded-tables',
  ].map((name) => `tests/scenarios/${name}`),
  'scenarios/scenario': [
    'ajar',
    'expectations',
    'opening',
    'recorded-faults',
    'recorded-scenario',
    'scenario',
  ].map((name) => `tests/scenarios/${name}`),
  'scenarios/text': [
    'document',
    'limits-',
    'recorded-f',
    'recorded-tables',
    'recorded-watch',
    'suggest',
  ].map((name) => `tests/scenarios/${name}`),
  'scenarios/time': ['log-', 'recorded-f', 'recorded-instants', 'recorded-scenario', 'time'].map(
    (name) => `tests/scenarios/${name}`,
  ),
  'scenarios/watch': ['overrides', 'recorded-faults', 'recorded-watch', 'watch-'].map(
    (name) => `tests/scenarios/${name}`,
  ),
  verify: ['tests/verify/recorded', 'tests/verify/malformed', 'tests/verify/rules'],
};

/** @param {...string} kinds folders of `tests/golden/expected` */
const goldens = (...kinds) =>
  kinds.map((kind) => `tests/golden/golden.test.ts > the golden output of > ${kind}/`);

/**
 * Slower tests, which only the mutants meet that those above do not notice: other tests of the folder, and what commands
 * print. A test file, its beginning, or the beginning of the full name of a test.
 * @type {Readonly<Record<string, readonly string[]>>}
 */
const further = {
  hunt: ['tests/hunt/', 'tests/cli/hunt', ...goldens('hunt')],
  bounds: [
    ...['tests/bounds/brute-force', 'tests/bounds/default-watch', 'tests/bounds/delivered'],
    ...['tests/bounds/aliasing', 'tests/bounds/bounce', 'tests/bounds/smaller-proof'],
    ...['tests/bounds/heartbeats', 'tests/bounds/join-wait', 'tests/bounds/low-battery'],
    ...['tests/bounds/remedies', 'tests/bounds/witnesses', 'tests/bounds/recorded-answers'],
    'tests/bounds/too-many',
    ...['tests/cli/bounds.', 'tests/cli/bounds-p', 'tests/cli/bounds-w'],
    ...goldens('bounds', 'verify'),
  ],
  scenarios: [
    ...[
      'tests/scenarios/',
      'tests/compare/',
      'tests/cli/log-',
      'tests/cli/logs',
      'tests/cli/profile',
      'tests/cli/replay',
    ],
    ...goldens('refused', 'replay', 'logs', 'profile', 'compare', 'place'),
  ],
};

/** @param {string} folder below src, or a file there: the list of the nearest folder around it is taken */
export function testsOf(folder) {
  const [top = ''] = folder.split('/');
  return [...(nearest(own, folder) ?? [`tests/${top}/`]), ...(more[top] ?? [])];
}

/** Tests for the mutants that those of `testsOf` do not kill. @param {string} folder as there */
export function furtherTestsOf(folder) {
  const own = testsOf(folder).flatMap(filesMatching);
  return (nearest(further, folder) ?? []).filter((start) =>
    filesMatching(start).some((file) => !own.includes(file)),
  );
}

/** @param {Readonly<Record<string, readonly string[]>>} lists @param {string} folder */
function nearest(lists, folder) {
  let at = folder;
  while (lists[at] === undefined && at.includes('/')) at = path.posix.dirname(at);
  return lists[at];
}

/** The test files whose path from the root begins like this; a name of a test may follow. @param {string} start */
export function filesMatching(start) {
  const [beginning = ''] = start.split(' > ');
  const folder = path.join(root, beginning.slice(0, beginning.lastIndexOf('/')));
  return filesUnder(folder)
    .map((file) => path.relative(root, file).split(path.sep).join('/'))
    .filter((file) => file.startsWith(beginning) && file.endsWith('.test.ts'));
}
