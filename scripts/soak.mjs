// Attacks every kind of input and every law for as long as you give it: `npm run soak -- [minutes or 20s] [seed]`.
// Work is done in a process of its own, which is ended when one job takes too long: that is a find, too.
//
//   --jobs N          ends after N jobs, whatever the time: the same work on every machine
//   --output FOLDER   where the first failure is written (else the system's folder for temporary files)
//   --replay FILE     does the job of a failure again
//   --no-growth       leaves out what measures time
import { fork } from 'node:child_process';
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { parseArgs } from 'node:util';
import { PlainError } from './support/require-tool.mjs';
import { ensureInstalled, root } from './support/set-up.mjs';

/** Longer than any job of a loaded machine. */
const longestJobMs = 300_000;
/** Failures that are printed; all are counted. */
const mostShown = 20;

/** @typedef {import('../tests/soak/work.js').Told} Told */
/** @typedef {import('../tests/soak/jobs.js').Done} Done */

/**
 * Starts the working half. @param {readonly string[]} args @param {(told: Told) => void} hear
 */
function start(args, hear) {
  const child = fork(path.join(root, 'tests', 'soak', 'work.ts'), args, {
    cwd: root,
    // Relative to `cwd`; and room for what simulated lives leave, as for the tests.
    execArgv: ['--max-semi-space-size=64', '--import', './scripts/support/typescript.mjs'],
    serialization: 'advanced',
  });
  child.on('message', (/** @type {Told} */ told) => hear(told));
  return child;
}

/**
 * What a soak has found so far.
 * @typedef {object} Found
 * @property {Map<string, number>} counts of jobs, by their kind
 * @property {number} reasons
 * @property {Done[]} failures
 */

/** @param {Found} found @param {Done} done */
function take(found, done) {
  found.counts.set(done.kind, (found.counts.get(done.kind) ?? 0) + 1);
  found.reasons += done.reasons;
  if (done.faults.length === 0) return;
  found.failures.push(done);
  if (found.failures.length > mostShown) return;
  console.log(`FAILED  ${done.kind}: ${done.faults.join('\n  ')}\n`);
}

/**
 * Lets one process work until it ends, takes too long over a job, or the time is up.
 * @param {readonly string[]} args
 * @param {Found} found
 * @param {{ untilMs: number | null }} clock set when the first job begins
 * @param {{ lastingMs: number, jobs: number }} limits of the whole soak
 * @returns {Promise<number | null>} the number of the job to go on with; null: the time is up, or all is done
 */
function oneProcess(args, found, clock, { lastingMs, jobs }) {
  return new Promise((resolve) => {
    /** @type {{ index: number, again: Done['again'] } | null} */
    let running = null;
    let begunMs = Date.now();
    const child = start(args, (told) => {
      begunMs = Date.now();
      clock.untilMs ??= begunMs + lastingMs;
      running = told.kind === 'begins' ? told : null;
      if (told.kind !== 'done') return;
      take(found, told.done);
      if (told.index + 1 >= jobs) {
        clock.untilMs = 0;
        child.kill('SIGKILL');
      }
    });
    /** @type {string | null} */
    let why = null;
    const timer = setInterval(() => {
      if (clock.untilMs !== null && Date.now() > clock.untilMs) child.kill('SIGKILL');
      else if (running !== null && Date.now() - begunMs > longestJobMs) {
        why = 'the job does not end';
        child.kill('SIGKILL');
      }
    }, 200);
    child.on('exit', (code) => {
      clearInterval(timer);
      const isOver = clock.untilMs !== null && Date.now() > clock.untilMs;
      if (why === null && (isOver || code === 0)) {
        resolve(null);
        return;
      }
      const faults = [why ?? `the process ended with ${String(code)}`];
      if (running === null) throw new Error(`soak: ${faults.join(' ')}`);
      take(found, { kind: 'without an end', again: running.again, faults, reasons: 0 });
      resolve(running.index + 1);
    });
  });
}

