// Text in a picture: made safe for XML, measured without a font at hand, cut and wrapped to what there is room for.

import { nameOfFile } from '../base/index.js';

/** Advance widths of Inter Regular from U+0020 to U+007E, in thousandths of the font size; digits as tabular ones. */
const asciiWidths = [
  281, 288, 466, 633, 642, 982, 644, 300, 365, 365, 501, 662, 288, 460, 288, 360, 640, 640, 640,
  640, 640, 640, 640, 640, 640, 640, 302, 302, 662, 662, 662, 511, 966, 690, 654, 730, 722, 601,
  590, 746, 743, 269, 571, 672, 565, 903, 753, 765, 639, 765, 644, 642, 646, 744, 690, 985, 682,
  679, 629, 365, 360, 365, 471, 456, 323, 562, 612, 571, 612, 583, 370, 613, 591, 242, 242, 549,
  242, 876, 591, 600, 612, 612, 376, 528, 327, 591, 562, 818, 546, 562, 552, 426, 333, 426, 662,
];
const otherWidth = 700;
/** Scripts and pictographs that fill a square. */
const wideWidth = 1_100;
const wideChars =
  /[\u1100-\u115f\u2e80-\ua4cf\uac00-\ud7a3\uf900-\ufaff\ufe30-\ufe6f\uff00-\uff60\u{1f000}-\u{3ffff}]/u;
const combiningChars = /\p{M}/u;

/** The SemiBold cut is wider by this much; the system's own font, where Inter is missing, by a little too. */
const boldFactor = 1.06;

export interface Font {
  readonly sizePx: number;
  readonly bold?: boolean;
}

/** Characters that XML 1.0 forbids, lone halves of surrogate pairs, and marks that turn the writing direction. */
const unprintable =
  /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069\ud800-\udfff\ufffe\uffff]/gu;

/** Text from a file, fit to stand in a picture: one line, and a replacement sign for what cannot be printed. */
export function printable(text: string): string {
  return text.replace(/\s+/gu, ' ').trim().replace(unprintable, '\ufffd');
}

/** The name of a file without its folders, fit to be drawn. */
export function fileNameOf(file: string): string {
  return printable(nameOfFile(file));
}

function charWidth(char: string): number {
  const code = char.codePointAt(0) ?? 0;
  const known = asciiWidths[code - 0x20];
  if (known !== undefined) return known;
  if (combiningChars.test(char)) return 0;
  return wideChars.test(char) ? wideWidth : otherWidth;
}

/** About how wide a text is drawn. */
export function textWidth(text: string, { sizePx, bold = false }: Font): number {
  let width = 0;
  for (const char of text) width += charWidth(char);
  return (width * sizePx * (bold ? boldFactor : 1)) / 1_000;
}

/** The text itself, or as much of it as fits with an ellipsis at its end. */
export function cutText(text: string, widthPx: number, font: Font): string {
  if (textWidth(text, font) <= widthPx) return text;
  const room = widthPx - textWidth('…', font);
  let kept = '';
  let width = 0;
  for (const char of text) {
    width += textWidth(char, font);
    if (width > room) break;
    kept += char;
  }
  return `${kept.trimEnd()}…`;
}

/** At most `mostLines` lines, broken at spaces where there are any; the last one is cut. */
export function wrapText(
  text: string,
  widthPx: number,
  { font, mostLines }: { readonly font: Font; readonly mostLines: number },
): string[] {
  const lines: string[] = [];
  let line = '';
  const words = text.split(' ');
  for (const [index, word] of words.entries()) {
    const longer = line === '' ? word : `${line} ${word}`;
    if (textWidth(longer, font) <= widthPx) {
      line = longer;
      continue;
    }
    if (lines.length === mostLines - 1 || (line === '' && textWidth(word, font) > widthPx)) {
      const rest = [line, ...words.slice(index)].filter((part) => part !== '').join(' ');
      return [...lines, cutText(rest, widthPx, font)];
    }
    // A word alone on its line may still be too long.
    if (line !== '') lines.push(cutText(line, widthPx, font));
    line = word;
  }
  return line === '' ? lines : [...lines, cutText(line, widthPx, font)];
}
