// The rig's host at work: a process that takes timelines by one named pipe and answers by another. A hunt has to ask
// and wait in one breath, and so the pipes are read and written here without an event loop.
import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { closeSync, constants, openSync, readSync, writeSync } from 'node:fs';
import path from 'node:path';
import { setTimeout } from 'node:timers/promises';
import {
  type Ask,
  earlyFailure,
  type Failure,
  openReply,
  type ReplyReader,
  type RigRun,
  rigNumbers,
  rigRun,
} from '../../rig/index.js';
import type { Experiment } from '../../sim/index.js';
import { systemCode } from '../host/system-code.js';
import { temporaryFolder } from '../host/temporary-folder.js';
import type { CompiledFirmware, ProcessCommand } from './compile-firmware.js';

export interface RigAsk extends Ask {
  /** Of real time, for the whole timeline, in whole seconds. */
  readonly limitSeconds: number;
}

/** A compiled firmware, ready to run. Started again where a run has ended it. */
export interface Rig {
  /** Without giving way to anything else meanwhile. */
  run(experiment: Experiment, ask: RigAsk): RigRun;
  /** @param at called now and then with the time that has passed in the timeline. */
  runInSteps(experiment: Experiment, ask: RigAsk, at?: (atMs: number) => void): Promise<RigRun>;
  close(): void;
}

interface Host {
  readonly child: ChildProcess;
  /** The firmware, where it is a program of its own. */
  readonly process: ChildProcess | null;
  readonly asks: number;
  readonly answers: number;
}

const { O_RDONLY, O_WRONLY, O_RDWR, O_NONBLOCK } = constants;
/** Guards of its own end one that does not come to its first wake: this is for one without them. */
const startMs = 30_000;
/** The host keeps to its own limit; this is for one that cannot. */
const graceSeconds = 10;
const pieceBytes = 1 << 16;

export function openRig(firmware: CompiledFirmware): Rig {
  let host: Host | null = null;
  let early: Failure | null = null;
  /** A firmware that computes without end is given less time to do so again. */
  let loops = false;
  let hasStarted = false;
  /** What static initialisers of the firmware do wrong, where they do. */
  const started = (): Host | Failure => {
    if (early !== null) return early;
    if (host !== null) return host;
    const begun = start(firmware, hasStarted);
    hasStarted = true;
    if ('child' in begun) host = begun;
    else early = begun;
    return begun;
  };
  const stop = (): void => {
    if (host !== null) end(host);
    host = null;
  };
  process.once('exit', stop);
  const runNow = (experiment: Experiment, ask: RigAsk, careful = false): RigRun => {
    const running = started();
    if (!('child' in running)) return unbegun(experiment, running);
    const exchange = begin(running, experiment, { ...ask, careful, loops });
    while (!exchange.step()) sleepSync(exchange.pauseMs());
    return finish(exchange, experiment, careful ? null : ask);
  };
  /** @param again null: this was the second try. */
  const finish = (exchange: Exchange, experiment: Experiment, again: RigAsk | null): RigRun => {
    const run = rigRun(exchange.reader.reply(), experiment);
    if (run.failure?.kind === 'endless-loop') loops = true;
    const kind = run.failure?.kind;
    // Nobody knows what a process does now that was left in the middle of something.
    const isLost = firmware.process !== null && run.failure !== null;
    if (isLost || kind === 'broke-the-rig') stop();
    if (kind !== 'broke-the-rig') return run;
    // What the host had not yet written went with it: once more, with every wake written at once, tells when it was.
    return again === null ? run : runNow(experiment, { ...again, wakes: true }, true);
  };
  return {
    run: (experiment, ask) => runNow(experiment, ask),
    async runInSteps(experiment, ask, at) {
      const running = started();
      if (!('child' in running)) return unbegun(experiment, running);
      const exchange = begin(running, experiment, { ...ask, careful: false, loops });
      while (!exchange.step()) {
        at?.(exchange.reader.reply().lastMs);
        await setTimeout(exchange.pauseMs());
      }
      return finish(exchange, experiment, ask);
    },
    close() {
      stop();
      process.off('exit', stop);
      firmware.remove();
    },
  };
}

