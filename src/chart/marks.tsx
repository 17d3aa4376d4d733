// Marks of alerts and of leave-opens, the same wherever they stand.
import type { VNode } from 'preact';
import type { AlertKind, OpeningOutcome } from '../verdict/index.js';
import { Shape, type Title } from './drawing.js';
import { alarmDiamond, circle, cross, type Glyph, square, triangleLeft } from './glyphs.js';

const alertGlyphs: Readonly<Record<AlertKind, Glyph>> = {
  true: circle,
  early: triangleLeft,
  false: alarmDiamond,
  repeat: (x, y, r) => circle(x, y, r * 0.62),
  unknown: (x, y, r) => square(x, y, r * 0.8),
};

const outcomeGlyphs: Readonly<Record<Exclude<OpeningOutcome, 'brief' | 'reported'>, Glyph>> = {
  late: square,
  undecided: square,
  unknown: square,
  missed: cross,
  unpowered: cross,
};

/** The path of an alert's mark. */
export function alertGlyph(kind: AlertKind): Glyph {
  return alertGlyphs[kind];
}

export function outcomeGlyph(outcome: keyof typeof outcomeGlyphs): Glyph {
  return outcomeGlyphs[outcome];
}

export interface Place {
  readonly x: number;
  readonly y: number;
  readonly r: number;
  readonly title?: Title;
}

/** An alert where it was decided; hollow when it never arrived. */
export function AlertMark({
  x,
  y,
  r,
  title,
  kind,
  delivered,
}: Place & { readonly kind: AlertKind; readonly delivered: boolean }): VNode {
  const hollow = delivered ? '' : ' dw-unsent';
  return (
    <Shape class={`dw-mark dw-m-${kind}${hollow}`} d={alertGlyph(kind)(x, y, r)} title={title} />
  );
}

export function OutcomeMark({
  x,
  y,
  r,
  title,
  outcome,
}: Place & { readonly outcome: keyof typeof outcomeGlyphs }): VNode {
  const mark = (
    <Shape class={`dw-mark dw-m-${outcome}`} d={outcomeGlyph(outcome)(x, y, r)} title={title} />
  );
  if (outcome !== 'missed') return mark;
  // A disc behind it lifts the cross off its own hatched bar.
  return (
    <g>
      <Shape class="dw-disc" d={circle(x, y, r * 1.4)} />
      {mark}
    </g>
  );
}
