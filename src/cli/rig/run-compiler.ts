// Runs a compiler: keeps its output, and stops it when this process ends.

import { type ChildProcess, spawn } from 'node:child_process';
import { mostCompileMs } from '../../model/index.js';
import { systemCode } from '../host/system-code.js';

/** How a compiler ended. */
export interface Ended {
  /** Null: a signal ended it. */
  readonly status: number | null;
  /** What it had to say. */
  readonly text: string;
  /** Why it was not run at all, as the system's code; null: it was. */
  readonly notRun: string | null;
  /** Ended for want of time. */
  readonly tookTooLong: boolean;
}

export interface CompilerPlace {
  /** Where it runs. */
  readonly folder: string;
  /** Where its own temporary files go. */
  readonly temporary: string;
  readonly environment: Readonly<Record<string, string | undefined>>;
}

const mostText = 200_000;

/** Compilers have helpers: a group of its own ends with them. */
const running = new Set<ChildProcess>();
let listens = false;

function endGroup(child: ChildProcess): void {
  if (child.pid === undefined) return;
  try {
    process.kill(-child.pid, 'SIGKILL');
  } catch {
    // It is gone already.
  }
}

function listen(): void {
  if (listens) return;
  listens = true;
  // Before their folder goes.
  process.prependOnceListener('exit', () => {
    for (const child of running) endGroup(child);
  });
}

/** Runs a compiler with its arguments to its end. */
export function runCompiler(
  [compiler = 'cc', ...args]: readonly string[],
  { folder, temporary, environment }: CompilerPlace,
  mostMs = mostCompileMs,
): Promise<Ended> {
  return new Promise((resolve, reject) => {
    listen();
    const child = spawn(compiler, args, {
      cwd: folder,
      env: { ...environment, TMPDIR: temporary },
      stdio: ['ignore', 'pipe', 'pipe'],
      detached: true,
    });
    running.add(child);
    let text = '';
    let tookTooLong = false;
    const timer = setTimeout(() => {
      tookTooLong = true;
      endGroup(child);
    }, mostMs);
    const over = (): void => {
      clearTimeout(timer);
      running.delete(child);
    };
    const take = (chunk: Buffer): void => {
      if (text.length < mostText) text += chunk.toString('utf8');
    };
    child.stdout.on('data', take);
    child.stderr.on('data', take);
    child.once('error', (error) => {
      over();
      const code = systemCode(error);
      if (code === undefined) reject(error);
      else resolve({ status: null, text: '', notRun: code, tookTooLong });
    });
    child.once('close', (status) => {
      over();
      resolve({ status, text, notRun: null, tookTooLong });
    });
  });
}
