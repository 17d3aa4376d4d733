// Runs the command line in this process, in a folder of its own, with streams that are kept.
import { mkdirSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { onTestFinished } from 'vitest';
import type { Io, Out } from '../../src/cli/host/io.js';
import { UsedFiles } from '../../src/cli/host/used-files.js';
import { run } from '../../src/cli/run.js';

export interface Ran {
  readonly status: number;
  readonly stdout: string;
  readonly stderr: string;
}

export interface Scene {
  readonly stdin?: string | Uint8Array;
  readonly environment?: Readonly<Record<string, string>>;
  /** Both output streams are terminals of this width. */
  readonly terminalColumns?: number;
  readonly io?: Partial<Io>;
}

/** A folder for one test, gone when the test is over. */
export function ownFolder(files: Readonly<Record<string, string | Uint8Array>> = {}): string {
  const folder = mkdtempSync(path.join(tmpdir(), 'dozewatch-test-'));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  for (const [name, content] of Object.entries(files)) {
    mkdirSync(path.dirname(path.join(folder, name)), { recursive: true });
    writeFileSync(path.join(folder, name), content);
  }
  return folder;
}

/** Runs `dozewatch` with its arguments in a folder. */
export async function runHere(
  folder: string,
  args: readonly string[],
  scene: Scene = {},
): Promise<Ran> {
  const written = { stdout: '', stderr: '' };
  const status = await run(args, ioOf(folder, scene, written));
  return { status, ...written };
}

/** The machine as one test sees it: what is written to the streams is added to `written`. */
export function ioOf(
  folder: string,
  scene: Scene = {},
  written: { stdout: string; stderr: string } = { stdout: '', stderr: '' },
): Io {
  const out = (to: 'stdout' | 'stderr'): Out => ({
    isTerminal: scene.terminalColumns !== undefined,
    columns: scene.terminalColumns ?? 100,
    write(text) {
      written[to] += typeof text === 'string' ? text : new TextDecoder().decode(text);
      return Promise.resolve();
    },
  });
  return {
    stdout: out('stdout'),
    stderr: out('stderr'),
    stdin: chunked(scene.stdin ?? ''),
    folder,
    used: new UsedFiles(),
    environment: scene.environment ?? {},
    now: () => Date.UTC(2026, 4, 8, 4),
    elapsed: () => 0,
    ...scene.io,
  };
}

/** Standard input in pieces of a few bytes, so that every piece border is met. */
function chunked(content: string | Uint8Array): AsyncIterable<Uint8Array> {
  const bytes = typeof content === 'string' ? new TextEncoder().encode(content) : content;
  const size = 7;
  return (async function* () {
    for (let at = 0; at < bytes.length; at += size) yield bytes.subarray(at, at + size);
    await Promise.resolve();
  })();
}

/** Arguments with more of them: an option that is given again takes the place of the earlier one. */
export function withOptions(args: readonly string[], more: readonly string[]): readonly string[] {
  const kept = args.filter((arg, at) => {
    const option = arg.startsWith('-') ? arg : (args[at - 1] ?? '');
    return !option.startsWith('-') || !more.includes(option);
  });
  return [...kept, ...more];
}

/** Files of a folder and its folders, for seeing that nothing was left behind. */
export function filesIn(folder: string): string[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => path.relative(folder, path.join(entry.parentPath, entry.name)))
    .sort((a, b) => (a < b ? -1 : 1));
}

/** The stable code of each diagnostic on the error stream, in order. */
export function codesIn(stderr: string): string[] {
  return Array.from(
    stderr.matchAll(/^(?:error|warning): .* \[([a-z0-9-]+)\]$/gmu),
    ([, code]) => code ?? '',
  );
}
