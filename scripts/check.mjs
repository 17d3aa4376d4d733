// Everything a change must satisfy besides the tests, fast steps first. Every step runs, whatever the ones
// before it said; each is a script of its own in package.json, named below.
import { runNpm } from './support/process.mjs';
import { ensureInstalled, root } from './support/set-up.mjs';

const steps = [
  'check:format',
  'check:schemas',
  'check:layers',
  'check:types',
  'check:dead',
  'check:lint',
  'check:pack',
];

await ensureInstalled();
/** @type {string[]} */
const failed = [];
for (const step of steps) {
  const started = performance.now();
  const { status, output } = await runNpm(['run', '--silent', step], { cwd: root, capture: true });
  const seconds = ((performance.now() - started) / 1000).toFixed(1);
  console.log(`${status === 0 ? 'pass' : 'FAIL'}  ${step}  ${seconds} s`);
  if (status === 0) continue;
  failed.push(step);
  console.log(output.trimEnd());
}
console.log(failed.length === 0 ? 'check: all passed' : `check: failed: ${failed.join(', ')}`);
process.exitCode = failed.length === 0 ? 0 : 1;
