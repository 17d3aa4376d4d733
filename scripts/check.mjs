// Everything a change must satisfy besides the tests. Every step runs, whatever the ones
// before it said; each is a script of its own in package.json, named below.
import { runNpm } from './support/process.mjs';
import { ensureInstalled, root } from './support/set-up.mjs';

/** Two steps at once, for two cores. The first takes longest, most of it on one core. */
const steps = [
  'check:pack',
  'check:format',
  'check:schemas',
  'check:words',
  'check:dead',
  'check:layers',
  'check:types',
  'check:lint',
  'check:grammar',
];
const atOnce = 2;

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

async function takeSteps() {
  for (let step = steps.shift(); step !== undefined; step = steps.shift()) await check(step);
}

await Promise.all(Array.from({ length: atOnce }, takeSteps));
console.log(failed.length === 0 ? 'check: all passed' : `check: failed: ${failed.join(', ')}`);
process.exitCode = failed.length === 0 ? 0 : 1;
