// Why a leave-open was missed or reported late, in one sentence.
import { durationText, greatestOf, invariant, itemAt } from '../../base/index.js';
import { openChecks } from '../../machine/index.js';
import type { AlertRecord } from '../../sim/index.js';
import { firstAfter, within } from '../../world/index.js';
import type { JudgedOpening } from '../judgement.js';
import {
  alertDecidedAt,
  checksIn,
  type Evidence,
  firstCheckFrom,
  lastCheckBefore,
  type SeenCheck,
  wouldHaveAlertedMs,
} from './evidence.js';
import { countText, sendsText } from './words.js';

/** The sentence for a missed or late leave-open, and the checks that it rests on. */
export function explainOpening(
  evidence: Evidence,
  index: number,
): { readonly sentence: string; readonly checks: readonly SeenCheck[] } {
  const opening = evidence.verdict.openings.at(index);
  const endMs = opening.toMs ?? evidence.trace.lengthMs;
  const checks = checksIn(evidence.trace, opening.fromMs, endMs);
  const own = evidence.verdict.alerts.filter((alert) => alert.opening === index);
  const first = own[0] === undefined ? null : alertDecidedAt(evidence.trace, own[0].decidedMs);
  const sentence =
    opening.outcome === 'late'
      ? lateSentence(evidence, opening, checks)
      : first === null
        ? notDecidedSentence(evidence, opening, checks)
        : notDeliveredSentence(first);
  return { sentence, checks };
}

function notDeliveredSentence(alert: AlertRecord): string {
  const sends = sendsText(alert.attempts);
  if (alert.forgottenMs !== null) {
    return `an alert was decided, but the power failed before it was delivered and retained memory was lost (${sends})`;
  }
  if (alert.droppedMs !== null) {
    return `an alert was decided but not delivered (${sends}), and dropped when the door was seen shut`;
  }
  return `an alert was decided but not delivered by the end of the timeline (${sends})`;
}

function lateSentence(
  evidence: Evidence,
  opening: JudgedOpening,
  checks: readonly SeenCheck[],
): string {
  const { asked, trace } = evidence;
  const { delayMs, fromMs } = opening;
  const delivered = trace.alerts.find(
    ({ deliveredMs }) => delayMs !== null && deliveredMs === fromMs + delayMs,
  );
  invariant(
    delivered !== undefined && delayMs !== null && asked.reportWithinMs !== null,
    'a late opening has its delivery and its limit',
    { opening },
  );
  const causes: string[] = [];
  const quiet = checks.filter(
    ({ atMs, check }) => atMs < delivered.decidedMs && check.decision === 'quiet',
  ).length;
  if (quiet > 0)
    causes.push(`the cooldown of an earlier alert kept ${countText(quiet, 'check')} quiet`);
  causes.push(
    `the alert was decided ${durationText(delivered.decidedMs - fromMs)} after it opened`,
  );
  const failed = delivered.attempts.filter(({ outcome }) => outcome !== 'delivered');
  if (failed.length > 0) causes.push(`${sendsText(failed)} before one was delivered`);
  const over = durationText(delayMs - asked.reportWithinMs);
  return `reported ${over} too late: ${causes.join(', ')}`;
}

function notDecidedSentence(
  evidence: Evidence,
  opening: JudgedOpening,
  checks: readonly SeenCheck[],
): string {
  if (checks.length === 0) return noCheckSentence(evidence, opening);
  const open = checks.filter(({ check }) => check.contact === 'open');
  if (open.length === 0) {
    return `${countText(checks.length, 'check')} fell into it, but the contact read shut each time`;
  }
  const quiet = checks.filter(({ check }) => check.decision === 'quiet');
  if (quiet.length > 0) return quietSentence(evidence, quiet);
  const waiting = checks.find(({ check }) => check.decision === 'attempt');
  if (waiting !== undefined) {
    return 'an alert of an earlier opening was still unsent, so none was decided for this one';
  }
  return tooFewSentence(evidence, opening, open);
}

