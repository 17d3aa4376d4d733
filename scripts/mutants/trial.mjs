// Tries mutants one after the other in a process of their own, and remembers the result of each: a run that was stopped goes
// on where it was, and after a change the test that noticed a mutant the last time runs first.
import { fork } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';

/** @typedef {import('./bundle.mjs').Mutant} Mutant */
/** @typedef {'killed' | 'timeout' | 'survived' | 'unreached'} Status */
/** @typedef {{ status: Status, by: string | null }} Outcome */
/** @typedef {{ name: string, ms: number, failure: string | null, reached: [string, number][] }} Tried */
/** @typedef {{ tests: Tried[], loading: [string, number][] }} Trials */
/** @typedef {{ hash: string, trials: Trials | null, outcomes: Record<string, Outcome> }} State */

const processFile = fileURLToPath(new URL('process.mjs', import.meta.url));

/** In case something is left behind in the process. */
const mostLoads = 2000;
/** A machine with much to do is no endless loop. */
const leastPatienceMs = 60_000;
const patience = 40;
/** What runs as a module loads concerns every test: the quickest ones are run, up to so much time in all. */
const mostMsOfAny = 60_000;
/** Far more often than without the mutant: an endless loop. @param {number} hits without it */
const hitsAllowed = (hits) => 1000 + 5 * hits;

export class Trial {
  /** @type {import('node:child_process').ChildProcess | null} */
  #child = null;
  #loads = 0;
  /** @type {State} */
  #state;
  #bundle;
  #stateFile;
  #wanted;

  /**
   * @param {string} folder for what is remembered
   * @param {string} code the bundle
   * @param {readonly string[]} wanted how the names of the tests begin that are to run
   */
  constructor(folder, code, wanted) {
    this.#wanted = wanted;
    mkdirSync(folder, { recursive: true });
    this.#bundle = path.join(folder, 'bundle.js');
    this.#stateFile = path.join(folder, 'state.json');
    writeFileSync(this.#bundle, code);
    const hash = createHash('sha256')
      .update(JSON.stringify([code, wanted]))
      .digest('hex');
    /** @type {State} */
    const known = existsSync(this.#stateFile)
      ? JSON.parse(readFileSync(this.#stateFile, 'utf8'))
      : { hash, trials: null, outcomes: {} };
    /** Results of the last run, with other sources or tests. */
    this.before = known.hash === hash ? {} : known.outcomes;
    this.#state = known.hash === hash ? known : { hash, trials: null, outcomes: {} };
    for (const signal of /** @type {const} */ (['SIGINT', 'SIGTERM'])) {
      process.once(signal, () => {
        this.stop();
        process.exit(130);
      });
    }
  }

  /** Runs each test by itself, without a mutant. */
  async tryOut() {
    if (this.#state.trials !== null) return this.#state.trials;
    /** @type {Tried[]} */
    const tests = [];
    const { loading } = await this.#ask(
      { wanted: this.#wanted },
      Number.POSITIVE_INFINITY,
      (test) => tests.push(test),
    );
    this.stop();
    this.#state.trials = { tests, loading };
    this.#save();
    return this.#state.trials;
  }

  /**
   * @param {Mutant} mutant
   * @param {boolean} trusted what was noticed before counts as noticed now
   * @returns {Promise<Outcome>}
   */
  async outcomeOf(mutant, trusted) {
    const key = keyOf(mutant);
    const known = this.#state.outcomes[key];
    if (known !== undefined) return known;
    const before = this.before[key];
    const outcome =
      trusted && before !== undefined && before.by !== null
        ? before
        : await this.#tried(mutant, before?.by ?? null);
    if (!trusted) {
      this.#state.outcomes[key] = outcome;
      this.#save();
    }
    return outcome;
  }

  /** @param {Mutant} mutant @param {string | null} first the test to ask first @returns {Promise<Outcome>} */
  async #tried({ id }, first) {
    const { tests, loading } = await this.tryOut();
    const sound = tests.filter(({ failure }) => failure === null);
    const loads = new Map(loading).get(id) ?? 0;
    const concerned = sound
      .map((test) => ({ ...test, hits: new Map(test.reached).get(id) ?? 0 }))
      .filter(({ hits }) => hits > 0 || loads > 0)
      .sort((a, b) => Number(b.name === first) - Number(a.name === first) || a.ms - b.ms);
    let sumMs = 0;
    const asked = concerned.filter(({ hits, ms: ownMs }) => {
      sumMs += ownMs;
      return hits > 0 || sumMs <= mostMsOfAny;
    });
    if (asked.length === 0) return { status: 'unreached', by: null };
    const ms = asked.reduce((sum, test) => sum + test.ms, 0);
    const question = {
      mutant: {
        id,
        mostHits: hitsAllowed(loads),
        tests: asked.map(({ name, hits }) => ({ name, mostHits: hitsAllowed(hits) })),
      },
    };
    try {
      const { by } = await this.#ask(question, leastPatienceMs + patience * ms);
      return { status: by === null ? 'survived' : 'killed', by };
    } catch (error) {
      this.stop();
      return { status: 'timeout', by: String(error) };
    }
  }

  /**
   * @param {object} question
   * @param {number} patienceMs
   * @param {(test: Tried) => void} [onTest]
   * @returns {Promise<any>}
   */
  #ask(question, patienceMs, onTest) {
    // It may have ended by itself, for want of memory.
    if (this.#loads >= mostLoads || this.#child?.connected === false) this.stop();
    this.#loads += 1;
    this.#child ??= fork(processFile, {
      execArgv: ['--max-old-space-size=3000', '--disable-warning=ExperimentalWarning'],
      stdio: ['ignore', 'ignore', this.#state.trials === null ? 'inherit' : 'ignore', 'ipc'],
    });
    const child = this.#child;
    return new Promise((resolve, reject) => {
      const timer = Number.isFinite(patienceMs)
        ? setTimeout(() => reject(new Error('endless')), patienceMs)
        : undefined;
      child.removeAllListeners();
      child.on('message', (/** @type {any} */ message) => {
        if (message.kind === 'test') return onTest?.(message);
        clearTimeout(timer);
        resolve(message);
      });
      child.on('exit', () => {
        clearTimeout(timer);
        reject(new Error('the process ended'));
      });
      child.send({ file: this.#bundle, ...question });
    });
  }

  stop() {
    this.#child?.removeAllListeners();
    this.#child?.kill('SIGKILL');
    this.#child = null;
    this.#loads = 0;
  }

  #save() {
    writeFileSync(this.#stateFile, JSON.stringify(this.#state));
  }
}

/** @param {Mutant} mutant */
function keyOf({ file, lineNumber, id, found, replacement }) {
  return [file, lineNumber, id, found, replacement].join('|');
}
