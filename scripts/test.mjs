// `npm test` on a fresh clone: installs, builds, runs the tests. Whatever happens, the last line on stdout is
// the count, alone on its line; the status is 0 only when something ran and nothing failed.
import { existsSync, mkdirSync, readFileSync, rmSync } from 'node:fs';
import path from 'node:path';
import { runNode } from './support/process.mjs';
import { PlainError, requireTool } from './support/require-tool.mjs';
import { cacheDir, ensureBuilt, ensureInstalled, root } from './support/set-up.mjs';

/** @typedef {{ passed: number, failed: number, skipped: number }} Counts */

const vitest = path.join('node_modules', 'vitest', 'vitest.mjs');

/**
 * @param {readonly string[]} args passed on to vitest
 * @returns {Promise<{ counts: Counts, status: number }>}
 */
async function runTests(args) {
  await ensureInstalled();
  await ensureBuilt();
  mkdirSync(cacheDir, { recursive: true });
  const countsFile = path.join(cacheDir, `test-counts-${process.pid}.json`);
  sayIfNoCompiler();
  const { status } = await runNode([vitest, 'run', ...args], {
    cwd: root,
    env: { DOZEWATCH_TEST_COUNTS: countsFile },
  });
  if (!existsSync(countsFile)) throw new PlainError('The test runner ended without a result.');
  const counts = JSON.parse(readFileSync(countsFile, 'utf8'));
  rmSync(countsFile);
  return { counts, status };
}

/** Some tests compile firmware: without a compiler they fail, and each for itself would be a riddle. */
function sayIfNoCompiler() {
  if (process.platform === 'win32') return;
  try {
    requireTool({
      what: 'C compiler',
      commands: ['cc'],
      neededFor: 'the tests of firmware and emitted C: they will fail without it',
      install:
        'Debian, Ubuntu: apt install gcc; Fedora: dnf install gcc; Alpine: apk add gcc musl-dev; macOS: xcode-select --install.',
    });
  } catch (error) {
    if (!(error instanceof PlainError)) throw error;
    console.error(error.message);
  }
}

/** @param {Counts} counts */
function lastLine({ passed, failed, skipped }) {
  const extra = skipped > 0 ? `, ${skipped} skipped` : '';
  return `tests: ${passed} passed, ${failed} failed${extra}`;
}

/** @type {Counts} */
let counts = { passed: 0, failed: 0, skipped: 0 };
try {
  const ended = await runTests(process.argv.slice(2));
  counts = ended.counts;
  process.exitCode = ended.status;
  if (counts.failed > 0 && ended.status === 0) process.exitCode = 1;
  if (counts.failed > 0) sayIfNoCompiler();
  if (counts.passed + counts.failed === 0) {
    console.error('No test ran.');
    process.exitCode = 1;
  }
} catch (error) {
  process.exitCode = 1;
  console.error(error instanceof PlainError ? error.message : error);
}
console.log(lastLine(counts));
