// What must leap to the eye: missed, late and undecided leave-opens, each with its words; where they crowd, with their
// number.
import type { VNode } from 'preact';
import { roundedDurationText } from '../../base/index.js';
import type { OpeningOutcome } from '../../verdict/index.js';
import type { CloseUp } from '../close-ups.js';
import { type TimeScale, Words } from '../drawing.js';
import type { SeenOpening, StripFacts } from '../facts/strip-facts.js';
import { OutcomeMark } from '../marks.js';
import type { Scene } from '../scene.js';
import { textWidth } from '../text.js';
import type { WordRow } from '../word-row.js';
import { openingTitle } from '../words.js';
import type { Lanes } from './lanes.js';

interface Props {
  readonly scene: Scene;
  readonly facts: StripFacts;
  readonly x: TimeScale;
  readonly lanes: Lanes;
  /** What has words of its own. */
  readonly closeUp: CloseUp | null;
}

type BadOutcome = Exclude<OpeningOutcome, 'brief' | 'reported'>;

interface Bad extends SeenOpening {
  readonly outcome: BadOutcome;
  readonly left: number;
  readonly right: number;
}

/** From one group to the next, so that the words of both have room. */
const groupPx = 120;
/** A mark nearer to the last one of its kind would only smear it. */
const markStepPx = 7;
/** The reader of a page may have a wider font. */
const wider = 1.15;
const worstFirst = ['missed', 'late', 'undecided', 'unknown'] as const;

/** @param row gives room at once, before anything else is placed in it */
export function badMarks(props: Props, row: WordRow): VNode {
  const bad = badOnes(props);
  return (
    <g>
      {apart(bad).map((one) => (
        <Mark {...props} one={one} />
      ))}
      {groupsOf(bad).map((group) => labelOf(props, group, row))}
    </g>
  );
}

function badOnes({ facts, x }: Props): readonly Bad[] {
  return facts.openings.flatMap((opening): Bad[] => {
    const { outcome } = opening.judged;
    if (outcome === 'brief' || outcome === 'reported') return [];
    const left = Math.max(x(opening.fromMs), x(facts.fromMs) + 6);
    const right = Math.min(x(opening.toMs), x(facts.toMs) - 6);
    return [{ ...opening, outcome, left, right }];
  });
}

/** Without those that would lie on the one before. */
function apart(bad: readonly Bad[]): readonly Bad[] {
  const last = new Map<BadOutcome, number>();
  return bad.filter(({ outcome, left, right }) => {
    const middle = (left + right) / 2;
    if (middle - (last.get(outcome) ?? Number.NEGATIVE_INFINITY) < markStepPx) return false;
    last.set(outcome, middle);
    return true;
  });
}

function groupsOf(bad: readonly Bad[]): readonly (readonly Bad[])[] {
  const groups: Bad[][] = [];
  for (const one of bad) {
    const group = groups.at(-1);
    const start = group?.[0]?.left ?? Number.NEGATIVE_INFINITY;
    if (group !== undefined && one.left - start < groupPx) group.push(one);
    else groups.push([one]);
  }
  return groups;
}

function Mark({ scene, lanes, one }: Props & { readonly one: Bad }): VNode {
  const { outcome, left, right, index } = one;
  return (
    <OutcomeMark
      x={(left + right) / 2}
      y={lanes.door.y + lanes.door.height / 2}
      r={outcome === 'missed' ? 6 : 4.5}
      outcome={outcome}
      title={() => openingTitle(scene, index)}
    />
  );
}

function labelOf({ lanes, closeUp }: Props, group: readonly Bad[], row: WordRow): VNode | null {
  const [first] = group;
  if (first === undefined || (group.length === 1 && closeUp?.opening === first.index)) return null;
  const right = group.at(-1)?.right ?? first.right;
  const words =
    group.length === 1
      ? `${first.outcome} ${roundedDurationText(first.judged.durationMs, 'at least')}`
      : countsOf(group);
  const width = wider * textWidth(words, { sizePx: 11, bold: true });
  const at = row.place([first.left, right - width], width);
  if (at === null) return null;
  const worst = worstFirst.find((outcome) => group.some((one) => one.outcome === outcome));
  return (
    <Words x={at} y={lanes.words.y + 13} class={`dw-bold dw-halo dw-t-${worst ?? first.outcome}`}>
      {words}
    </Words>
  );
}

function countsOf(group: readonly Bad[]): string {
  return worstFirst
    .map((outcome) => [group.filter((one) => one.outcome === outcome).length, outcome] as const)
    .filter(([count]) => count > 0)
    .map(([count, outcome]) => `${count} ${outcome}`)
    .join(', ');
}
