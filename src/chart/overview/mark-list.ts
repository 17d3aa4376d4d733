// Everything that an overview marks, with the words that may stand beside it.
import { roundedDurationText } from '../../base/index.js';
import type { AlertKind, JudgedOpening } from '../../verdict/index.js';
import type { CloseUp } from '../close-ups.js';
import { lookOf } from '../kinds.js';
import { endOf, notableOpenings, type Scene } from '../scene.js';
import { alertTitle, lowBatteryTitle, openingTitle } from '../words.js';
import type { Geometry } from './geometry.js';
import { partsOf, pointOf } from './rows.js';

export type MarkKind =
  | { readonly of: 'alert'; readonly kind: AlertKind; readonly delivered: boolean }
  | { readonly of: 'opening'; readonly outcome: 'missed' | 'late' | 'undecided' | 'unknown' }
  /** A low-battery message, where it was delivered. */
  | { readonly of: 'lowBattery' };

export interface Mark {
  readonly what: MarkKind;
  readonly row: number;
  readonly x: number;
  readonly y: number;
  readonly r: number;
  readonly title: string;
  /** Words for it, where they are worth the room. */
  readonly words: string;
  /** Class that colours them. */
  readonly textClass: string;
  /** Number of its close-up. */
  readonly tag: string | null;
  /** The least are drawn last, over the others, and get their words first. */
  readonly order: number;
}

const alertOrder: Readonly<Record<AlertKind, number>> = {
  false: 1,
  early: 4,
  true: 5,
  repeat: 6,
  unknown: 7,
};
const lowBatteryOrder = 8;
const outcomeOrder = { missed: 0, late: 2, undecided: 3, unknown: 4 } as const;

/** The marks of all alerts, of leave-opens that went wrong, of what is undecided at the end, and of low-battery messages. */
export function marksOf(scene: Scene, geometry: Geometry, closeUps: readonly CloseUp[]): Mark[] {
  const tags = tagsOf(closeUps);
  const place = (atMs: number) => {
    const point = pointOf(geometry.rows, atMs);
    return {
      row: point?.row ?? 0,
      x: (point?.from ?? 0) * geometry.plotPx,
      y: (point?.row ?? 0) * geometry.rowPx + geometry.markY,
    };
  };
  const alerts = scene.verdict.alerts.map((alert, index): Mark => {
    const { kind, decidedMs, deliveredMs } = alert;
    return {
      ...place(decidedMs),
      what: { of: 'alert', kind, delivered: deliveredMs !== null },
      r: geometry.markR * (kind === 'false' ? 1.2 : 1),
      title: alertTitle(scene, alert),
      words: kind === 'false' ? 'false alarm' : '',
      textClass: `dw-t-${kind}`,
      tag: tags.alerts.get(index) ?? null,
      order: alertOrder[kind],
    };
  });
  const openings = notableOpenings(scene).flatMap((index): Mark[] => {
    const judged = scene.verdict.openings.at(index);
    const { fromMs, durationMs } = judged;
    const outcome = lookOf(judged.outcome);
    if (outcome === 'brief' || outcome === 'reported') return [];
    return [
      {
        ...place(fromMs),
        ...(outcome === 'missed' ? {} : onBar(geometry, judged)),
        what: { of: 'opening', outcome },
        r: geometry.markR * (outcome === 'missed' ? 1.1 : 0.9),
        title: openingTitle(scene, index),
        words: `${judged.outcome} ${roundedDurationText(durationMs, 'at least')}`,
        textClass: `dw-t-${outcome}`,
        tag: tags.openings.get(index) ?? null,
        order: outcomeOrder[outcome],
      },
    ];
  });
  const warnings = scene.trace.lowBattery.map(({ deliveredMs }): Mark => {
    return {
      ...place(deliveredMs),
      what: { of: 'lowBattery' },
      r: geometry.markR * 0.8,
      title: lowBatteryTitle(scene, deliveredMs),
      words: 'low battery',
      textClass: 'dw-soft',
      tag: null,
      order: lowBatteryOrder,
    };
  });
  return thinned([...alerts, ...openings, ...warnings], geometry).sort(
    (a, b) => a.order - b.order || a.row - b.row || a.x - b.x,
  );
}

/** Where marks of one kind would cover more than this share of a row, they are drawn smaller: no row becomes a solid block. */
const mostCovered = 0.4;
const leastR = 1.4;

function thinned(marks: readonly Mark[], { plotPx, rows }: Geometry): Mark[] {
  const widest = new Map<string, number>();
  const inRows = new Map<string, Uint32Array>();
  for (const mark of marks) {
    const kind = kindOf(mark);
    const counts = inRows.get(kind) ?? new Uint32Array(rows.rows.length);
    inRows.set(kind, counts);
    counts[mark.row] = (counts[mark.row] ?? 0) + 1;
    widest.set(kind, Math.max(widest.get(kind) ?? 0, counts[mark.row] ?? 0));
  }
  return marks.map((mark) => {
    const room = (mostCovered * plotPx) / (2 * (widest.get(kindOf(mark)) ?? 1));
    return room >= mark.r ? mark : { ...mark, r: Math.max(leastR, room) };
  });
}

function kindOf({ what }: Mark): string {
  return what.of === 'alert' ? what.kind : what.of === 'opening' ? what.outcome : what.of;
}

/** In the middle of the bar: late is milder than missed, and gives the room over the bar to the dimension. */
function onBar(geometry: Geometry, judged: JudgedOpening) {
  const parts = partsOf(geometry.rows, { fromMs: judged.fromMs, toMs: endOf(judged) });
  const part = parts[0];
  if (part === undefined) return {};
  return {
    x: ((part.from + part.to) / 2) * geometry.plotPx,
    y: part.row * geometry.rowPx + geometry.barY + geometry.barPx / 2,
  };
}

/** A close-up's number stands at its opening if that is marked itself, else at its first alert. */
function tagsOf(closeUps: readonly CloseUp[]): {
  readonly openings: ReadonlyMap<number, string>;
  readonly alerts: ReadonlyMap<number, string>;
} {
  const openings = new Map<number, string>();
  const alerts = new Map<number, string>();
  for (const { number, opening, alerts: own, rank } of closeUps) {
    const [first] = own;
    const ownMark = opening !== null && (first === undefined || rank === 0);
    if (ownMark) openings.set(opening, number);
    else if (first !== undefined) alerts.set(first, number);
  }
  return { openings, alerts };
}
