// Settings that contradict or cancel each other. Each is allowed, does less than it seems to, and is said so.
import { type Diagnostic, durationText, type SourceRef } from '../../base/index.js';
import type { Path } from '../text/document.js';
import type { Problem } from '../text/problem.js';
import type { WatchFile } from '../types.js';

/** A contradiction; `says` is a whole clause. */
export interface Contradiction extends Problem {
  /** The setting to change. */
  readonly path: Path;
}

type IsGiven = (path: Path) => boolean;
type Rule = (file: WatchFile, isGiven: IsGiven) => Contradiction | null;

/**
 * Warnings about settings that contradict or cancel each other.
 * @param source where to say they come from.
 */
export function watchWarnings(
  file: WatchFile,
  source: SourceRef = { file: 'watch file' },
): readonly Diagnostic[] {
  return findContradictions(file, () => true).map(({ code, says, hint }) => ({
    code,
    severity: 'warning',
    source,
    message: says,
    hint,
  }));
}

/** @param isGiven whether the owner wrote a setting down: a default is nobody's contradiction. */
export function findContradictions(file: WatchFile, isGiven: IsGiven): readonly Contradiction[] {
  return rules.map((rule) => rule(file, isGiven)).filter((found) => found !== null);
}

function watchKey(key: string, problem: Problem): Contradiction {
  return { ...problem, path: ['watch', ...key.split('.')] };
}

function judgeKey(key: string, problem: Problem): Contradiction {
  return { ...problem, path: ['judge', key] };
}

