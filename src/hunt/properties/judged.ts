// The requirements of `judge:`: every leave-open reported, in time, and no alert for a brief visit.
import { durationText, roundedDurationText } from '../../base/index.js';
import type { JudgedOpening } from '../../verdict/index.js';
import { rangeMsOf } from '../../world/index.js';
import { goodTimeMs, hadAChance, misreadWithin } from '../fairness.js';
import { type Breach, type Property, type Ran, severally } from '../question.js';

/** An opening that comes less than this after the last one is no test of `quietUpTo`. */
const quietAfterMs = 3_600_000;

const reported = 'reported';

/** Every leave-open gets its own delivered alert, where faults left the device a chance. */
export const reportedProperty: Property = severally(
  {
    name: reported,
    promise: 'every leave-open is reported, unless faults left the device no chance',
  },
  (ran) => {
    if (ran.verdict.summary.missed === 0) return [];
    return ofOpenings(ran, (opening) => {
      if (opening.outcome !== 'missed' || !hadAChance(ran, spanOf(opening))) return null;
      // Still open at the end: only a deadline can have made it a miss.
      if (opening.toMs === null && !isPastDeadline(ran, opening)) return null;
      if (opening.durationMs < ran.question.judge.leaveOpenAfterMs + toleranceOf(ran)) return null;
      return {
        property: reported,
        what: `open for ${roundedDurationText(opening.durationMs, 'at least')} and ${unreportedText(opening)}`,
      };
    });
  },
);

/** A door that is still open at the end of the timeline may be reported later. */
function unreportedText({ toMs }: JudgedOpening): string {
  return toMs === null ? 'not reported by the end of the timeline' : 'never reported';
}

const inTime = 'in-time';

function requiredText({ question }: Ran): string {
  const { reportWithinMs } = question.judge;
  return reportWithinMs === null ? '' : ` (required: within ${durationText(reportWithinMs)})`;
}

/** Every report comes within `reportWithin`, not counting the time in which a fault kept it from coming. */
export const inTimeProperty: Property = severally(
  {
    name: inTime,
    promise: 'every alert arrives within reportWithin, not counting the time that faults took',
  },
  (ran) => {
    if (ran.verdict.summary.late === 0) return [];
    return ofOpenings(ran, (opening) => {
      const { delayMs } = opening;
      if (opening.outcome !== 'late' || delayMs === null || !isPastDeadline(ran, opening))
        return null;
      return {
        property: inTime,
        what: `the alert arrived ${roundedDurationText(delayMs, 'at most')} after the door opened${requiredText(ran)}`,
      };
    });
  },
);

const quiet = 'quiet';

/** An opening of at most `quietUpTo` that begins an hour or more after the one before raises no alert before the next. */
export const quietProperty: Property = severally(
  {
    name: quiet,
    promise:
      'an opening of up to quietUpTo that begins an hour or more after the one before raises no alert, unless a fault plays a part',
  },
  function* (ran) {
    const { quietUpToMs } = ran.question.judge;
    if (quietUpToMs === null) return;
    const { fromMs, toMs } = ran.world.openings;
    for (const [index, { decidedMs }] of ran.verdict.alerts.entries()) {
      const opening = fromMs.findLastIndex((openedMs) => openedMs <= decidedMs);
      if (opening < 0) continue;
      const openedMs = fromMs[opening] ?? 0;
      const shutMs = toMs[opening] ?? 0;
      const lastShutMs = toMs[opening - 1] ?? Number.NEGATIVE_INFINITY;
      if (shutMs - openedMs > quietUpToMs - toleranceOf(ran)) continue;
      if (openedMs - lastShutMs < quietAfterMs) continue;
      if (misreadWithin(ran, 'open', [lastShutMs, decidedMs + 1])) continue;
      if (looksOnceMore(ran, openedMs, decidedMs)) continue;
      const what = `an alert for an opening of ${roundedDurationText(shutMs - openedMs, 'at least')}`;
      yield { property: quiet, subject: { kind: 'alert', index }, what };
    }
  },
);

/** Whether a reset, or power that came back, made the device look once more at an opening than its own timer would. */
function looksOnceMore({ trial, world }: Ran, openedMs: number, decidedMs: number): boolean {
  const fromMs = openedMs - rangeMsOf(trial.timing.bootTime).most;
  const boots = (atMs: number): boolean => atMs >= fromMs && atMs <= decidedMs;
  return world.resetsMs.some(boots) || world.powerLost.toMs.some(boots);
}

function toleranceOf({ question }: Ran): number {
  return question.toleranceMs ?? 0;
}

function spanOf({ fromMs, toMs }: JudgedOpening): readonly [number, number] {
  return [fromMs, toMs ?? Number.POSITIVE_INFINITY];
}

/** Whether `reportWithin` had passed, of time without a fault, by its report or by the end of the timeline. */
function isPastDeadline(ran: Ran, { fromMs, delayMs }: JudgedOpening): boolean {
  const { reportWithinMs } = ran.question.judge;
  if (reportWithinMs === null) return false;
  const untilMs = delayMs === null ? ran.world.lengthMs : fromMs + delayMs;
  return goodTimeMs(ran, [fromMs, untilMs]) > reportWithinMs + toleranceOf(ran);
}

function* ofOpenings(
  { verdict }: Ran,
  breach: (opening: JudgedOpening) => Omit<Breach, 'subject'> | null,
): Generator<Breach> {
  for (const index of verdict.openings.leaveOpens) {
    const found = breach(verdict.openings.at(index));
    if (found !== null) yield { ...found, subject: { kind: 'opening', index } };
  }
}
