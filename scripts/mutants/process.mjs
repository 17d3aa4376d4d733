// The process in which mutants live. It reloads the bundle for each of them, so that nothing that one has left in a
// variable is seen by the next, and runs the tests that it is given, up to the first that fails.
import { readFileSync } from 'node:fs';
import { compileFunction, constants } from 'node:vm';
import fc from 'fast-check';

/** @typedef {import('./vitest.mjs').Test} Test */

let active = '';
let hits = 0;
let mostHits = Number.POSITIVE_INFINITY;
/** @type {Map<string, number> | null} */
let reached = null;

// What the instrumented code calls.
Object.assign(globalThis, {
  /** @param {string} id */
  stryMutAct_9fa48: (id) => {
    if (id !== active) return false;
    hits += 1;
    if (hits > mostHits) throw new Error('this goes on and on');
    return true;
  },
  /** @param {readonly string[]} ids */
  stryCov_9fa48: (...ids) => {
    if (reached === null) return;
    for (const id of ids) reached.set(id, (reached.get(id) ?? 0) + 1);
  },
});

/** With mutants, properties see so much fewer cases. */
const shareOfRuns = 0.1;

/** @param {fc.IProperty<unknown>} property @param {fc.Parameters<unknown>} [parameters] */
function assertLess(property, parameters = {}) {
  const numRuns = Math.ceil((parameters.numRuns ?? 100) * shareOfRuns);
  // One that fails is enough: the smallest case is of no interest here.
  fc.assert(property, { ...parameters, numRuns, endOnFailure: true });
}

/** @type {((packages: object) => readonly Test[]) | undefined} */
let bundle;
/** @type {Record<string, unknown>} */
const packages = { 'fast-check': { ...fc, default: { ...fc, assert: assertLess } } };

/** @param {string} file @returns {Promise<readonly Test[]>} */
async function testsIn(file) {
  if (bundle === undefined) {
    const code = readFileSync(file, 'utf8');
    for (const [, name = ''] of code.matchAll(/packages\["([^"]+)"\]/gu)) {
      packages[name] ??= await import(name);
    }
    const importModuleDynamically = constants.USE_MAIN_CONTEXT_DEFAULT_LOADER;
    const compiled = compileFunction(code, ['packages'], {
      filename: file,
      importModuleDynamically,
    });
    bundle = (given) => compiled(given);
  }
  return bundle(packages);
}

/** What each test reaches, and how long it takes. @param {string} file @param {readonly string[]} wanted beginnings of names */
async function tryOut(file, wanted) {
  /** @type {Map<string, number>} */
  const loading = new Map();
  reached = loading;
  const names = (await testsIn(file)).map(({ name }) => name);
  for (const [index, name] of names.entries()) {
    if (!wanted.some((beginning) => name.startsWith(beginning))) continue;
    reached = null;
    const test = (await testsIn(file))[index];
    /** @type {Map<string, number>} */
    const here = new Map();
    reached = here;
    const from = process.cpuUsage();
    let failure = null;
    try {
      await test?.run();
    } catch (error) {
      failure = String(error).split('\n', 1)[0];
    }
    const { user, system } = process.cpuUsage(from);
    reached = null;
    await tell({ kind: 'test', name, ms: (user + system) / 1000, failure, reached: [...here] });
  }
  await tell({ kind: 'tried out', loading: [...loading] });
}

/**
 * @param {string} file
 * @param {{ id: string, mostHits: number, tests: readonly { name: string, mostHits: number }[] }} mutant
 */
async function live(file, mutant) {
  active = mutant.id;
  hits = 0;
  mostHits = mutant.mostHits;
  let by = null;
  try {
    const tests = new Map((await testsIn(file)).map(({ name, run }) => [name, run]));
    for (const { name, ...test } of mutant.tests) {
      by = name;
      hits = 0;
      mostHits = test.mostHits;
      await tests.get(name)?.();
    }
    by = null;
  } catch {
    by ??= 'loading';
  }
  active = '';
  await tell({ kind: 'mutant', id: mutant.id, by });
}

/** @param {object} message */
function tell(message) {
  return new Promise((resolve) => process.send?.(message, resolve));
}

process.on('message', (/** @type {any} */ { file, wanted, mutant }) => {
  void (mutant === undefined ? tryOut(file, wanted) : live(file, mutant));
});
process.on('disconnect', () => process.exit());
