// Attacks every kind of input and every law for as long as you give it: `npm run soak -- [minutes or 20s] [seed]`.
// Work is done in a process of its own, which is ended when one job takes too long: that is a find, too.
//
//   --output FOLDER   where the first failure is written (else the system's folder for temporary files)
//   --replay FILE     does the job of a failure again
//   --no-growth       leaves out what measures time
import { fork } from 'node:child_process';
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { parseArgs } from 'node:util';
import { ensureInstalled, root } from './support/set-up.mjs';

/** Longer than any job of a loaded machine. */
const longestJobMs = 300_000;

/** @typedef {import('../tests/soak/work.js').Told} Told */
/** @typedef {import('../tests/soak/jobs.js').Done} Done */

/**
 * Starts the working half. @param {readonly string[]} args @param {(told: Told) => void} hear
 */
function start(args, hear) {
  const child = fork(path.join(root, 'tests', 'soak', 'work.ts'), args, {
    cwd: root,
    execArgv: ['--import', 'tsx'],
    serialization: 'advanced',
  });
  child.on('message', (/** @type {Told} */ told) => hear(told));
  return child;
}

/**
 * @param {readonly string[]} args
 * @param {{ until: number, folder: string, seed: string }} on
 */
async function watch(args, { until, folder, seed }) {
  /** @type {Map<string, number>} */
  const counts = new Map();
  /** @type {Done[]} */
  const failures = [];
  /** @type {{ index: number, again: Done['again'] } | null} */
  let running = null;
  let begunMs = Date.now();
  let next = 0;
  const ended = await new Promise((resolve) => {
    const listen = (/** @type {Told} */ told) => {
      begunMs = Date.now();
      if (told.kind === 'begins') {
        running = told;
        return;
      }
      running = null;
      next = told.index + 1;
      const { done } = told;
      counts.set(done.kind, (counts.get(done.kind) ?? 0) + 1);
      if (done.faults.length > 0) fail(done);
    };
    /** @param {Done} done */
    const fail = (done) => {
      failures.push(done);
      if (failures.length <= 20) console.log(`FAILED  ${done.kind}: ${done.faults.join('\n  ')}\n`);
    };
    let child = start(args, listen);
    const ended = (/** @type {number | null} */ code) => {
      clearInterval(timer);
      resolve(code);
    };
    child.on('exit', ended);
    const timer = setInterval(() => {
      if (Date.now() > until) {
        child.kill('SIGKILL');
        return;
      }
      if (running === null || Date.now() - begunMs < longestJobMs) return;
      fail({
        kind: 'too long',
        again: running.again,
        faults: [`job ${String(running.index)} does not end`],
      });
      next = running.index + 1;
      running = null;
      child.off('exit', ended);
      child.kill('SIGKILL');
      child = start(['work', seed, String(next)], listen);
      child.on('exit', ended);
    }, 200);
  });
  if (ended !== null && ended !== 0) failures.push(crash(ended, running));
  report(counts, failures, { folder, seed });
}

/** @param {number} code @param {{ index: number, again: Done['again'] } | null} running @returns {Done} */
function crash(code, running) {
  const again = running?.again ?? { kind: 'case', seed: '', index: -1 };
  return { kind: 'crash', again, faults: [`the process ended with ${String(code)}`] };
}

/**
 * @param {ReadonlyMap<string, number>} counts
 * @param {readonly Done[]} failures
 * @param {{ folder: string, seed: string }} on
 */
function report(counts, failures, { folder, seed }) {
  const kinds = [...counts].sort(([a], [b]) => (a < b ? -1 : 1));
  for (const [kind, count] of kinds) console.log(`${String(count).padStart(8)}  ${kind}`);
  const all = kinds.reduce((sum, [, count]) => sum + count, 0);
  console.log(`soak: seed ${seed}, ${String(all)} jobs, ${String(failures.length)} failed`);
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
    throw new Error(`soak: ${text} is no time: write 20s, 10 or 10m (minutes), or 1h`);
  return (
    Number(digits) * { s: 1_000, m: 60_000, h: 3_600_000 }[/** @type {'s' | 'm' | 'h'} */ (unit)]
  );
}

await ensureInstalled();
const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    output: { type: 'string', default: path.join(tmpdir(), 'dozewatch-soak') },
    replay: { type: 'string' },
    'no-growth': { type: 'boolean', default: false },
  },
});
const [minutes = '10', seed = String(Date.now())] = positionals;
if (values.replay === undefined) {
  const until = Date.now() + lasting(minutes);
  await watch(['work', seed, '0'], { until, folder: values.output, seed });
} else {
  /** @type {Done} */
  const done = JSON.parse(readFileSync(values.replay, 'utf8'));
  const until = Number.POSITIVE_INFINITY;
  await watch(['again', JSON.stringify(done.again)], { until, folder: values.output, seed });
}
