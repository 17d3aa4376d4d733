// Settings that may help, and what of them is to be written into the watch file.
import { type DeviceMs, deviceMs, writeDuration } from '../../base/index.js';
import type { EscalationThreshold, WatchSettings } from '../../machine/index.js';
import { checkLimits, isCompilable, isWithin } from '../../model/index.js';
import { compileWatches } from '../../sim/index.js';
import type { Change } from '../answer.js';
import type { BoundsQuestion } from '../question.js';

/** A question about the same watch with some settings changed. */
export type Replanned = (changes: Partial<WatchSettings>) => BoundsQuestion;

export function replanning(question: BoundsQuestion): Replanned {
  const { watch } = question.program;
  const programOf = compileWatches(question.program);
  return (changes) => ({ ...question, program: programOf({ ...watch, ...changes }) });
}

/** Fewer or more open checks before an alert, the nearest first; only those that a watch file accepts. */
export function otherThresholds(watch: WatchSettings): readonly EscalationThreshold[] {
  const { open } = watch.escalationThreshold;
  const fewer = Array.from({ length: open - 1 }, (_, index) => open - 1 - index);
  return thresholdsWith(watch, [...fewer, open + 1, open + 2]);
}

/** More open checks before an alert, the fewest first; only those that a watch file accepts. */
export function higherThresholds(watch: WatchSettings): readonly EscalationThreshold[] {
  const { open } = watch.escalationThreshold;
  const more = Math.max(0, checkLimits.most - open);
  return thresholdsWith(
    watch,
    Array.from({ length: more }, (_, index) => open + 1 + index),
  );
}

function thresholdsWith(
  watch: WatchSettings,
  counts: readonly number[],
): readonly EscalationThreshold[] {
  const { open, outOf } = watch.escalationThreshold;
  return counts
    .map((count) => ({ open: count, outOf: Math.max(count, outOf - open + count) }))
    .filter(
      (threshold) =>
        isWithin(threshold.outOf, checkLimits) &&
        isCompilable({ ...watch, escalationThreshold: threshold }),
    );
}

/** Where one open check is enough, the recheck interval has no effect: it may follow the check interval as before. */
export function follows(after: WatchSettings, before: WatchSettings): boolean {
  return (
    after.escalationThreshold.open === 1 && before.recheckIntervalMs === before.checkIntervalMs
  );
}

/** What to write for settings to become others. */
export function changesFrom(before: WatchSettings, after: WatchSettings): readonly Change[] {
  const changes: Change[] = [];
  const duration = (key: Change['key'], from: DeviceMs, to: DeviceMs, always = false): void => {
    if (from !== to || always) changes.push({ key, value: writeDuration(to) });
  };
  const checkChanges = before.checkIntervalMs !== after.checkIntervalMs;
  // A recheck interval that is not written down follows the check interval: then it has to be.
  const mayFollow =
    checkChanges && before.recheckIntervalMs === before.checkIntervalMs && !follows(after, before);
  if (!follows(after, before)) {
    duration('recheckInterval', before.recheckIntervalMs, after.recheckIntervalMs, mayFollow);
  }
  duration('checkInterval', before.checkIntervalMs, after.checkIntervalMs);
  const { open, outOf } = after.escalationThreshold;
  const was = before.escalationThreshold;
  if (open !== was.open || outOf !== was.outOf) {
    const value =
      open === outOf ? String(open) : `{ open: ${String(open)}, outOf: ${String(outOf)} }`;
    changes.push({ key: 'escalationThreshold', value });
  }
  if (before.wakeOn !== after.wakeOn) changes.push({ key: 'wakeOn', value: after.wakeOn });
  if (before.afterAlert !== after.afterAlert) {
    changes.push({ key: 'afterAlert', value: after.afterAlert });
  }
  if (before.unsentWhenShut !== after.unsentWhenShut) {
    changes.push({ key: 'unsentWhenShut', value: after.unsentWhenShut });
  }
  duration('alertCooldown', before.alertCooldownMs, after.alertCooldownMs);
  return changes;
}

export function nominal(ms: number): DeviceMs {
  return deviceMs(ms);
}
