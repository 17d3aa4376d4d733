// Settings that contradict or cancel each other. Each is allowed, does less than it seems to, and is said so.

import { type Diagnostic, durationText, type SourceRef } from '../../base/index.js';
import { isOverByNextCheck, leastToDecideMs } from '../../model/index.js';
import type { Path } from '../text/document.js';
import type { Problem } from '../text/problem.js';
import type { WatchFile } from '../types.js';

/** A contradiction; `says` is a whole clause. */
export interface Contradiction extends Problem {
  /** The setting to change. */
  readonly path: Path;
}

/** A bounce of up to this is over by the next whole millisecond that a check can see. */
const settledMs = 2;

/** A leave-open is too short by one of these. */
const leaveOpenKeys = [
  'judge.leaveOpenAfter',
  'watch.checkInterval',
  'watch.recheckInterval',
  'watch.escalationThreshold',
  'device',
] as const;

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
          code: 'cooldown-after-reset-only',
          says: 'with hold-until-reset the device makes no checks after an alert, so the cooldown can hide an alert only after a reset',
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
  ({ watch }, isGiven) =>
    watch.retryAttempts === 1 &&
    watch.retryIntervalMs !== watch.checkIntervalMs &&
    isGiven(['watch', 'retry', 'interval'])
      ? watchKey('retry.interval', {
          code: 'retry-without-effect',
          says: 'retry.interval has no effect with 1 attempt: each failed attempt falls back to checkInterval',
          hint: 'take retry.interval out, or raise retry.attempts',
        })
      : null,
  ({ watch }) =>
    watch.retryAttempts > 1 && watch.retryIntervalMs > watch.checkIntervalMs
      ? watchKey('retry.interval', {
          code: 'retry-longer-than-check',
          says: `retry.interval (${durationText(watch.retryIntervalMs)}) is longer than checkInterval (${durationText(watch.checkIntervalMs)}): the device waits longer after a failed attempt than between checks`,
          hint: 'make retry.interval at most checkInterval',
        })
      : null,
  ({ watch }) =>
    watch.alertCooldownMs === 0 && watch.afterAlert === 'keep-watching'
      ? watchKey('alertCooldown', {
          code: 'alert-at-each-check',
          says: 'without a cooldown, each further check that reads open raises another alert once the last one is delivered',
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
  ({ watch, timing }) =>
    watch.alertCooldownMs > 0 &&
    watch.wakeOn === 'timer' &&
    watch.afterAlert === 'keep-watching' &&
    isOverByNextCheck(watch.alertCooldownMs, watch, timing)
      ? watchKey('alertCooldown', {
          code: 'cooldown-over-by-next-check',
          says: `a cooldown of ${durationText(watch.alertCooldownMs)} is over by the next check, so it can hide an alert only after a reset`,
          hint: 'make alertCooldown longer than checkInterval and bootTime together',
        })
      : null,
  ({ watch, timing }) =>
    watch.heartbeatIntervalMs !== null &&
    watch.heartbeatIntervalMs < watch.checkIntervalMs &&
    isOverByNextCheck(watch.heartbeatIntervalMs, watch, timing)
      ? watchKey('heartbeatInterval', {
          code: 'heartbeat-shorter-than-check',
          says: `the device sends heartbeats at its checks only, which come every ${durationText(watch.checkIntervalMs)} while the door stays shut: a shorter heartbeatInterval changes nothing then`,
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
    const soonestMs = leastToDecideMs(watch, timing) + timing.connectTime.least;
    return judge.reportWithinMs !== null &&
      judge.reportWithinMs < soonestMs &&
      watch.wakeOn === 'timer'
      ? judgeKey('reportWithin', {
          code: 'report-late-at-rest',
          says: `the alert of an opening that meets the device at rest takes ${durationText(soonestMs)} or longer, unless a reset brings a check forward: that is later than reportWithin`,
          hint: 'lower recheckInterval or escalationThreshold, or allow more time',
        })
      : null;
  },
  ({ judge, watch, timing }, isGiven) => {
    const decidedMs = leastToDecideMs(watch, timing);
    return judge.leaveOpenAfterMs <= decidedMs &&
      watch.wakeOn === 'timer' &&
      leaveOpenKeys.some((key) => isGiven(key.split('.')))
      ? judgeKey('leaveOpenAfter', {
          code: 'leave-open-too-short-at-rest',
          says: `a leave-open of ${durationText(judge.leaveOpenAfterMs)} that meets the device at rest is over before ${String(watch.escalationThreshold.open)} open checks, which take ${durationText(decidedMs)} or longer: unless a reset brings a check forward, it is not reported`,
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
    contact !== null && contact.bounceMs > settledMs && watch.wakeOn === 'opening'
      ? watchKey('wakeOn', {
          code: 'bounce-wakes',
          says: `the contact bounces for ${durationText(contact.bounceMs)}: a door that shuts can also wake the device`,
          hint: 'a capacitor across the contact keeps bounces under a millisecond',
        })
      : null,
  ({ contact, timing }) =>
    contact !== null && contact.bounceMs > settledMs && contact.bounceMs > timing.bootTime.least
      ? {
          path: ['contact', 'bounceTime'],
          code: 'bounce-beyond-boot',
          says: `the contact bounces for longer than the least bootTime (${durationText(timing.bootTime.least)}): a check after a contact edge can read the bounce`,
          hint: 'read the contact later, or filter it',
        }
      : null,
  ({ contact, sealGapUm }) =>
    contact !== null && sealGapUm > contact.operateGapUm
      ? {
          path: ['door', 'sealGap'],
          code: 'seal-beyond-contact',
          says: 'the contact can read open while the door still seals: alerts about a shut door are possible',
          hint: 'make sealGap at most operateGap',
        }
      : null,
];
