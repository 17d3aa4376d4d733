// A picture into a file: SVG, or PNG where the name asks for it.

import type { Io } from '../host/io.js';
import { writeOutput } from '../host/write-output.js';
import { problem } from '../problem.js';

type PictureFormat = 'svg' | 'png';

/** @throws InputProblem when the name of the file does not tell. */
export function pictureFormat(file: string): PictureFormat {
  const format = endingOf(file, ['svg', 'png']);
  if (format !== null) return format;
  throw unknownPicture(file, 'a name that ends in .svg or .png');
}

/** The format that a name asks for, SVG for standard output; null: none of these. */
export function endingOf<Format extends string>(
  file: string,
  formats: readonly (Format | 'svg')[],
): Format | 'svg' | null {
  if (file === '-') return 'svg';
  const ending = /\.(?<ending>[a-z]+)$/iu.exec(file)?.groups?.['ending']?.toLowerCase();
  return formats.find((format) => format === ending) ?? null;
}

export function unknownPicture(file: string, expected: string) {
  const message = 'its name does not tell what kind of picture this is to be';
  return problem('unknown-picture', file, { message, expected });
}

/**
 * @param file `-` for standard output.
 * @param format when the name is not to decide.
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