function unbegun(experiment: Experiment, failure: Failure): RigRun {
  return { ...rigRun(openReply(experiment.world.lengthMs).reply(), experiment), failure };
}

const waitingRoom = new Int32Array(new SharedArrayBuffer(4));

function sleepSync(ms: number): void {
  Atomics.wait(waitingRoom, 0, 0, ms);
}

/** @returns what went wrong in a program that does not come as far as to open its pipes. */
function start({ program, process: command }: CompiledFirmware, isAgain: boolean): Host | Failure {
  const folder = temporaryFolder();
  const talk = command === null ? null : startProcess(command, folder.path, isAgain);
  const [askPath, answerPath] = ['asks', 'answers'].map((name) => path.join(folder.path, name));
  try {
    if (askPath === undefined || answerPath === undefined) throw new Error('two pipes have names');
    const made = spawnSync('mkfifo', ['-m', '600', askPath, answerPath]);
    if (made.status !== 0) throw new Error(`mkfifo: ${made.stderr.toString('utf8')}`);
    const answers = openSync(answerPath, O_RDONLY | O_NONBLOCK);
    // Open from the start: it reports there what goes wrong before it opens its pipes, and its end shows.
    const early = openSync(answerPath, O_WRONLY);
    // A group of its own: whatever a firmware starts ends with it. No environment: it would show on the stack.
    const child = spawn(program, [askPath, answerPath], {
      cwd: folder.path,
      detached: true,
      env: {},
      stdio: ['ignore', 'ignore', 'ignore', early, ...(talk?.ends ?? [])],
    });
    for (const fd of talk?.ends ?? []) closeSync(fd);
    child.on('error', () => undefined);
    child.unref();
    closeSync(early);
    const asks = openWhenRead(askPath, answers);
    const talking = talk?.child ?? null;
    if (typeof asks === 'number') return { child, process: talking, asks, answers };
    if (talking !== null) killGroup(talking);
    closeSync(answers);
    killGroup(child);
    return asks;
  } finally {
    // Both ends are open: the names are needed no longer.
    folder.remove();
  }
}

interface Talk {
  readonly child: ChildProcess;
  /** What the host reads from, and writes to. */
  readonly ends: readonly [number, number];
}

/**
 * Both pipes have a reader and a writer from the start, so that nobody waits for another to open one.
 * @param isAgain it has been started before: what it reports as it ends has been seen once.
 */
function startProcess(
  { command, folder, environment }: ProcessCommand,
  pipes: string,
  isAgain: boolean,
): Talk {
  const [toPath, fromPath] = [path.join(pipes, 'to-process'), path.join(pipes, 'from-process')];
  const made = spawnSync('mkfifo', ['-m', '600', toPath, fromPath]);
  if (made.status !== 0) throw new Error(`mkfifo: ${String(made.stderr)}`);
  const [toBoth, fromBoth] = [openSync(toPath, O_RDWR), openSync(fromPath, O_RDWR)];
  const [toRead, toWrite] = [openSync(toPath, O_RDONLY), openSync(toPath, O_WRONLY)];
  const [fromRead, fromWrite] = [openSync(fromPath, O_RDONLY), openSync(fromPath, O_WRONLY)];
  const child = spawn('sh', ['-c', command], {
    cwd: folder,
    detached: true,
    env: environment,
    stdio: [toRead, fromWrite, isAgain ? 'ignore' : 'inherit'],
  });
  child.on('error', () => undefined);
  child.unref();
  for (const fd of [toBoth, fromBoth, toRead, fromWrite]) closeSync(fd);
  return { child, ends: [fromRead, toWrite] };
}