const rules: readonly Rule[] = [
  // Between m open checks there are m − 1 places for shut ones, each shorter than the clear threshold.
  ({ watch }) => {
    const { open, outOf } = watch.escalationThreshold;
    const { clearThreshold } = watch;
    const reach = open + (open - 1) * (clearThreshold - 1);
    if (outOf <= reach) return null;
    const same =
      reach === open ? `${String(open)} in a row` : `${String(open)} out of ${String(reach)}`;
    const clears =
      clearThreshold === 1
        ? 'one shut check clears'
        : `${String(clearThreshold)} shut checks in a row clear`;
    return watchKey('escalationThreshold', {
      code: 'threshold-same-as-smaller',
      says: `${String(open)} out of ${String(outOf)} with clearThreshold ${String(clearThreshold)} is the same as ${same}: ${clears} the memory`,
      hint: open === 1 ? 'write escalationThreshold: 1' : 'raise clearThreshold, or lower outOf',
    });
  },
  ({ watch }) =>
    watch.afterAlert === 'hold-until-reset' && watch.alertCooldownMs > 0
      ? watchKey('alertCooldown', {
          code: 'cooldown-never-runs',
          says: 'a cooldown with hold-until-reset never runs while the device holds: no check is made then; only after a reset can it still hide an alert',
          hint: 'write alertCooldown: 0s',
        })
      : null,
  ({ watch }) =>
    watch.escalationThreshold.open === 1 && watch.recheckIntervalMs !== watch.checkIntervalMs
      ? watchKey('recheckInterval', {
          code: 'recheck-without-effect',
          says: 'recheckInterval has no effect with escalationThreshold 1: the first open check already decides',
          hint: 'take recheckInterval out, or raise escalationThreshold',
        })
      : null,
  ({ watch }) =>
    watch.retryIntervalMs > watch.checkIntervalMs
      ? watchKey('retry.interval', {
          code: 'retry-longer-than-check',
          says: `after a failed attempt the device sleeps longer (${durationText(watch.retryIntervalMs)}) than between checks (${durationText(watch.checkIntervalMs)})`,
          hint: 'make retry.interval at most checkInterval',
        })
      : null,
  ({ watch }) =>
    watch.alertCooldownMs === 0 && watch.afterAlert === 'keep-watching'
      ? watchKey('alertCooldown', {
          code: 'alert-at-each-check',
          says: 'without a cooldown the alert is repeated at every check while the door stays open',
          hint: 'write alertCooldown: 30m',
        })
      : null,
  ({ watch }, isGiven) =>
    watch.alertCooldownMs === 0 &&
    watch.cooldownEndsWhenShut &&
    isGiven(['watch', 'cooldownEndsWhenShut'])
      ? watchKey('cooldownEndsWhenShut', {
          code: 'no-cooldown-to-end',
          says: 'cooldownEndsWhenShut has no effect: there is no cooldown',
          hint: 'take it out, or give an alertCooldown',
        })
      : null,
  ({ watch }) =>
    watch.alertCooldownMs > 0 &&
    watch.alertCooldownMs <= watch.checkIntervalMs &&
    watch.wakeOn === 'timer' &&
    watch.afterAlert === 'keep-watching'
      ? watchKey('alertCooldown', {
          code: 'cooldown-without-effect',
          says: `a cooldown of ${durationText(watch.alertCooldownMs)} hides nothing: it is over by the next check`,
          hint: 'make alertCooldown longer than checkInterval',
        })
      : null,
  ({ watch }) =>
    watch.heartbeatIntervalMs !== null && watch.heartbeatIntervalMs < watch.checkIntervalMs
      ? watchKey('heartbeatInterval', {
          code: 'heartbeat-shorter-than-check',
          says: 'heartbeats cannot come more often than checks: one is sent at each check',
          hint: `make heartbeatInterval at least ${durationText(watch.checkIntervalMs)}`,
        })
      : null,
  ({ judge }) =>
    judge.reportWithinMs !== null && judge.reportWithinMs < judge.leaveOpenAfterMs
      ? judgeKey('reportWithin', {
          code: 'report-before-leave-open',
          says: 'reportWithin is over before the opening counts as a leave-open',
          hint: 'make reportWithin longer than leaveOpenAfter',
        })
      : null,
  ({ judge, watch, timing }) => {
    const connectMs = timing.connectTime.least;
    const soonestMs = (watch.escalationThreshold.open - 1) * watch.recheckIntervalMs + connectMs;
    return judge.reportWithinMs !== null &&
      judge.reportWithinMs < soonestMs &&
      watch.wakeOn === 'timer'
      ? judgeKey('reportWithin', {
          code: 'report-never-in-time',
          says: `no alert can arrive within reportWithin: the soonest takes ${durationText(soonestMs)}`,
          hint: 'lower recheckInterval or escalationThreshold, or allow more time',
        })
      : null;
  },
  ({ judge, watch }) => {
    const seenMs = (watch.escalationThreshold.open - 1) * watch.recheckIntervalMs;
    return judge.leaveOpenAfterMs < seenMs && watch.wakeOn === 'timer'
      ? judgeKey('leaveOpenAfter', {
          code: 'leave-open-too-short-to-see',
          says: `a leave-open of ${durationText(judge.leaveOpenAfterMs)} can never be reported: ${String(watch.escalationThreshold.open)} open checks take at least ${durationText(seenMs)}`,
          hint: 'lower recheckInterval or escalationThreshold, or raise leaveOpenAfter',
        })
      : null;
  },
  ({ judge }) =>
    judge.quietUpToMs !== null && judge.quietUpToMs >= judge.leaveOpenAfterMs
      ? judgeKey('quietUpTo', {
          code: 'quiet-beyond-leave-open',
          says: 'openings up to quietUpTo must raise no alert, and from leaveOpenAfter on they must: the two overlap',
          hint: 'make quietUpTo shorter than leaveOpenAfter',
        })
      : null,
  ({ contact, watch }) =>
    contact !== null && contact.bounceMs >= 2 && watch.wakeOn === 'opening'
      ? watchKey('wakeOn', {
          code: 'bounce-wakes',
          says: `the contact bounces for ${durationText(contact.bounceMs)}: a door that shuts wakes the device too`,
          hint: 'a capacitor across the contact keeps bounces under a millisecond',
        })
      : null,
  ({ contact, timing }) => {
    if (contact === null) return null;
    const bootMs = timing.bootTime.least;
    return contact.bounceMs >= 2 && contact.bounceMs > bootMs
      ? {
          path: ['contact', 'bounceTime'],
          code: 'bounce-beyond-boot',
          says: 'the contact bounces for longer than the device boots: a check may read the bounce',
          hint: 'read the contact later, or filter it',
        }
      : null;
  },
  ({ contact, sealGapUm }) =>
    contact !== null && sealGapUm > contact.releaseGapUm
      ? {
          path: ['door', 'sealGap'],
          code: 'seal-beyond-contact',
          says: 'the contact reads open while the door still seals: alerts about a shut door are possible',
          hint: 'make sealGap at most releaseGap',
        }
      : null,
];
