// `npm run mutants FOLDER`: changes the code of src/FOLDER (or of one file) in one small place at a time and runs the tests
// that concern it. A change that no test notices is a survivor: a missing test, or code that makes no difference. It takes
// minutes to an hour, so CI does not run it.
import { existsSync, mkdtempSync, readFileSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { Stryker } from '@stryker-mutator/core';
import { filesMatching, testsOf } from './support/mutants-tests.mjs';
import { PlainError } from './support/require-tool.mjs';
import { ensureInstalled, root } from './support/set-up.mjs';

/** @typedef {Awaited<ReturnType<Stryker['runMutationTest']>>[number]} Mutant */
/** @typedef {{ file: string, line: string, found: string, replacement: string, reason: string }} Judged */

/** The share that must be killed, or judged equivalent with a reason. */
const leastShare = 0.9;

const noticed = new Set(['Killed', 'Timeout', 'RuntimeError', 'CompileError']);
const equivalentFile = path.join(root, 'scripts', 'mutants-equivalent.json');

/**
 * @param {string} folder below src, such as `verdict` or `verdict/explain`; or a file there
 * @returns {Promise<readonly Mutant[]>}
 */
async function mutantsOf(folder) {
  const tests = testsOf(folder);
  const files = tests.flatMap(filesMatching);
  if (files.length === 0) throw new PlainError(`No test was found for src/${folder}.`);
  console.log(`src/${folder}, with ${files.length} test files: ${tests.join(' ')}`);
  // Tests that draw at random must draw the same for every mutant; the workers inherit this.
  Object.assign(process.env, {
    CI: '1',
    DOZEWATCH_SEED: '1',
    DOZEWATCH_LAW_CASES: '300',
    DOZEWATCH_MUTANTS_TESTS: JSON.stringify(files),
  });
  const scratch = mkdtempSync(path.join(tmpdir(), 'dozewatch-mutants-'));
  try {
    const stryker = new Stryker({
      mutate: isFile(folder)
        ? [`src/${folder}`]
        : [`src/${folder}/**/*.{ts,tsx}`, '!src/**/*.d.ts'],
      testRunner: 'vitest',
      plugins: [
        '@stryker-mutator/vitest-runner',
        path.join(root, 'scripts', 'support', 'mutants-ignored.mjs'),
      ],
      ignorers: ['invariants'],
      vitest: { configFile: 'scripts/support/mutants-vitest.config.mjs', related: false },
      coverageAnalysis: 'perTest',
      concurrency: 2,
      // A machine with much to do is no endless loop: those are also found by counting.
      timeoutMS: 60_000,
      tempDirName: scratch,
      cleanTempDir: 'always',
      reporters: process.stdout.isTTY ? ['progress'] : ['progress-append-only'],
      allowConsoleColors: process.stdout.isTTY,
      // A tree that is being built, or measured, is no part of what is tested.
      ignorePatterns: ['dist', 'coverage', '.cache', 'docs/pictures'],
    });
    return await stryker.runMutationTest();
  } finally {
    rmSync(scratch, { recursive: true, force: true });
  }
}

/** @param {string} folder */
function isFile(folder) {
  return statSync(path.join(root, 'src', folder)).isFile();
}

/**
 * What a mutant replaces: the text in its file, and the line where it starts.
 * @param {Mutant} mutant
 */
function placeOf({ fileName, location }) {
  const lines = readFileSync(fileName, 'utf8').split('\n');
  // Lines and columns count from 1, the end is behind the last character.
  const { start, end } = location;
  const found = lines
    .slice(start.line - 1, end.line)
    .map((line, index, all) =>
      line.slice(
        index === 0 ? start.column - 1 : 0,
        index === all.length - 1 ? end.column - 1 : undefined,
      ),
    )
    .join('\n');
  const file = path.relative(root, path.resolve(root, fileName)).split(path.sep).join('/');
  return { file, lineNumber: start.line, line: (lines[start.line - 1] ?? '').trim(), found };
}

/** @param {string} text */
function oneLine(text) {
  const flat = text.replaceAll(/\s+/g, ' ');
  return flat.length <= 100 ? flat : `${flat.slice(0, 99)}…`;
}

/** @returns {readonly Judged[]} */
function readEquivalent() {
  return existsSync(equivalentFile) ? JSON.parse(readFileSync(equivalentFile, 'utf8')) : [];
}

/**
 * @param {string} folder
 * @param {readonly Mutant[]} mutants
 * @returns {boolean} whether enough were noticed or judged
 */
function report(folder, mutants) {
  const tried = mutants.filter(({ status }) => status !== 'Ignored');
  const killed = tried.filter(({ status }) => noticed.has(status));
  const judged = readEquivalent().filter(({ file }) => `${file}/`.startsWith(`src/${folder}/`));
  /** @type {Set<Judged>} */
  const used = new Set();
  let survivors = 0;
  for (const mutant of tried) {
    if (noticed.has(mutant.status)) continue;
    const { file, lineNumber, line, found } = placeOf(mutant);
    const judgement = judged.find(
      (entry) =>
        entry.file === file &&
        entry.line === line &&
        entry.found === oneLine(found) &&
        entry.replacement === oneLine(mutant.replacement),
    );
    if (judgement !== undefined) {
      used.add(judgement);
      continue;
    }
    survivors += 1;
    const unseen = mutant.status === 'NoCoverage' ? ' (no test runs it)' : '';
    console.log(`survived${unseen}  ${file}:${lineNumber}  ${line}`);
    console.log(`    ${oneLine(found)}  →  ${oneLine(mutant.replacement)}`);
  }
  for (const entry of judged) {
    if (used.has(entry)) continue;
    console.log(`not needed in the list  ${entry.file}  ${entry.found}  →  ${entry.replacement}`);
  }
  if (tried.length === 0) throw new PlainError(`src/${folder} has nothing to change.`);
  const equivalent = tried.length - killed.length - survivors;
  const share = (tried.length - survivors) / tried.length;
  console.log(
    `src/${folder}: ${killed.length} of ${tried.length} mutants killed, ${equivalent} judged equivalent, ` +
      `${survivors} survived: ${Math.floor(share * 1000) / 10} % (at least ${leastShare * 100} %); ` +
      `${mutants.length - tried.length} not tried (invariants)`,
  );
  return share >= leastShare;
}

try {
  const [given = '', ...others] = process.argv.slice(2);
  const folder = path.relative('src', path.join('src', given.replace(/^src\//, '')));
  if (folder === '' || others.length > 0 || !existsSync(path.join(root, 'src', folder))) {
    throw new PlainError('Name one folder of src: npm run mutants verdict');
  }
  await ensureInstalled();
  process.chdir(root);
  if (!report(folder, await mutantsOf(folder))) process.exitCode = 1;
} catch (error) {
  process.exitCode = 1;
  console.error(error instanceof PlainError ? error.message : error);
}
