// `dozewatch emit` at work.
import { readFile } from 'node:fs/promises';
import path from 'node:path';
import { cBanner, cFiles, isCName, mostCStates } from '../../emit/index.js';
import type { Style } from '../commands/command.js';
import { writeFileAtomically } from '../host/atomic-file.js';
import type { ExitStatus, Io } from '../host/io.js';
import { writeDiagnostics } from '../host/write-diagnostics.js';
import { plain } from '../present/plain.js';
import { problem } from '../problem.js';
import { type LoadedWatch, loadWatch } from './load-watch.js';
import { paintFor } from './paint-for.js';

export interface EmitOptions {
  readonly config?: string | undefined;
  readonly output: string;
  readonly name: string;
  readonly force?: true | undefined;
  readonly json?: true | undefined;
}

const mostWarnings = 20;

/** @throws InputProblem for a watch that cannot be believed, and for files that cannot be written. */
export async function emit(
  language: 'c',
  options: EmitOptions,
  on: { readonly io: Io; readonly style: Style },
): Promise<ExitStatus> {
  const { io } = on;
  if (!isCName(options.name)) {
    throw problem('bad-name', '--name', {
      message: 'C names cannot begin with this',
      found: options.name,
      expected: 'a small letter, then small letters, digits and _, 31 at most',
    });
  }
  const watch = await loadWatch(options.config, io);
  await writeDiagnostics(watch.warnings, { io, paint: paintFor('stderr', on), most: mostWarnings });
  const files = filesOf(watch, options.name);
  const written = files.map(({ name, text }) => ({
    name: path.join(options.output, name),
    text,
  }));
  if (options.force !== true) {
    for (const { name } of written) await refuseForeign(name, io);
  }
  for (const { name, text } of written) await writeFileAtomically(name, [text], io);
  const names = written.map(({ name }) => name);
  if (options.json === true) {
    const facts = { schema: 'dozewatch/emit/1', language, written: names };
    await io.stdout.write(`${JSON.stringify(facts, null, 2)}\n`);
  } else await io.stdout.write(names.map((name) => `Wrote ${plain(name)}\n`).join(''));
  return 0;
}

function filesOf(watch: LoadedWatch, prefix: string) {
  const origin = watch.name === null ? 'the defaults' : path.basename(watch.name);
  const files = cFiles(watch.program, { prefix, origin });
  if (files !== null) return files;
  throw problem('too-many-states', watch.name ?? 'the defaults', {
    message: 'this watch has more states than its tables can number',
    expected: `${String(mostCStates)} or fewer`,
    hint: 'a smaller outOf, clearThreshold or number of attempts makes fewer',
  });
}

/** @throws InputProblem where a file stands that somebody wrote by hand. */
async function refuseForeign(file: string, io: Io): Promise<void> {
  let text: string;
  try {
    text = await readFile(path.resolve(io.folder, file), 'utf8');
  } catch {
    // What cannot be read is not there, or the attempt to write will tell.
    return;
  }
  if (text.slice(0, 200).includes(cBanner)) return;
  throw problem('file-exists', file, {
    message: 'this file is there already, emit did not write it, and nothing was written',
    hint: 'choose another folder or --name, or overwrite it with --force',
  });
}
