// Everything a change must satisfy besides the tests, fast steps first. Every step runs, whatever the ones
// before it said; each is a script of its own in package.json, named below.
import { runNpm } from './support/process.mjs';
import { ensureInstalled, root } from './support/set-up.mjs';

/** Two lines of steps at once, for two cores: the type-aware lint takes as long as all others together. */
const lines = [
  [
    'check:format',
    'check:schemas',
    'check:layers',
    'check:types',
    'check:dead',
    'check:words',
    'check:grammar',
    'check:pack',
  ],
  ['check:lint'],
];

await ensureInstalled();
/** @type {string[]} */
const failed = [];

/** @param {string} step */
async function check(step) {
  const started = performance.now();
  const { status, output } = await runNpm(['run', '--silent', step], { cwd: root, capture: true });
  const seconds = ((performance.now() - started) / 1000).toFixed(1);
  console.log(`${status === 0 ? 'pass' : 'FAIL'}  ${step}  ${seconds} s`);
  if (status === 0) return;
  failed.push(step);
  console.log(output.trimEnd());
}

await Promise.all(
  lines.map(async (steps) => {
    for (const step of steps) await check(step);
  }),
);
console.log(failed.length === 0 ? 'check: all passed' : `check: failed: ${failed.join(', ')}`);
process.exitCode = failed.length === 0 ? 0 : 1;