/** Opens a pipe for writing as soon as the other side has it open; or what became of the other side. */
function openWhenRead(file: string, answers: number): number | Failure {
  const untilMs = performance.now() + startMs;
  const failure = new Float64Array(2);
  for (;;) {
    try {
      return openSync(file, O_WRONLY | O_NONBLOCK);
    } catch (error) {
      if (systemCode(error) !== 'ENXIO') throw error;
    }
    const count = unlessBusy(() => readSync(answers, failure, 0, failure.byteLength, null), -1);
    const [code = 0, detail = 0] = failure;
    if (count >= 0) return earlyFailure(count === failure.byteLength ? { code, detail } : null);
    if (performance.now() > untilMs) return earlyFailure(null);
    sleepSync(0.2);
  }
}

function end({ child, process: talking, asks, answers }: Host): void {
  // First, before its input ends: that is no error of the firmware, and it would report one.
  if (talking !== null) killGroup(talking);
  closeSync(asks);
  closeSync(answers);
  killGroup(child);
}

function killGroup(child: ChildProcess): void {
  if (child.pid === undefined) return;
  try {
    process.kill(-child.pid, 'SIGKILL');
  } catch {
    // It is gone already.
  }
}

/** One timeline being asked for and answered. */
interface Exchange {
  readonly reader: ReplyReader;
  /** Goes on as far as can be without waiting. True: it is over. */
  step(): boolean;
  /** How long to wait before the next step. */
  pauseMs(): number;
}

function begin(
  host: Host,
  experiment: Experiment,
  ask: RigAsk & { readonly careful: boolean; readonly loops: boolean },
): Exchange {
  const reader = openReply(experiment.world.lengthMs);
  const numbers = rigNumbers(experiment, ask);
  const head = Float64Array.of(
    numbers.length,
    ask.limitSeconds,
    ask.careful ? 1 : 0,
    ask.loops ? 1 : 0,
  );
  let toWrite = Buffer.concat([bytesOf(head), bytesOf(numbers)]);
  const untilMs = performance.now() + (ask.limitSeconds + graceSeconds) * 1_000;
  const piece = Buffer.alloc(pieceBytes);
  let kept = 0;
  let idle = 0;
  const write = (): boolean => {
    while (toWrite.length > 0) {
      const written = unlessBusy(() =>
        writeSync(host.asks, toWrite, 0, Math.min(toWrite.length, pieceBytes)),
      );
      if (written === 0) return false;
      toWrite = toWrite.subarray(written);
      idle = 0;
    }
    return true;
  };
  /** True: over. */
  const read = (): boolean => {
    for (;;) {
      const count = unlessBusy(
        () => readSync(host.answers, piece, kept, pieceBytes - kept, null),
        -1,
      );
      if (count < 0) return false;
      if (count === 0) return true;
      idle = 0;
      const all = kept + count;
      const whole = all - (all % 8);
      const over = reader.push(
        new Float64Array(Uint8Array.prototype.slice.call(piece, 0, whole).buffer),
      );
      piece.copyWithin(0, whole, all);
      kept = all - whole;
      if (over) return true;
    }
  };
  return {
    reader,
    step() {
      try {
        if (write() && read()) return true;
      } catch (error) {
        // The host is gone: nobody reads any more.
        if (systemCode(error) === 'EPIPE') return true;
        throw error;
      }
      return performance.now() > untilMs;
    },
    pauseMs() {
      idle += 1;
      return Math.min(10, 0.05 * idle);
    },
  };
}

function bytesOf(numbers: Float64Array): Buffer {
  return Buffer.from(numbers.buffer, numbers.byteOffset, numbers.byteLength);
}

/** @param busy in place of a result while the other side is not ready. */
function unlessBusy(work: () => number, busy = 0): number {
  try {
    return work();
  } catch (error) {
    if (systemCode(error) === 'EAGAIN') return busy;
    throw error;
  }
}
