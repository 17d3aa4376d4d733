// Writes a picture to a file, as SVG or PNG by its name.

import { counted, type Diagnostic } from '../../base/index.js';
import { unpainted } from '../../wording/index.js';
import type { Io } from '../host/io.js';
import { writeDiagnostics } from '../host/write-diagnostics.js';
import { writeOutput } from '../host/write-output.js';
import { problem } from '../problem.js';

type PictureFormat = 'svg' | 'png';

/** @throws InputProblem when the name of the file does not end in one of them. */
export function pictureFormat(file: string): PictureFormat {
  const format = endingOf(file, ['svg', 'png']);
  if (format !== null) return format;
  throw unknownPicture(file, '.svg or .png');
}

/** The format in a file name, SVG for standard output; null: none of these. */
export function endingOf<Format extends string>(
  file: string,
  formats: readonly (Format | 'svg')[],
): Format | 'svg' | null {
  if (file === '-') return 'svg';
  const ending = /\.(?<ending>[a-z]+)$/iu.exec(file)?.groups?.['ending']?.toLowerCase();
  return formats.find((format) => format === ending) ?? null;
}

/** @param endings such as `.svg or .png`. @param hint another way to name the format. */
export function unknownPicture(file: string, endings: string, hint?: string) {
  const message = `the file name must end in ${endings}`;
  return problem('unknown-picture', file, hint === undefined ? { message } : { message, hint });
}

/**
 * @param file `-` for standard output.
 * @param format overrides the name.
 * @throws InputProblem when it cannot be written.
 */
export async function writePicture(
  file: string,
  svg: string,
  io: Io,
  format: PictureFormat = pictureFormat(file),
): Promise<void> {
  const picture = format === 'png' ? await pngPicture(file, svg, io) : svg;
  if (file === '-') await io.stdout.write(picture);
  else await writeOutput(file, [picture], io);
}

/** A picture as PNG, with a warning where no font of this machine has some of its letters. */
export async function pngPicture(file: string, svg: string, io: Io): Promise<Uint8Array> {
  const { pngOf } = await import('../host/png.js');
  const { picture, missing } = await pngOf(svg);
  if (missing.length > 0) {
    await writeDiagnostics([missingLetters(file, missing)], { io, paint: unpainted, most: 1 });
  }
  return picture;
}

/** Letters that a warning names; the rest is counted. */
const mostNamed = 8;

function missingLetters(file: string, missing: readonly string[]): Diagnostic {
  const named = missing.slice(0, mostNamed).join(' ');
  const rest = missing.length - mostNamed;
  const more = rest > 0 ? ` and ${counted(rest, 'more letter')}` : '';
  return {
    code: 'letters-without-font',
    severity: 'warning',
    source: { file },
    message: `no font on this machine can draw ${named}${more}; a sign is in their place`,
    hint: 'install a font with outlines of them, or write an .svg, which a browser draws with its own fonts',
  };
}