/**
 * @param {Found} found
 * @param {{ folder: string, seed: string }} on
 */
function report({ counts, reasons, failures }, { folder, seed }) {
  const kinds = [...counts].sort(([a], [b]) => (a < b ? -1 : 1));
  for (const [kind, count] of kinds) console.log(`${String(count).padStart(8)}  ${kind}`);
  const jobs = kinds.reduce((sum, [, count]) => sum + count, 0);
  console.log(
    `soak: seed ${seed}: ${String(jobs)} jobs, ${String(reasons)} reasons, ${String(failures.length)} failed`,
  );
  const [first] = failures;
  if (first === undefined) return;
  process.exitCode = 1;
  mkdirSync(folder, { recursive: true });
  const file = path.join(folder, `dozewatch-soak-${seed.replaceAll(/\W/g, '_')}.json`);
  writeFileSync(file, `${JSON.stringify(first, null, 2)}\n`);
  console.log(`The first is in ${file}. To see it again: npm run soak -- --replay ${file}`);
}

/** @param {string} text `20s`, `5`, `5m` @returns {number} milliseconds */
function lasting(text) {
  const [, digits = '', unit = 'm'] = /^(\d+(?:\.\d+)?)(s|m|h)?$/.exec(text) ?? [];
  if (digits === '')
    throw new PlainError(`soak: ${text} is not a time: write 20s, 10 or 10m (minutes), or 1h`);
  return (
    Number(digits) * { s: 1_000, m: 60_000, h: 3_600_000 }[/** @type {'s' | 'm' | 'h'} */ (unit)]
  );
}

/** The job of a failure, from its file. @param {string} file @returns {unknown} */
function jobIn(file) {
  let text;
  try {
    text = readFileSync(file, 'utf8');
  } catch (error) {
    throw new PlainError(`soak: ${file} cannot be read: ${String(error)}`);
  }
  try {
    const { again } = JSON.parse(text);
    if (again?.kind === 'command' || again?.kind === 'case') return again;
  } catch {
    // Not even JSON.
  }
  throw new PlainError(
    `soak: ${file} is not the file of a failure: give the one that a soak named`,
  );
}

async function main() {
  await ensureInstalled();
  const { values, positionals } = parseArgs({
    allowPositionals: true,
    options: {
      output: { type: 'string', default: path.join(tmpdir(), 'dozewatch-soak') },
      replay: { type: 'string' },
      jobs: { type: 'string', default: 'Infinity' },
      'no-growth': { type: 'boolean', default: false },
    },
  });
  const { output, replay } = values;
  const [minutes = '10', seed = String(Date.now())] = positionals;
  const clock = { untilMs: null };
  /** @type {Found} */
  const found = { counts: new Map(), reasons: 0, failures: [] };
  if (replay !== undefined) {
    await oneProcess(['again', JSON.stringify(jobIn(replay))], found, clock, {
      lastingMs: Infinity,
      jobs: Infinity,
    });
    reportAgain(found);
    return;
  }
  const limits = { lastingMs: lasting(minutes), jobs: Number(values.jobs) };
  if (!(limits.jobs > 0)) throw new PlainError('soak: --jobs needs a count, such as --jobs 150');
  const growth = values['no-growth'] ? 'no-growth' : 'growth';
  /** @type {number | null} */
  let next = 0;
  while (next !== null) {
    next = await oneProcess(['work', seed, String(next), growth], found, clock, limits);
  }
  report(found, { folder: output, seed });
}

/** @param {Found} found of one job */
function reportAgain({ failures }) {
  if (failures.length > 0) process.exitCode = 1;
  console.log(failures.length > 0 ? 'soak: it fails again' : 'soak: it does not fail any more');
}

try {
  await main();
} catch (error) {
  process.exitCode = 1;
  console.error(error instanceof PlainError ? error.message : error);
}