function noCheckSentence({ experiment, trace }: Evidence, opening: JudgedOpening): string {
  const { fromMs, toMs } = opening;
  if (within(experiment.world.powerLost, fromMs))
    return 'the device had no power while it was open';
  if (experiment.program.watch.afterAlert === 'hold-until-reset') {
    const sent = trace.alerts.findLast(
      ({ deliveredMs }) => deliveredMs !== null && deliveredMs <= fromMs,
    );
    if (sent?.deliveredMs != null) {
      return `the device was holding for a reset since its alert ${durationText(fromMs - sent.deliveredMs)} before`;
    }
  }
  const before = lastCheckBefore(trace, fromMs);
  const after = toMs === null ? null : firstCheckFrom(trace, toMs);
  const since =
    before === null ? 'opened' : `opened ${durationText(fromMs - before)} after a check`;
  if (toMs === null) return `${since}, and no check came before the end of the timeline`;
  return after === null
    ? `${since}, and no check came while it was open`
    : `${since}, shut ${durationText(after - toMs)} before the next one`;
}

function quietSentence({ trace }: Evidence, quiet: readonly SeenCheck[]): string {
  const firstMs = itemAt(quiet, 0).atMs;
  const deliveriesMs = trace.alerts.flatMap(({ deliveredMs }) =>
    deliveredMs !== null && deliveredMs <= firstMs ? deliveredMs : [],
  );
  const since = durationText(firstMs - greatestOf(deliveriesMs));
  return `found open often enough at ${countText(quiet.length, 'check')}, but the cooldown of the alert delivered ${since} before kept it quiet`;
}

function tooFewSentence(
  { experiment, trace }: Evidence,
  opening: JudgedOpening,
  open: readonly SeenCheck[],
): string {
  const { escalationThreshold } = experiment.program.watch;
  const before = lastCheckBefore(trace, opening.fromMs);
  const since =
    before === null
      ? 'opened before the first check'
      : `opened ${durationText(opening.fromMs - before)} after a check`;
  const most = Math.max(1, greatestOf(open.map(({ wake }) => openChecks(wake.memoryAfter))));
  const counted = `${String(most)} of ${String(escalationThreshold.open)} open checks counted`;
  if (opening.toMs === null) return `${since}, and the timeline ended first (${counted})`;
  const power = powerLossIn(experiment, opening);
  if (power !== null)
    return `${since}, and the power failed ${durationText(power)} later, which lost what it had counted (${counted})`;
  const wouldMs =
    nextWouldHaveAlertedMs({ experiment, trace }, opening, open) ??
    wouldHaveAlertedMs(experiment, [opening.fromMs, opening.toMs]);
  if (wouldMs === null || wouldMs < opening.toMs)
    return `${since}, read open too seldom (${counted})`;
  return `${since}, shut ${durationText(wouldMs - opening.toMs)} before the check that would have alerted (${counted})`;
}

/**
 * Where one open check was lacking and the next wake is the timer's, the check after the opening is the one that would
 * have alerted; null where that is not so plain.
 */
function nextWouldHaveAlertedMs(
  { experiment, trace }: Pick<Evidence, 'experiment' | 'trace'>,
  { toMs }: JudgedOpening,
  open: readonly SeenCheck[],
): number | null {
  const { escalationThreshold, wakeOn } = experiment.program.watch;
  const last = open.at(-1);
  if (toMs === null || last === undefined || wakeOn !== 'timer') return null;
  const { outOf, open: enough } = escalationThreshold;
  const plain = outOf === enough && openChecks(last.wake.memoryAfter) === enough - 1;
  const next = checksIn(trace, last.atMs + 1, Number.POSITIVE_INFINITY)[0];
  return plain && next?.wake.cause === 'timer' && next.atMs >= toMs ? next.atMs : null;
}

/** How long after the start of an opening the first power loss in it came; null when none did. */
function powerLossIn(
  { world }: Evidence['experiment'],
  { fromMs, toMs }: JudgedOpening,
): number | null {
  const lostMs = world.powerLost.fromMs[firstAfter(world.powerLost.fromMs, fromMs)];
  return lostMs !== undefined && (toMs === null || lostMs < toMs) ? lostMs - fromMs : null;
}
