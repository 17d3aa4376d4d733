// `dozewatch emit` at work.

import { readFile } from 'node:fs/promises';
import path from 'node:path';
import { plain, shellWord } from '../../base/index.js';
import {
  cFiles,
  isCName,
  mermaidText,
  mostCStates,
  outlineOf,
  scxmlText,
  writtenBy,
} from '../../emit/index.js';
import { watchText } from '../../wording/index.js';
import type { Style } from '../command.js';
import type { ExitStatus, Io } from '../host/io.js';
import { refuseStdout } from '../host/outputs.js';
import { writeDiagnostics } from '../host/write-diagnostics.js';
import { refuseUnfitOutputs, writeOutput } from '../host/write-output.js';
import { type LoadedWatch, loadWatch } from '../inputs/load-watch.js';
import { nextLine, watchWords } from '../layout/next-line.js';
import { paintFor } from '../layout/paint.js';
import { print } from '../layout/print.js';
import { paragraphText } from '../layout/table-text.js';
import { endingOf, pngPicture, unknownPicture } from '../layout/write-picture.js';
import { problem } from '../problem.js';
import type { EmitOptions } from './options.js';

type Language = 'c' | 'scxml' | 'diagram';

interface Written {
  readonly name: string;
  readonly content: string | Uint8Array;
}

/** @throws InputProblem for a watch that cannot be believed, and for files that cannot be written. */
export async function emit(
  language: Language,
  options: EmitOptions,
  on: { readonly io: Io; readonly style: Style },
): Promise<ExitStatus> {
  const { io } = on;
  checkOptions(language, options);
  const watch = await loadWatch(options.config, io);
  await writeDiagnostics(watch.warnings, { io, paint: paintFor('stderr', on) });
  const files = await filesOf(language, watch, options, io);
  const inFolder = language === 'c' ? ({ inFolder: true } as const) : {};
  const outputs = files.map(({ name }) => ({ option: '--output', file: name, ...inFolder }));
  await refuseUnfitOutputs(outputs, { inputs: [options.config], io });
  if (options.force !== true) {
    for (const { name } of files) await refuseForeign(language, name, io);
  }
  const [first] = files;
  if (first?.name === '-') {
    await io.stdout.write(first.content);
    return 0;
  }
  for (const { name, content } of files) await writeOutput(name, [content], io, inFolder);
  const names = files.map(({ name }) => name);
  if (options.json === true) {
    const facts = { schema: 'dozewatch/emit/1', language, written: names };
    await io.stdout.write(`${JSON.stringify(facts, null, 2)}\n`);
  } else {
    await print(io, names.map((name) => `Wrote ${plain(name)}\n`).join(''));
    const text = `${plain(watch.name ?? 'The defaults')}: ${watchText(watch.watchFile)}.`;
    await print(io, paragraphText(text, io.stdout.columns));
    const glue = names.find((name) => name.endsWith('_rig.c'));
    if (language === 'c' && glue !== undefined) {
      const words = ['rig', glue, '--hunt', ...watchWords(watch.name, { ...options })];
      await print(io, nextLine('try it, with the example of firmware around it', words));
    }
  }
  return 0;
}

/** @throws InputProblem for options that do not fit what is to be written. */
function checkOptions(language: Language, options: EmitOptions): void {
  const { output = '-', name, format, dark, width, json } = options;
  const foreign =
    language === 'diagram'
      ? name !== undefined && '--name'
      : (format !== undefined && '--format') ||
        (dark === true && '--dark') ||
        (width !== undefined && '--width') ||
        (language === 'scxml' && name !== undefined && '--name');
  if (foreign !== false) {
    throw problem('option-not-for-this', foreign, {
      message: `emit ${language} does not have this option`,
      hint: 'leave it out, or see dozewatch emit --help',
    });
  }
  if (language !== 'c' && json === true) refuseStdout('--output', output);
  if (language !== 'c' || output !== '-') return;
  throw problem('output-needed', '--output', {
    message: 'emit c writes three files and needs a folder for them',
    expected: '-o with the name of a folder',
    hint: 'for the current folder, add -o .',
  });
}

async function filesOf(
  language: Language,
  watch: LoadedWatch,
  options: EmitOptions,
  io: Io,
): Promise<readonly Written[]> {
  const origin = watch.name === null ? 'the defaults' : path.basename(watch.name);
  const name = options.output ?? '-';
  switch (language) {
    case 'c':
      return cFilesOf(watch, { ...options, origin });
    case 'scxml':
      return [{ name, content: scxmlText(watch.program, origin) }];
    case 'diagram':
      return [{ name, content: await diagramOf(watch, { ...options, origin }, io) }];
  }
}

function cFilesOf(
  watch: LoadedWatch,
  options: EmitOptions & { readonly origin: string },
): readonly Written[] {
  const { name: prefix = 'watch', output = '-', origin } = options;
  if (!isCName(prefix)) {
    throw problem('bad-name', '--name', {
      message: 'C names cannot begin with this',
      found: prefix,
      expected: 'a small letter, then small letters, digits and _, at most 31 characters',
    });
  }
  const isHere = output === '-' || output === '.' || path.isAbsolute(output);
  const folder = isHere ? '' : output.endsWith('/') ? output : `${output}/`;
  // What is emitted is made to be shared: it names no folder of this machine.
  const { name } = watch;
  const config = name === null ? '' : shellWord(path.isAbsolute(name) ? path.basename(name) : name);
  const files = cFiles(watch.program, {
    prefix,
    origin,
    config,
    folder,
    joinWaitMs: watch.watchFile.timing.joinWaitMs,
    bootMs: watch.watchFile.timing.bootTime,
  });
  if (files === null) {
    throw problem('too-many-states', watch.name ?? 'the defaults', {
      message: 'this watch has too many states for its C tables',
      expected: `at most ${String(mostCStates)} states`,
      hint: 'lower outOf, clearThreshold or retry.attempts in the watch file',
    });
  }
  return files.map(({ name, text }) => ({ name: path.join(output, name), content: text }));
}

async function diagramOf(
  watch: LoadedWatch,
  options: EmitOptions & { readonly origin: string },
  io: Io,
): Promise<string | Uint8Array> {
  const { output = '-', format, width: widthPx, dark, origin: file } = options;
  const outline = outlineOf(watch.program);
  const isText = format === undefined && /\.(?:mmd|mermaid)$/iu.test(output);
  if (isText || format === 'mermaid') return mermaidText(outline);
  const { stateDiagram } = await import('../../chart/index.js');
  const theme = dark === true ? 'dark' : 'light';
  const svg = stateDiagram({ outline, file, widthPx, theme });
  const picture = format ?? endingOf(output, ['svg', 'png']);
  if (picture === null) throw unknownPicture(output, '.svg, .png or .mmd');
  if (picture === 'svg') return svg;
  return pngPicture(output, svg, io);
}

/** @throws InputProblem where a file stands that somebody wrote by hand. */
async function refuseForeign(language: Language, file: string, io: Io): Promise<void> {
  // Pictures are overwritten as chart overwrites them.
  if (language === 'diagram' || file === '-') return;
  let text: string;
  try {
    text = await readFile(path.resolve(io.folder, file), 'utf8');
  } catch {
    // What cannot be read is not there, or the attempt to write will tell.
    return;
  }
  if (text.slice(0, 200).includes(writtenBy)) return;
  throw problem('file-exists', file, {
    message: 'this file exists and is not from emit, so nothing was written',
    hint: 'choose another place or name, or overwrite it with --force',
  });
}
