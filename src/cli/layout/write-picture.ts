// Writes a picture to a file, as SVG or PNG by its name.

import type { Io } from '../host/io.js';
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
  let picture: string | Uint8Array = svg;
  if (format === 'png') {
    const { pngOf } = await import('../host/png.js');
    picture = await pngOf(svg);
  }
  if (file === '-') await io.stdout.write(picture);
  else await writeOutput(file, [picture], io);
}
