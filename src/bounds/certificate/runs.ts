// The runs in which the search reached its bounds, followed once more by the checker's rules: which of all that can come
// next comes each time, and after how long.

import { InvariantError, itemAt, pushAll } from '../../base/index.js';
import type { WakeCause } from '../../machine/index.js';
import { mostRunTries } from '../../model/index.js';
import {
  after,
  type CertifiedRun,
  firstOf,
  isOpen,
  type Outcome,
  type Rules,
  spanOf,
  type Task,
} from '../../verify/index.js';
import { modelOf } from '../bounds.js';
import type { BoundsQuestion } from '../question.js';
import type { Found } from '../search.js';
import type { Moment } from '../track.js';
import { type Run, runOf } from '../witness.js';

/** What a run must reach: the opening's age in milliseconds as that happens; null: whatever it is. */
export interface Goal {
  readonly task: Task;
  readonly event: NonNullable<Outcome['event']> | 'unreported';
  readonly afterMs: number | null;
}

/** The run to what the search found; null: its clock readings fit no single run, or the rules know none like it. */
export function runTo(
  question: BoundsQuestion,
  found: Found,
  on: { readonly rules: Rules; readonly goal: Goal },
): CertifiedRun | null {
  try {
    const seek = on.goal.task.seek === 'latest' ? 'greatest' : 'least';
    return certifiedOf(on.rules, runOf(modelOf(question), found, seek), on.goal);
  } catch (error) {
    if (error instanceof InvariantError) return null;
    throw error;
  }
}

/** A way through the rules, the newest step first. */
interface Way {
  readonly outcome: Outcome;
  readonly choice: number;
  /** Which of the lessons it has come to. */
  readonly order: number;
  readonly earlier: Way | null;
}

/** What the device learns, and when. */
interface Lesson {
  readonly atMs: number;
  readonly what: string;
}

/** Depth first: what the device does not see, the door's place and which outage it is, may have to be tried. */
function certifiedOf(rules: Rules, run: Run, { task, event, afterMs }: Goal): CertifiedRun | null {
  const lessons = lessonsOf(run, task, rules);
  const fitting = (outcomes: readonly Outcome[], order: number, earlier: Way | null): Way[] => {
    const lesson = lessons[order];
    if (lesson === undefined) return [];
    const began = run.opensAtMs <= lesson.atMs;
    return outcomes.flatMap((outcome, choice) => {
      const fits = lesson.what === lessonIn(outcome.input) && isOpen(outcome.spot) === began;
      return fits ? [{ outcome, choice, order, earlier }] : [];
    });
  };
  const ways = fitting(firstOf(rules, task.from), 0, null).reverse();
  for (let tries = 0; tries < mostRunTries; tries += 1) {
    const way = ways.pop();
    if (way === undefined) return null;
    const then = lessons[way.order + 1];
    if (then !== undefined) {
      const lastsMs = then.atMs - itemAt(lessons, way.order).atMs;
      const next = [...after(rules, way.outcome.spot, { least: lastsMs, most: lastsMs })];
      pushAll(ways, fitting(next, way.order + 1, way).reverse());
    } else if (comesTo(way.outcome, event) && (afterMs ?? ageIn(way, task)) === ageIn(way, task)) {
      return writtenDown(way, lessons);
    }
  }
  return null;
}

/** From the first thing that a proof of this task knows on: the power-on, or a check at rest. */
function lessonsOf({ moments }: Run, { from }: Task, { watch }: Rules): readonly Lesson[] {
  const starts = ({ moment }: Run['moments'][number], index: number): boolean =>
    moment === 'reads shut' && (!watch.heartbeats || moments[index + 1]?.moment === 'send begins');
  const first = from === 'rest' ? moments.findIndex(starts) : 0;
  return moments.slice(first).flatMap(({ atMs, moment }, order) => {
    const what = lessonAt(moment);
    if (what === null) return [];
    const isLow = moments[first + order + 1]?.moment === 'battery low';
    return [{ atMs, what: isLow ? `${what}, battery low` : what }];
  });
}

/** Null: the device learns nothing of it. */
function lessonAt(moment: Moment): string | null {
  if (moment === 'reads shut wrongly') return 'reads shut';
  return lessonNames.has(moment) ? moment : null;
}

const causes: readonly WakeCause[] = ['power-on', 'reset', 'timer', 'contact'];
const lessonNames: ReadonlySet<string> = new Set<Moment>([
  ...causes,
  'power lost',
  'reads open',
  'reads shut',
  'waits',
  'delivered',
  'failed',
]);

function lessonIn(input: Outcome['input']): string {
  if (input === 'waits') return input;
  switch (input.type) {
    case 'wake':
      return input.cause;
    case 'check':
      return input.lowBatteryDue === true
        ? `reads ${input.contact}, battery low`
        : `reads ${input.contact}`;
    case 'alertAttempted':
    case 'heartbeatAttempted':
    case 'lowBatteryAttempted':
      return input.delivered ? 'delivered' : 'failed';
    case 'powerLost':
      return 'power lost';
  }
}

function comesTo({ event, unsure }: Outcome, wanted: Goal['event']): boolean {
  return wanted === 'unreported' ? unsure : event === wanted;
}

function ageIn({ outcome }: Way, { seek }: Task): number {
  const { least, most } = spanOf(outcome.spot.zone, 'opening');
  return seek === 'latest' ? most : least;
}

function writtenDown(last: Way, lessons: readonly Lesson[]): CertifiedRun {
  const then: [number, number][] = [];
  let way = last;
  for (; way.earlier !== null; way = way.earlier) {
    const lastedMs = itemAt(lessons, way.order).atMs - itemAt(lessons, way.order - 1).atMs;
    then.unshift([lastedMs, way.choice]);
  }
  return { first: way.choice, then };
}
