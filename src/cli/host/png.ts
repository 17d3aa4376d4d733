// SVG to PNG with the font of the package, so that the same picture gives the same bytes on any machine. Only a picture
// with letters that this font lacks (it has Latin, Greek and Cyrillic) is drawn with the fonts of the machine as well.
import { createRequire } from 'node:module';
import { type RenderedImage, type ResvgRenderOptions, renderAsync } from '@resvg/resvg-js';

const require = createRequire(import.meta.url);

type FontOptions = NonNullable<ResvgRenderOptions['font']>;

/** Pixels of the picture for each pixel of the drawing: sharp on a fine screen, and in print. */
const zoom = 2;

const ownFonts = {
  loadSystemFonts: false,
  fontFiles: [
    require.resolve('@expo-google-fonts/inter/400Regular/Inter_400Regular.ttf'),
    require.resolve('@expo-google-fonts/inter/600SemiBold/Inter_600SemiBold.ttf'),
  ],
  defaultFontFamily: 'Inter',
} satisfies FontOptions;

const systemFonts = { ...ownFonts, loadSystemFonts: true } satisfies FontOptions;

/** The letters that are tried; a picture with more distinct ones is drawn with the machine's fonts all the same. */
const mostLetters = 2_000;

/** A sign of the package's font in place of a letter that no font has, and of what cannot be printed at all. */
const noLetter = '□';

export interface Png {
  readonly picture: Uint8Array;
  /** Letters that no font of this machine has: a sign is drawn in their place. */
  readonly missing: readonly string[];
}

export async function pngOf(drawing: string): Promise<Png> {
  const svg = drawing.replaceAll('\ufffd', noLetter);
  const strange = await lettersMissing(lettersOf(svg), ownFonts);
  if (strange.length === 0) return { picture: await drawn(svg, ownFonts), missing: [] };
  const missing = await lettersMissing(strange, systemFonts);
  // One letter without a font would keep the rest of its text from being drawn in a font of the machine.
  const text = withSigns(svg, new Set(missing));
  return { picture: await drawn(text, systemFonts), missing };
}

/** What joins a pictograph with the next one, or chooses its look, goes with it. */
function withSigns(svg: string, without: ReadonlySet<string>): string {
  let wasReplaced = false;
  return Array.from(svg, (letter) => {
    if (wasReplaced && (letter === '\u200d' || letter === '\ufe0f')) return '';
    wasReplaced = without.has(letter);
    return wasReplaced ? noLetter : letter;
  }).join('');
}

async function drawn(svg: string, font: FontOptions): Promise<Uint8Array> {
  const image = await renderAsync(svg, { fitTo: { mode: 'zoom', value: zoom }, font });
  return image.asPng();
}

/** The letters beyond ASCII in a drawing, each once; spaces, and marks that combine with another letter, are not looked at. */
function lettersOf(svg: string): readonly string[] {
  const found = new Set(svg.match(/[^\p{ASCII}\p{M}\p{Cf}\p{Z}]/gu));
  return [...found].slice(0, mostLetters);
}

const cellPx = 40;

/**
 * The letters that no font in use has: each is drawn in a cell of its own and looks like a letter that does not exist, or like
 * nothing: a font has coloured pictures of it, which are not drawn.
 */
async function lettersMissing(
  letters: readonly string[],
  font: FontOptions,
): Promise<readonly string[]> {
  if (letters.length === 0) return [];
  const cells = [...letters, '\u{10fffd}'];
  const words = cells.map(
    (letter, index) => `<text x="4" y="${String(index * cellPx + 28)}">${letter}</text>`,
  );
  const heightPx = cells.length * cellPx;
  const size = `width="${String(cellPx)}" height="${String(heightPx)}"`;
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" ${size} font-family="Inter" font-size="20">${words.join('')}</svg>`;
  const image = await renderAsync(svg, { font });
  const nothing = cellOf(image, letters.length);
  return letters.filter((_, index) => {
    const cell = cellOf(image, index);
    return cell.equals(nothing) || cell.every((byte) => byte === 0);
  });
}

function cellOf(image: RenderedImage, index: number): Buffer {
  const bytes = image.width * cellPx * 4;
  return image.pixels.subarray(index * bytes, (index + 1) * bytes);
}
