// Runs the command line in this process, with streams that are kept: for laws in tests and for the soak, which runs
// without a test runner.
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { Out } from '../../../src/cli/host/io.js';
import { UsedFiles } from '../../../src/cli/host/used-files.js';
import { run } from '../../../src/cli/run.js';

export interface Ran {
  readonly args: readonly string[];
  readonly status: number;
  readonly stdout: string;
  readonly stderr: string;
}

/** A folder that is gone when its work is done. */
export async function inOwnFolder<T>(
  files: Readonly<Record<string, string | Uint8Array>>,
  work: (folder: string) => Promise<T>,
): Promise<T> {
  const folder = mkdtempSync(path.join(tmpdir(), 'dozewatch-laws-'));
  try {
    for (const [name, content] of Object.entries(files)) {
      mkdirSync(path.dirname(path.join(folder, name)), { recursive: true });
      writeFileSync(path.join(folder, name), content);
    }
    return await work(folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Runs `dozewatch` with its arguments in a folder. */
export async function runIn(
  folder: string,
  args: readonly string[],
  stdin: string | Uint8Array = '',
): Promise<Ran> {
  const written = { stdout: '', stderr: '' };
  const out = (to: 'stdout' | 'stderr'): Out => ({
    isTerminal: false,
    columns: 100,
    write(text) {
      written[to] += typeof text === 'string' ? text : new TextDecoder().decode(text);
      return Promise.resolve();
    },
  });
  const status = await run(args, {
    stdout: out('stdout'),
    stderr: out('stderr'),
    stdin: whole(stdin),
    folder,
    used: new UsedFiles(),
    // The C compiler finds its parts by the path.
    environment: { PATH: process.env['PATH'] ?? '' },
    now: () => Date.UTC(2026, 4, 8, 4),
    elapsed: () => 0,
  });
  return { args, status, ...written };
}

async function* whole(content: string | Uint8Array): AsyncGenerator<Uint8Array> {
  yield typeof content === 'string' ? new TextEncoder().encode(content) : content;
  await Promise.resolve();
}
