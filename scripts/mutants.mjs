// `npm run mutants FOLDER`: changes the code of src/FOLDER (or of one file) in one small place at a time and runs the tests
// that concern it. A change that no test notices is a survivor: a missing test, or code that makes no difference.
import { existsSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { bundled, mutatedSources } from './mutants/bundle.mjs';
import { Trial } from './mutants/trial.mjs';
import { filesMatching, furtherTestsOf, testsOf } from './support/mutants-tests.mjs';
import { PlainError } from './support/require-tool.mjs';
import { cacheDir, ensureInstalled, filesUnder, root } from './support/set-up.mjs';

/** @typedef {import('./mutants/bundle.mjs').Mutant} Mutant */
/** @typedef {import('./mutants/trial.mjs').Outcome} Outcome */
/** @typedef {{ file: string, line: string, found: string, replacement: string, reason: string }} Judged */

/** The share that must be killed, or judged equivalent with a reason. */
const leastShare = 0.9;

const equivalentFile = path.join(root, 'scripts', 'mutants-equivalent.json');

/** @returns {readonly Judged[]} */
function readEquivalent() {
  return existsSync(equivalentFile) ? JSON.parse(readFileSync(equivalentFile, 'utf8')) : [];
}

/** @param {Mutant} mutant @param {readonly Judged[]} judged */
function judgementOf({ file, line, found, replacement }, judged) {
  return judged.find(
    (entry) =>
      entry.file === file &&
      entry.line === line &&
      entry.found === found &&
      entry.replacement === replacement,
  );
}

/**
 * @typedef {object} Choice
 * @property {boolean} again only those that nothing noticed the last time
 * @property {number} every one of this many: a sample, where all would take hours
 */

/**
 * @param {string} folder below src, such as `verdict` or `verdict/explain`; or a file there
 * @param {Choice} choice
 */
async function run(folder, { again, every }) {
  const [top = ''] = folder.split('/');
  // Only what is to be changed: with all of a large folder in it, each reload of the bundle would take several times as long.
  const sources = filesUnder(path.join(root, 'src', top))
    .map((file) => path.relative(root, file).split(path.sep).join('/'))
    .filter((file) => /\.tsx?$/u.test(file) && !file.endsWith('.d.ts'))
    .filter((file) => `${file}/`.startsWith(`src/${folder}/`));
  const slashed = folder.split(path.sep).join('/');
  const wanted = { own: testsOf(slashed), further: furtherTestsOf(slashed) };
  if (wanted.own.flatMap(filesMatching).length === 0) {
    throw new PlainError(`No test was found for src/${top}.`);
  }
  // Tests that draw at random must draw the same for every mutant.
  Object.assign(process.env, { CI: '1', DOZEWATCH_SEED: '1', DOZEWATCH_LAW_CASES: '200' });
  const { mutants, instrumented } = await mutatedSources(sources, every);
  if (mutants.every(({ ignored }) => ignored)) {
    throw new PlainError(`src/${folder} has nothing to change.`);
  }
  const cache = path.join(cacheDir, 'mutants', folder.replaceAll(path.sep, '-'));
  /** @param {string} ending @param {readonly string[]} tests */
  const trialOf = async (ending, tests) => {
    const files = [...new Set(tests.flatMap(filesMatching))];
    const trial = new Trial(`${cache}${ending}`, await bundled(instrumented, files), tests);
    await describeTests(folder, trial);
    return trial;
  };
  const own = await trialOf('', wanted.own);
  /** @type {Trial | null} */
  let further = null;
  try {
    return await report(folder, { mutants, isSample: every > 1 }, async (mutant) => {
      const outcome = await own.outcomeOf(mutant, again);
      if (outcome.by !== null || wanted.further.length === 0) return outcome;
      further ??= await trialOf('-further', wanted.further);
      const later = await further.outcomeOf(mutant, again);
      return later.status === 'unreached' ? outcome : later;
    });
  } finally {
    own.stop();
    /** @type {Trial | null} */ (further)?.stop();
  }
}

/** @param {string} folder @param {Trial} trial */
async function describeTests(folder, trial) {
  const tried = await trial.tryOut();
  let allMs = 0;
  for (const { name, ms, failure } of tried.tests) {
    allMs += ms;
    if (failure !== null) console.log(`left out, since it fails by itself: ${name}: ${failure}`);
  }
  console.log(
    `src/${folder}, with ${tried.tests.length} tests that take ${seconds(allMs)} s in all`,
  );
  if (process.env['DOZEWATCH_MUTANTS_TIMES'] === undefined) return;
  for (const { name, ms } of tried.tests.toSorted((a, b) => b.ms - a.ms).slice(0, 15)) {
    console.log(`    ${seconds(ms)} s  ${name}`);
  }
}

/** @param {number} ms */
function seconds(ms) {
  return (ms / 1000).toFixed(1);
}

/**
 * @param {string} folder
 * @param {{ mutants: readonly Mutant[], isSample: boolean }} tried
 * @param {(mutant: Mutant) => Promise<Outcome>} outcomeOf
 * @returns {Promise<boolean>} whether enough were noticed or judged
 */
async function report(folder, { mutants, isSample }, outcomeOf) {
  const judged = readEquivalent().filter(({ file }) => `${file}/`.startsWith(`src/${folder}/`));
  /** @type {Set<Judged>} */
  const used = new Set();
  const total = emptyTally();
  for (const file of new Set(mutants.map((mutant) => mutant.file))) {
    const tally = emptyTally();
    const fromMs = performance.now();
    for (const mutant of mutants.filter((one) => one.file === file && !one.ignored)) {
      const { status } = await outcomeOf(mutant);
      const judgement = judgementOf(mutant, judged);
      if (status === 'killed' || status === 'timeout') {
        tally[status] += 1;
      } else if (judgement !== undefined) {
        used.add(judgement);
        tally.equivalent += 1;
      } else {
        tally.survived += 1;
        const unseen = status === 'unreached' ? ' (no test runs it)' : '';
        console.log(`survived${unseen}  ${mutant.file}:${mutant.lineNumber}  ${mutant.line}`);
        console.log(`    ${mutant.found}  →  ${mutant.replacement}`);
      }
    }
    console.log(`${file}: ${textOf(tally)}; ${seconds(performance.now() - fromMs)} s`);
    for (const key of kinds) total[key] += tally[key];
  }
  for (const entry of isSample ? [] : judged) {
    if (used.has(entry)) continue;
    console.log(`not needed in the list  ${entry.file}  ${entry.found}  →  ${entry.replacement}`);
  }
  const all = kinds.reduce((sum, key) => sum + total[key], 0);
  const share = (all - total.survived) / all;
  console.log(
    `src/${folder}: ${textOf(total)}: ${Math.floor(share * 1000) / 10} % of ${all} (at least ${leastShare * 100} %); ` +
      `${mutants.length - all} not tried (invariants, words)`,
  );
  return share >= leastShare;
}

const kinds = /** @type {const} */ (['killed', 'timeout', 'equivalent', 'survived']);

function emptyTally() {
  return { killed: 0, timeout: 0, equivalent: 0, survived: 0 };
}

/** @param {ReturnType<typeof emptyTally>} tally */
function textOf({ killed, timeout, equivalent, survived }) {
  return `${killed} killed, ${timeout} endless, ${equivalent} judged equivalent, ${survived} survived`;
}

try {
  const flags = process.argv.slice(2).filter((word) => word.startsWith('--'));
  const [given = '', ...others] = process.argv.slice(2).filter((word) => !flags.includes(word));
  const folder = path.relative('src', path.join('src', given.replace(/^src\//u, '')));
  const everies = flags.flatMap((flag) => /^--every=([1-9]\d*)$/u.exec(flag)?.[1] ?? []);
  const again = flags.filter((flag) => flag === '--again').length;
  const known = flags.length === again + everies.length;
  if (!known || folder === '' || others.length > 0 || !existsSync(path.join(root, 'src', folder))) {
    throw new PlainError(
      'Name one folder of src, or one file: npm run mutants verdict (-- verdict --again: survivors only; ' +
        '-- verdict --every=10: a tenth of all)',
    );
  }
  await ensureInstalled();
  process.chdir(root);
  const choice = { again: again > 0, every: Number(everies[0] ?? 1) };
  if (!(await run(folder, choice))) process.exitCode = 1;
} catch (error) {
  process.exitCode = 1;
  console.error(error instanceof PlainError ? error.message : error);
}
