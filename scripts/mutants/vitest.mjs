// Stands in for `vitest` in a bundle of tests, so that thousands of runs need no new process each: tests are kept in a list,
// and the process that loaded the bundle calls them. Only what unit tests need: describe, it, their `each`, and expect.
import {
  ASYMMETRIC_MATCHERS_OBJECT,
  chai,
  GLOBAL_EXPECT,
  getState,
  JestAsymmetricMatchers,
  JestChaiExpect,
  JestExtend,
  setState,
} from '@vitest/expect';

/** @typedef {{ name: string, run: () => unknown }} Test */

/** @type {Test[]} */
export const tests = [];

/** @type {string[]} */
const within = [];

/** @param {string} name of the file whose tests come next */
export function inFile(name) {
  within.length = 0;
  within.push(name);
}

/**
 * @param {(name: string, body: (...values: any[]) => unknown) => void} once
 * @returns {(cases: readonly unknown[]) => (name: string, body: (...values: any[]) => unknown) => void}
 */
function eachOf(once) {
  return (cases) => (name, body) => {
    for (const [index, one] of cases.entries()) {
      const values = Array.isArray(one) ? one : [one];
      once(`${name} [${index}]`, () => body(...values));
    }
  };
}

/** Files that tests made are gone when each is over. @type {(() => unknown)[]} */
const whenOver = [];

/** @param {() => unknown} clean */
export function onTestFinished(clean) {
  whenOver.push(clean);
}

/** @param {() => unknown} run @returns {() => Promise<void>} */
function cleaned(run) {
  return async () => {
    try {
      await run();
    } finally {
      for (const clean of whenOver.splice(0)) await clean();
    }
  };
}

/** @param {string} name @param {() => unknown} body */
function describeOnce(name, body) {
  within.push(name);
  body();
  within.pop();
}

/** @param {string} name @param {() => unknown} run */
function itOnce(name, run) {
  tests.push({ name: [...within, name].join(' > '), run: cleaned(run) });
}

/** @param {typeof itOnce} once */
function withCases(once) {
  return Object.assign(once, { each: eachOf(once) });
}

export const describe = withCases(describeOnce);
const skipped = withCases(() => undefined);
export const it = Object.assign(withCases(itOnce), {
  /** @param {unknown} condition */
  skipIf: (condition) => (condition ? skipped : it),
  /** @param {readonly any[]} cases named by themselves */
  for:
    (cases) =>
    (/** @type {string} */ name, /** @type {(one: any, context: object) => unknown} */ body) => {
      for (const one of cases) {
        const skip = () => undefined;
        itOnce(name.replace('$name', one.name), () => body(one, { skip }));
      }
    },
});

chai.use(JestExtend);
chai.use(JestChaiExpect);
chai.use(JestAsymmetricMatchers);

/** @type {any} */
const matchers = Reflect.get(globalThis, ASYMMETRIC_MATCHERS_OBJECT);

/** @type {any} */
export const expect = Object.assign(
  (/** @type {unknown} */ value, /** @type {string | undefined} */ message) =>
    chai.expect(value, message),
  { ...chai.expect, ...matchers },
);
expect.getState = () => getState(expect);
setState({ assertionCalls: 0, isExpectingAssertions: false }, expect);
Reflect.set(globalThis, GLOBAL_EXPECT, expect);
