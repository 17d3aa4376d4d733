// The owner's firmware and the rig's host, compiled together into a program for this machine.

import { spawn } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import path from 'node:path';
import { plain } from '../../base/index.js';
import { retainedVariables, type Variable } from '../../rig/index.js';
import { problem } from '../problem.js';
import type { Io } from './io.js';
import { readProblem, systemCode } from './read-text.js';
import { shippedPath } from './shipped.js';
import { temporaryFolder } from './temporary-folder.js';

export interface CompiledFirmware {
  /** The program; it lies in a temporary folder. */
  readonly program: string;
  /** What the compiler had to say. */
  readonly warnings: string;
  /** What it retains, by name; null where the program does not tell. */
  retained(): readonly Variable[] | null;
  /** Takes the folder away. */
  remove(): void;
}

/** Longer than any firmware takes to compile. */
const mostCompileMs = 120_000;
const mostText = 200_000;

/** Array bounds and stack protectors cost next to nothing, and name what would else be a riddle. */
const options = [
  '-O1',
  '-Wall',
  '-Wextra',
  // The cause of a wake is a parameter that many a firmware has no use for.
  '-Wno-unused-parameter',
  '-fsanitize=bounds',
  '-fsanitize-undefined-trap-on-error',
  '-fstack-protector-strong',
  '-ffp-contract=off',
  // Tells names and types of retained variables, in the form that is read here.
  ...(process.platform === 'darwin' ? [] : ['-g', '-gdwarf-4']),
];

const howToGetOne =
  'install one: apt install gcc (Debian, Ubuntu), dnf install gcc (Fedora), apk add gcc musl-dev (Alpine), ' +
  'xcode-select --install (macOS); or name another by CC (CXX for C++)';

/** @throws InputProblem without a compiler, and for what cannot be read or does not compile. */
export async function compileFirmware(file: string, io: Io): Promise<CompiledFirmware> {
  if (process.platform === 'win32') {
    throw problem('needs-posix', file, {
      message: 'the rig runs firmware on POSIX systems only, such as Linux, and this is Windows',
      hint: 'run it in a Linux virtual machine or container (WSL is one)',
    });
  }
  const isCpp = /\.(?:cpp|cc|cxx|c\+\+)$/iu.test(file);
  if (!isCpp && !/\.c$/iu.test(file)) {
    throw problem('unknown-format', file, {
      message: 'its name does not tell what language this firmware is in',
      expected: 'a name that ends in .c, or in .cpp, .cc or .cxx for C++',
    });
  }
  await readFile(path.resolve(io.folder, file)).catch((error: unknown) => {
    throw readProblem(file, error);
  });
  const folder = temporaryFolder();
  try {
    const warnings = await compileInto(folder.path, { file, isCpp, io });
    const program = path.join(folder.path, 'rig');
    return {
      program,
      warnings,
      retained: () => retainedVariables(readFileSync(program)),
      remove: () => folder.remove(),
    };
  } catch (error) {
    folder.remove();
    throw error;
  }
}

async function compileInto(
  folder: string,
  { file, isCpp, io }: { readonly file: string; readonly isCpp: boolean; readonly io: Io },
): Promise<string> {
  const source = path.resolve(io.folder, file);
  const host = shippedPath(path.join('assets', 'rig', 'host.c'));
  const include = `-I${path.dirname(host)}`;
  const [cc, cxx] = [wordsOf(io, 'CC', 'cc'), wordsOf(io, 'CXX', 'c++')];
  const at = (name: string): string => path.join(folder, name);
  const program = at('rig');
  const end = ['-o', program, ...(process.platform === 'darwin' ? [] : ['-Wl,-z,now'])];
  if (!isCpp) {
    return run(cc, [...options, include, source, host, ...end], { file, folder, io });
  }
  const [fromFirmware] = await Promise.all([
    run(cxx, [...options, include, '-c', source, '-o', at('firmware.o')], { file, folder, io }),
    run(cc, [...options, include, '-c', host, '-o', at('host.o')], { file, folder, io }),
  ]);
  const linked = await run(cxx, [at('firmware.o'), at('host.o'), ...end], { file, folder, io });
  return fromFirmware + linked;
}

/** A compiler as the environment names it: perhaps with options. */
function wordsOf({ environment }: Io, name: string, usual: string): readonly string[] {
  const words = (environment[name] ?? '').split(/\s+/u).filter((word) => word !== '');
  return words.length === 0 ? [usual] : words;
}

async function run(
  [compiler = 'cc', ...first]: readonly string[],
  args: readonly string[],
  on: { readonly file: string; readonly folder: string; readonly io: Io },
): Promise<string> {
  const { status, text, missing } = await output(compiler, [...first, ...args], on);
  if (missing) {
    throw problem('no-compiler', on.file, {
      message: 'there is no C compiler to compile this firmware with',
      found: compiler,
      hint: howToGetOne,
    });
  }
  if (status === 0) return text;
  await on.io.stderr.write(plainLines(text));
  throw problem('does-not-compile', on.file, {
    message: 'this firmware does not compile: the compiler says why above',
    hint: hintFor(text),
  });
}

/** As the compiler gives it, but for what would command a terminal. */
export function plainLines(text: string): string {
  return `${text.trimEnd().split('\n').map(plain).join('\n')}\n`;
}

function hintFor(text: string): string {
  if (/undefined (?:reference|symbol)[^\n]*dw_wake/iu.test(text)) {
    return 'a firmware defines void dw_wake(dw_cause cause)';
  }
  if (/multiple definition[^\n]*main|duplicate symbol[^\n]*main/iu.test(text)) {
    return 'a firmware has no main: the rig calls dw_wake at each wake';
  }
  return 'dozewatch rig --help says where the header lies';
}

function output(
  compiler: string,
  args: readonly string[],
  { folder, io }: { readonly folder: string; readonly io: Io },
): Promise<{ readonly status: number | null; readonly text: string; readonly missing: boolean }> {
  return new Promise((resolve, reject) => {
    // Its own temporary files go with the folder.
    const env = { ...io.environment, TMPDIR: folder };
    const child = spawn(compiler, args, {
      cwd: io.folder,
      env,
      stdio: ['ignore', 'pipe', 'pipe'],
      timeout: mostCompileMs,
    });
    let text = '';
    const take = (chunk: Buffer): void => {
      if (text.length < mostText) text += chunk.toString('utf8');
    };
    child.stdout.on('data', take);
    child.stderr.on('data', take);
    child.once('error', (error) => {
      if (systemCode(error) === 'ENOENT') resolve({ status: null, text: '', missing: true });
      else reject(error);
    });
    child.once('close', (status) => {
      resolve({ status, text, missing: false });
    });
  });
}
