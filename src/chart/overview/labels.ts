// Where words and numbers stand in an overview. What went wrong gets its words first; nothing is printed over
// anything else, and what finds no room goes without.
import { roundedDurationText } from '../../base/index.js';
import type { Scene } from '../scene.js';
import { tagPx } from '../tag.js';
import { textWidth } from '../text.js';
import { type WordRow, wordRow } from '../word-row.js';
import type { Geometry } from './geometry.js';
import type { Mark } from './mark-list.js';
import { type OutageKind, outageNames, outageSpans } from './outages.js';
import { partsOf } from './rows.js';
import { worstPieces } from './worst.js';

/** Words, a number in a box, or both. */
export interface Label {
  readonly x: number;
  /** Middle of the line. */
  readonly y: number;
  readonly sizePx: number;
  readonly tag: string | null;
  /** Left edge of the words. */
  readonly wordsX: number;
  readonly words: string;
  readonly class: string;
}

export function labelsOf(scene: Scene, geometry: Geometry, marks: readonly Mark[]): Label[] {
  const rows = geometry.rows.rows.map(() => wordRow(0, geometry.plotPx));
  const wrong = marks.filter(({ order }) => order <= 3);
  for (const { row, x, y, r } of geometry.roomy ? marks : wrong) {
    const sameLine = Math.abs(y - lineY(geometry, row)) < r;
    if (sameLine) rows[row]?.block(x - r, x + r);
  }
  if (!geometry.roomy && scene.worst !== null) {
    const { fromMs, durationMs } = scene.verdict.openings.at(scene.worst.opening);
    for (const part of partsOf(geometry.rows, { fromMs, toMs: fromMs + durationMs })) {
      rows[part.row]?.block(part.from * geometry.plotPx, part.to * geometry.plotPx);
    }
  }
  const forMarks = (chosen: (mark: Mark) => boolean): Label[] =>
    marks.filter(chosen).flatMap((mark) => markLabel(mark, geometry, rows[mark.row]) ?? []);
  return [
    ...forMarks(({ order }) => order <= 1),
    ...forMarks(({ order }) => order > 1),
    ...worstLabel(scene, geometry, rows),
    ...(geometry.roomy ? outageLabels(scene, geometry, rows) : []),
  ];
}

/** Middle of the line of words of a row. */
function lineY({ rowPx, markY }: Geometry, row: number): number {
  return row * rowPx + markY;
}

function markLabel(mark: Mark, geometry: Geometry, row: WordRow | undefined): Label | null {
  const { tag, x, r, textClass } = mark;
  const words = geometry.roomy ? mark.words : '';
  if ((tag === null && words === '') || row === undefined) return null;
  const tagRoom = tag === null ? 0 : tagPx(tag);
  const gap = tag === null || words === '' ? 0 : 4;
  const whole = tagRoom + gap + textWidth(words, { sizePx: 11, bold: true });
  const beside = (width: number): number[] => [x + r + 4, x - r - 4 - width];
  const label = { y: lineY(geometry, mark.row), sizePx: 11, tag, class: `dw-bold ${textClass}` };
  const at = row.place(beside(whole), whole);
  if (at !== null) return { ...label, x: at, wordsX: at + tagRoom + gap, words };
  const alone = tag === null || words === '' ? null : row.place(beside(tagRoom), tagRoom);
  return alone === null ? null : { ...label, x: alone, wordsX: alone, words: '' };
}

/** Beside the dimension of the worst detection latency. */
function worstLabel(scene: Scene, geometry: Geometry, rows: readonly WordRow[]): Label[] {
  const { worst } = scene;
  const piece = worst === null ? undefined : worstPieces(worst, geometry)[0];
  if (worst === null || piece === undefined) return [];
  const words = `worst ${roundedDurationText(worst.delayMs, 'at most')}`;
  const sizePx = geometry.fontPx;
  const width = textWidth(words, { sizePx, bold: true });
  const { fromMs, durationMs } = scene.verdict.openings.at(worst.opening);
  const bar = partsOf(geometry.rows, { fromMs, toMs: fromMs + durationMs })[0];
  const afterBar = (bar?.to ?? 0) * geometry.plotPx + 5;
  const before = piece.fromX - 4 - width;
  const edges = [piece.toX + 4, Math.max(piece.toX + 4, afterBar), before, before - 24];
  // Under a roomy bar nothing else is printed; in thin rows the words share the row's line.
  const row = geometry.roomy ? wordRow(0, geometry.plotPx) : rows[piece.row];
  const x = row?.place(edges, width) ?? null;
  if (x === null) return [];
  const y = geometry.roomy ? piece.y : lineY(geometry, piece.row);
  return [{ x, y, sizePx, tag: null, wordsX: x, words, class: 'dw-bold dw-halo' }];
}

function outageLabels(scene: Scene, geometry: Geometry, rows: readonly WordRow[]): Label[] {
  const kinds: readonly OutageKind[] = ['power', 'network'];
  return kinds.flatMap((kind) => {
    const words = outageNames[kind];
    const width = textWidth(words, { sizePx: 11 });
    return outageSpans(scene, kind).flatMap((span): Label[] => {
      const part = partsOf(geometry.rows, span)[0];
      if (part === undefined) return [];
      const left = part.from * geometry.plotPx;
      const right = part.to * geometry.plotPx;
      const x = rows[part.row]?.place([left, right - width, left - width], width) ?? null;
      if (x === null) return [];
      const y = part.row * geometry.rowPx + geometry.barY - 7;
      return [{ x, y, sizePx: 11, tag: null, wordsX: x, words, class: `dw-t-${kind}` }];
    });
  });
}
