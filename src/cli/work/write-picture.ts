// A picture into a file: SVG, or PNG where the name asks for it.
import { writeFileAtomically } from '../host/atomic-file.js';
import type { Io } from '../host/io.js';
import { problem } from '../problem.js';

/** @throws InputProblem when the name of the file does not tell. */
export function pictureFormat(file: string): 'svg' | 'png' {
  if (file === '-' || /\.svg$/iu.test(file)) return 'svg';
  if (/\.png$/iu.test(file)) return 'png';
  throw problem('unknown-picture', file, {
    message: 'its name does not tell what kind of picture this is to be',
    expected: 'a name that ends in .svg or .png',
  });
}

/** @param file `-` for standard output, as SVG. @throws InputProblem when it cannot be written. */
export async function writePicture(file: string, svg: string, io: Io): Promise<void> {
  const format = pictureFormat(file);
  if (file === '-') await io.stdout.write(svg);
  else if (format === 'svg') await writeFileAtomically(file, [svg], io);
  else {
    const { pngOf } = await import('../host/png.js');
    await writeFileAtomically(file, [await pngOf(svg)], io);
  }
}
