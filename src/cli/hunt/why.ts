// Why a finding of a hunt came about, in sentences that are true of its run.
import { roundedDurationText } from '../../base/index.js';
import type { Breach, Ran } from '../../hunt/index.js';
import type { Experiment } from '../../sim/index.js';
import { explain, explainAlertWhole } from '../../verdict/index.js';

export interface Reason {
  readonly of: 'Why' | 'Why the alert was decided';
  /** Without a capital and a full stop. */
  readonly sentence: string;
}

/** These break because the alert was decided at all; others because of its fate. */
const ofTheDecision: readonly string[] = ['no-false-alarm', 'quiet'];

/** What the one sentence on an alert, or on an opening, is the reason for. */
export function reasonOf({ property, subject }: Breach): Reason['of'] {
  const isOfItsFate = subject?.kind === 'alert' && !ofTheDecision.includes(property);
  return isOfItsFate ? 'Why the alert was decided' : 'Why';
}

/** Empty: the breach is of the timeline as a whole. */
export function reasonsFor(breach: Breach, ran: Ran, experiment: Experiment): readonly Reason[] {
  const { subject } = breach;
  const { verdict, question } = ran;
  const on = { experiment, verdict, asked: question.judge };
  if (subject === null) return [];
  if (subject.kind === 'opening') {
    const wanted = (one: typeof subject): boolean =>
      one.kind === subject.kind && one.index === subject.index;
    return explain({ ...on, limit: 1, wanted }).map(({ sentence }) => ({ of: 'Why', sentence }));
  }
  const { decided, fate } = explainAlertWhole(on, subject.index);
  const of = reasonOf(breach);
  const own = of === 'Why' ? null : (fate ?? cooldownLost(ran, subject.index));
  return [
    ...(own === null ? [] : [{ of: 'Why' as const, sentence: own }]),
    { of, sentence: decided },
  ];
}

/** What cleared the cooldown from memory between the delivery before an alert and its decision; null: nothing did. */
function cooldownLost({ trace, world, trial }: Ran, index: number): string | null {
  const decidedMs = trace.alerts[index]?.decidedMs ?? 0;
  const earlier = trace.alerts.slice(0, index).findLast(({ deliveredMs }) => deliveredMs !== null);
  const deliveredMs = earlier?.deliveredMs ?? decidedMs;
  const isBetween = (atMs: number): boolean => atMs >= deliveredMs && atMs <= decidedMs;
  const lostMs = world.powerLost.fromMs.findLast(isBetween);
  const clearedMs = trial.resets.findLast(({ clears, atMs }) => clears && isBetween(atMs))?.atMs;
  const atMs = lostMs ?? clearedMs;
  if (atMs === undefined) return null;
  const what = lostMs === undefined ? 'reset' : 'power loss';
  return `a ${what} cleared the cooldown from memory, ${roundedDurationText(atMs - deliveredMs)} after the alert before was delivered`;
}
