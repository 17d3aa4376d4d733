// The owner's firmware and the rig's host, compiled together into a program for this machine.

import { spawnSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { readFile, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { plain } from '../../base/index.js';
import { mostStartMs } from '../../model/index.js';
import { longOnes, retainedVariables, type Variable, wordBitsOf } from '../../rig/index.js';
import type { Io } from '../host/io.js';
import { readProblem } from '../host/read-text.js';
import { shippedPath } from '../host/shipped.js';
import { temporaryFolder } from '../host/temporary-folder.js';
import { problem } from '../problem.js';
import { type Ended, runCompiler } from './run-compiler.js';

/** A firmware that is a program of its own. */
export interface ProcessCommand {
  /** For a shell. */
  readonly command: string;
  readonly folder: string;
  readonly environment: Readonly<Record<string, string | undefined>>;
}

export interface CompiledFirmware {
  /** The program; it lies in a temporary folder. */
  readonly program: string;
  /** The messages of a compiler that succeeded. */
  readonly warnings: string;
  /** What it retains, by name; null where the program does not tell. */
  retained(): readonly Variable[] | null;
  /** Names of its variables that hold a `long`. */
  longOnes(): readonly string[];
  /** Of `long` and pointers, in bits. */
  readonly wordBits: number;
  /** The firmware, where it is a program of its own that the compiled one talks to. */
  readonly process: ProcessCommand | null;
  /** Takes the folder away. */
  remove(): void;
}

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
  '-U_FORTIFY_SOURCE',
  // Tells names and types of retained variables, in the form that is read here. And addresses are the same in each
  // run: a firmware that looks at one does the same each time.
  ...(process.platform === 'darwin' ? [] : ['-g', '-gdwarf-4', '-fno-pie']),
];

const libraries = ['-lm', ...(process.platform === 'darwin' ? [] : ['-no-pie', '-Wl,-z,now'])];

/** For the firmware only: the libraries check their arguments, such as a text that is too long for its array. */
const checkedLibraries = [
  ...(process.platform === 'darwin' ? [] : ['-D_FORTIFY_SOURCE=2']),
  '-D_GLIBCXX_ASSERTIONS',
];

const howToGetOne =
  'install one: apt install gcc (Debian, Ubuntu), dnf install gcc (Fedora), apk add gcc musl-dev (Alpine), ' +
  'xcode-select --install (macOS); or set CC (CXX for C++) to another compiler';

/** Where the program does not say. */
const machineBits = process.arch === 'arm' || process.arch === 'ia32' ? 32 : 64;

/** How to compile a firmware besides its first file. */
export interface Build {
  /** More source files. */
  readonly more?: readonly string[];
  /** Folders with headers, and macros such as `NAME` or `NAME=VALUE`. */
  readonly include?: readonly string[];
  readonly define?: readonly string[];
  /** Of `long` and pointers, in bits; undefined: this machine's. */
  readonly wordSize?: 32 | 64 | undefined;
}

const isCppFile = (file: string): boolean => /\.(?:cpp|cc|cxx|c\+\+)$/iu.test(file);

/** Whether a file is one that a compiler takes. */
export function isSource(file: string): boolean {
  return isCppFile(file) || /\.c$/iu.test(file);
}

/** @throws InputProblem without a compiler, and for what cannot be read or does not compile. */
export async function compileFirmware(
  file: string,
  io: Io,
  build: Build = {},
): Promise<CompiledFirmware> {
  if (process.platform === 'win32') {
    throw problem('needs-posix', file, {
      message: 'rig needs a POSIX system such as Linux, and this is Windows',
      hint: 'run it in WSL, in a Linux virtual machine or in a container',
    });
  }
  if (!isSource(file)) {
    throw problem('unknown-format', file, {
      message: 'the file name must end in .c, or in .cpp, .cc or .cxx for C++',
      hint: 'copy it under such a name; what its platform provides goes into a header, as in assets/rig/example/marsh.h',
    });
  }
  for (const one of [file, ...(build.more ?? [])]) {
    io.used.noteRead(path.resolve(io.folder, one));
    await readFile(path.resolve(io.folder, one)).catch((error: unknown) => {
      throw readProblem(one, error);
    });
  }
  return compiledIn((folder) => compileInto(folder, { file, build, io }), null);
}

/** A firmware in any language: a program that speaks the protocol of docs/rig.md on its standard input and output. */
export function processFirmware(command: string, io: Io): Promise<CompiledFirmware> {
  const file = path.join(path.dirname(hostSource()), 'process.c');
  const { folder, environment } = io;
  return compiledIn((into) => compileInto(into, { file, build: {}, io }), {
    command,
    folder,
    environment,
  });
}

/** A firmware that a command of its owner builds. @throws InputProblem where it fails, or makes nothing. */
export function ownBuild(command: string, io: Io): Promise<CompiledFirmware> {
  return compiledIn(async (folder) => {
    const cc = wordsOf(io, 'CC', 'cc');
    const on = { file: command, folder, io };
    const { object, ended } = await hostObject(cc, on);
    await checked(ended, cc, on);
    const [host, made] = [path.join(folder, 'host.o'), path.join(folder, 'rig')];
    await writeFile(host, object);
    const flags = [...options, ...checkedLibraries, `-I${path.dirname(hostSource())}`];
    const ran = await runCompiler(['sh', '-c', command], {
      folder: io.folder,
      temporary: folder,
      environment: {
        ...io.environment,
        DW_FLAGS: flags.join(' '),
        DW_HOST: host,
        DW_LIBS: libraries.join(' '),
        DW_OUT: made,
      },
    });
    const text = plainLines(ran.text);
    if (ran.status === 0 && existsSync(made)) return ran.text;
    if (ran.text.trim() !== '') await io.stderr.write(text);
    throw problem('build-failed', command, {
      message:
        ran.status === 0
          ? 'this build command ended well, but wrote no program to $DW_OUT'
          : 'this build command failed',
      expected: 'a command such as cc $DW_FLAGS main.c $DW_HOST $DW_LIBS -o $DW_OUT',
      hint: 'compile with $DW_FLAGS, link with $DW_HOST as the last object and $DW_LIBS, and write $DW_OUT',
    });
  }, null);
}

async function compiledIn(
  compile: (folder: string) => Promise<string>,
  command: ProcessCommand | null,
): Promise<CompiledFirmware> {
  const folder = temporaryFolder();
  try {
    const warnings = await compile(folder.path);
    const program = path.join(folder.path, 'rig');
    return {
      program,
      warnings,
      process: command,
      retained: () => retainedVariables(readFileSync(program)),
      longOnes: () => longOnes(readFileSync(program)),
      wordBits: wordBitsOf(readFileSync(program)) ?? machineBits,
      remove: () => folder.remove(),
    };
  } catch (error) {
    folder.remove();
    throw error;
  }
}

async function compileInto(
  folder: string,
  { file, build, io }: { readonly file: string; readonly build: Build; readonly io: Io },
): Promise<string> {
  const sources = [file, ...(build.more ?? [])];
  const size = wordOptions(build);
  const cc = [...wordsOf(io, 'CC', 'cc'), ...size];
  const cxx = [...wordsOf(io, 'CXX', 'c++'), ...size];
  const linker = sources.some(isCppFile) ? cxx : cc;
  const on = { file, folder, io };
  for (const compiler of [cc, linker]) checkOptions(compiler);
  const at = (name: string): string => path.join(folder, name);
  const own = [
    `-I${path.dirname(hostSource())}`,
    ...(build.include ?? []).map((one) => `-I${path.resolve(io.folder, one)}`),
    ...(build.define ?? []).map((one) => `-D${one}`),
  ];
  // The folder may go only when both are done with it.
  const [made, host] = await Promise.allSettled([
    Promise.allSettled(
      sources.map((source, index) => {
        const compiler = isCppFile(source) ? cxx : cc;
        const listing = ['-MMD', '-MF', at(`sources-${String(index)}`)];
        const command = [...compiler, ...options, ...checkedLibraries, ...listing, ...own];
        return output([...command, '-c', path.resolve(io.folder, source)], {
          ...on,
          made: at(`firmware-${String(index)}.o`),
        });
      }),
    ),
    hostObject(cc, on),
  ]);
  let said = '';
  for (const [index, ended] of valueOf(made).entries()) {
    const source = sources[index] ?? file;
    const compiler = isCppFile(source) ? cxx : cc;
    said += await checked(valueOf(ended), compiler, { ...on, file: source });
    await noteSources(at(`sources-${String(index)}`), io);
  }
  const { object, ended } = valueOf(host);
  await checked(ended, cc, on);
  await writeFile(at('host.o'), object);
  const parts = [...sources.map((_, index) => at(`firmware-${String(index)}.o`)), at('host.o')];
  const linked = await output([...linker, ...parts, ...libraries], { ...on, made: at('rig') });
  said += await checked(linked, linker, on);
  if (build.wordSize === 32) refuseUnrunnable(at('rig'));
  return said;
}

/** What a shell ends with that takes a program for a script, since the system cannot run it. The host ends with none of these. */
const shellStatuses: readonly (number | null)[] = [2, 126, 127];

/** @throws InputProblem where this machine links programs with words of 32 bits, and cannot run them. */
function refuseUnrunnable(program: string): void {
  const { status } = spawnSync(program, [], { stdio: 'ignore', timeout: mostStartMs, env: {} });
  if (!shellStatuses.includes(status)) return;
  throw problem('word-size-unrunnable', '--word-size', {
    message:
      'this machine compiles for words of 32 bits, but its operating system does not run such programs',
    found: '32',
    hint: 'leave out --word-size and use uint32_t for what has 32 bits on the device, or run the rig on another machine',
  });
}

/** The rig's own arithmetic is that of doubles, which needs these instructions where words have 32 bits. */
function wordOptions({ wordSize }: Build): readonly string[] {
  if (wordSize === undefined) return [];
  return wordSize === 32 ? ['-m32', '-msse2', '-mfpmath=sse'] : ['-m64'];
}

/** What the firmware takes in by #include has been read as well. @param list as a compiler writes it for make. */
async function noteSources(list: string, io: Io): Promise<void> {
  const text = await readFile(list, 'utf8').catch(() => '');
  const names = text.replace(/^[^:]*:/u, '').match(/(?:\\[^\n]|[^\s\\])+/gu) ?? [];
  for (const name of names) {
    io.used.noteRead(path.resolve(io.folder, name.replaceAll(/\\(?<kept>.)/gu, '$<kept>')));
  }
}

/** @throws InputProblem for an option that takes over the memory that the rig itself watches. */
function checkOptions(compiler: readonly string[]): void {
  const found = compiler.find((word) => /^-fsanitize=.*(?:address|leak|memory|thread)/u.test(word));
  if (found === undefined) return;
  throw problem('compiler-option-unfit', compiler[0] ?? '', {
    message: 'the rig restores memory before each wake, which this option does not allow',
    found,
    hint: 'leave it out: the rig reports out-of-bounds access and misuse of the heap without it',
  });
}

/** Runs a compiler. @param made what it is to write: without that it has not done its work. */
async function output(
  command: readonly string[],
  { made, folder, io }: Place & { readonly made: string },
): Promise<Ended> {
  const ended = await runCompiler([...command, '-o', made], {
    folder: io.folder,
    temporary: folder,
    environment: io.environment,
  });
  return ended.status === 0 && !existsSync(made) ? { ...ended, status: null } : ended;
}

function valueOf<T>(settled: PromiseSettledResult<T>): T {
  if (settled.status === 'rejected') throw settled.reason;
  return settled.value;
}

const hostSource = (): string => shippedPath(path.join('assets', 'rig', 'host.c'));

interface HostObject {
  readonly object: Uint8Array;
  readonly ended: Ended;
}

/** The rig's host as each compiler made it: it takes five times as long as a firmware, and is always the same. */
const hostObjects = new Map<string, HostObject>();

async function hostObject(cc: readonly string[], on: Place): Promise<HostObject> {
  const key = JSON.stringify([cc, on.io.environment['PATH']]);
  const known = hostObjects.get(key);
  if (known !== undefined) return known;
  const made = path.join(on.folder, 'host-made.o');
  const ended = await output([...cc, ...options, '-c', hostSource()], { ...on, made });
  if (ended.status !== 0) return { object: new Uint8Array(), ended };
  const host = { object: await readFile(made), ended };
  hostObjects.set(key, host);
  return host;
}

/** A compiler as the environment names it: perhaps with options. */
function wordsOf({ environment }: Io, name: string, usual: string): readonly string[] {
  const words = (environment[name] ?? '').split(/\s+/u).filter((word) => word !== '');
  return words.length === 0 ? [usual] : words;
}

interface Place {
  readonly file: string;
  readonly folder: string;
  readonly io: Io;
}

/** The messages of a compiler that succeeded. */
async function checked(
  { status, text, notRun, tookTooLong }: Ended,
  [compiler = 'cc']: readonly string[],
  { file, io }: Place,
): Promise<string> {
  if (notRun !== null) {
    const message =
      notRun === 'ENOENT'
        ? 'no C compiler was found for this firmware'
        : `the C compiler cannot be run (${notRun})`;
    throw problem('no-compiler', file, { message, found: compiler, hint: howToGetOne });
  }
  if (status === 0) return text;
  if (text.trim() !== '') await io.stderr.write(plainLines(text));
  const links = /undefined (?:reference|symbol)|multiple definition|duplicate symbol/iu.test(text);
  throw problem('does-not-compile', file, {
    message: `this firmware ${links ? 'compiles, but does not link' : 'does not compile'}: ${whyNot(text, tookTooLong)}`,
    ...(text.trim() === '' ? { found: compiler } : {}),
    hint: hintFor(text),
  });
}

function whyNot(text: string, tookTooLong: boolean): string {
  if (tookTooLong) return 'the compiler took more than two minutes';
  return text.trim() === ''
    ? 'the compiler produced no output and gave no reason'
    : "see the compiler's message above";
}

/** The compiler's output with control characters made visible. */
export function plainLines(text: string): string {
  return `${text.trimEnd().split('\n').map(plain).join('\n')}\n`;
}

function hintFor(text: string): string {
  const lines = text.toLowerCase().split('\n');
  const tells = (what: RegExp, name: string): boolean =>
    lines.some((line) => line.includes(name) && what.test(line));
  if (tells(/undefined (?:reference|symbol)/u, 'dw_wake')) {
    return 'define void dw_wake(dw_cause cause) in the firmware; for a program of two functions, one called once and one repeatedly, dozewatch rig --adapter wrapper.c writes it';
  }
  const wrapped = /undefined (?:reference|symbol)\W+(?:to\W+)?_?(?:setup|loop)\b/u;
  if (lines.some((line) => wrapped.test(line))) {
    return 'the wrapper calls setup once and loop repeatedly: name yours with -D ONCE=… -D REPEATED=…';
  }
  if (tells(/multiple definition|duplicate symbol/u, 'main')) {
    return 'remove main from the firmware: rig calls dw_wake at each wake';
  }
  if (tells(/multiple definition|duplicate symbol/u, '')) {
    return 'name each source file once; one that another includes is not named: NAME_rig.c from emit includes NAME.c';
  }
  if (
    lines.some((line) => /bits\/libc-header-start\.h|skipping incompatible|crt1\.o/iu.test(line))
  ) {
    return 'this compiler lacks its 32-bit libraries: apt install gcc-multilib g++-multilib (Debian, Ubuntu), dnf install glibc-devel.i686 libgcc.i686 (Fedora)';
  }
  if (tells(/undefined (?:reference|symbol)/u, '')) {
    return 'name all source files of the firmware one after the other; it can also use dozewatch_rig.h and the C library';
  }
  if (lines.some((line) => /implicit declaration|undeclared|was not declared/u.test(line))) {
    return `correct the name, or include the header that declares it; ${rigHeader()}`;
  }
  return rigHeader();
}

function rigHeader(): string {
  return `dozewatch_rig.h lists what a firmware may call; it is in ${path.dirname(hostSource())}`;
}
