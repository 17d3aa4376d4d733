// What is done to a watch, timed by what the device is about to do: open just after its second check from now, cut the
// power while it boots. Scripts are drawn and shrunk; staging one turns it into instants.

import fc from 'fast-check';
import { dayMs, minuteMs } from '../base/index.js';
import { mostChapters, mostStrokes } from '../model/index.js';
import { acts, lateActs } from './acts.js';
import type { HuntQuestion } from './question.js';
import { pendingAcrossATurn, scenes } from './scenes.js';
import type { Act, Script, Stroke, Wait } from './stroke.js';
import { lateWaits, logLengths, waits } from './waits.js';

/** One script in this number has long quiet stretches, where timelines are long enough; one of those in the other runs on to the end. */
const lateOnceIn = 4;
const runsOnOnceIn = 8;
const leastLateMs = 2 * dayMs;

/** One script in this number may leave the door open for good. */
const leftOpenOnceIn = 8;

/** How many single strokes there are to each scene. */
const strokesToAScene = 8;

/** What follows the first scene after a quiet stretch comes within this time each. */
const mostInChapter = 4;
const soonMs = 2 * dayMs;
/** What a fault left behind is mostly met some hours later. */
const hoursLaterMs = [10 * minuteMs, dayMs] as const;

/** Scripts for a question; with fewer faults than its adversity allows, or as many. Shrink to fewer strokes. */
export function scripts(question: HuntQuestion): fc.Arbitrary<Script> {
  const wait = waits(question);
  const act = acts(question);
  const ending = fc.option(wait, { freq: leftOpenOnceIn });
  const single = fc.record({ wait, act }).map(alone);
  const usual = fc.record({
    strokes: strokesOf(
      fc.oneof(
        { weight: strokesToAScene, arbitrary: single },
        { weight: 1, arbitrary: scenes(question, wait) },
      ),
      mostStrokes,
    ),
    ending,
    runsOn: fc.constant(false),
  });
  if (question.lengthMs < leastLateMs) return usual;
  return fc.oneof(
    { weight: lateOnceIn - 1, arbitrary: usual },
    {
      weight: 1,
      arbitrary: fc.record({
        strokes: strokesOf(chapters(question, wait, act), mostChapters),
        ending,
        runsOn: fc.nat(runsOnOnceIn - 1).map((drawn) => drawn === runsOnOnceIn - 1),
      }),
    },
  );
}

/** A quiet stretch, and then several things that follow each other within minutes to days: what one leaves behind is met by the next. */
function chapters(
  question: HuntQuestion,
  usual: fc.Arbitrary<Wait>,
  act: fc.Arbitrary<Act>,
): fc.Arbitrary<readonly Stroke[]> {
  const soon = fc.oneof(usual, logLengths(1_000, soonMs), logLengths(...hoursLaterMs));
  const part = (wait: fc.Arbitrary<Wait>): fc.Arbitrary<readonly Stroke[]> =>
    fc.oneof(
      { weight: 1, arbitrary: fc.record({ wait, act: lateActs(question, act) }).map(alone) },
      { weight: 2, arbitrary: scenes(question, wait) },
    );
  const across = pendingAcrossATurn(question);
  const first = part(lateWaits(question, usual));
  return fc
    .tuple(
      across === null
        ? first
        : fc.oneof({ weight: 3, arbitrary: first }, { weight: 1, arbitrary: across }),
      fc.array(part(soon), { maxLength: mostInChapter, size: 'max' }),
    )
    .map(([first, more]) => [first, ...more].flat());
}

function alone(stroke: Stroke): readonly Stroke[] {
  return [stroke];
}

/** Each kind of fault is left out of every third script or so: with one kind fewer, what is left of the others comes in its place. */
const sparedKinds: readonly (readonly Act['kind'][])[] = [
  [],
  [],
  ['powerCut'],
  ['powerCut'],
  ['outage'],
  ['reset'],
  ['powerCut', 'outage'],
  ['powerCut', 'reset'],
];

function strokesOf(
  parts: fc.Arbitrary<readonly Stroke[]>,
  most: number,
): fc.Arbitrary<readonly Stroke[]> {
  return fc
    .tuple(
      fc.array(parts, { minLength: 1, maxLength: most, size: 'max' }),
      fc.constantFrom(...sparedKinds),
    )
    .map(([drawn, spared]) =>
      drawn.flat().flatMap(({ wait, act }): readonly Stroke[] => {
        if (spared.includes(act.kind)) return [];
        if (act.kind !== 'troubled') return [{ wait, act }];
        const faults = act.faults.filter(({ fault }) => !spared.includes(fault.kind));
        return [{ wait, act: { ...act, faults } }];
      }),
    );
}
