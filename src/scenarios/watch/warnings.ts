// Settings that contradict or cancel each other. Each is allowed, does less than it seems to, and is said so.

import {
  type Diagnostic,
  durationText,
  roundedDurationText,
  roundedMs,
  type SourceRef,
  voltageText,
} from '../../base/index.js';
import { isOverByNextCheck, leastToDecideMs, voltageAtUsablePc } from '../../model/index.js';
import { leftWhenLowPc } from '../../sim/index.js';
import type { Path } from '../text/document.js';
import type { Problem } from '../text/problem.js';
import type { WatchFile } from '../types.js';

/** A contradiction; `says` is a whole clause. */
export interface Contradiction extends Problem {
  /** The setting to change. */
  readonly path: Path;
  /** Where the file leaves it out: the settings that make its default one to change, as `section.key`. */
  readonly because?: readonly string[];
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

/** @param isGiven whether the file sets it: a default gets no warning. */
export function findContradictions(file: WatchFile, isGiven: IsGiven): readonly Contradiction[] {
  return rules.map((rule) => rule(file, isGiven)).filter((found) => found !== null);
}

type Reason = Problem & Pick<Contradiction, 'because'>;

function watchKey(key: string, problem: Reason): Contradiction {
  return { ...problem, path: ['watch', ...key.split('.')] };
}

function judgeKey(key: string, problem: Reason): Contradiction {
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
      says: `${String(open)} out of ${String(outOf)} works like ${same}, because ${clears} the memory (clearThreshold)`,
      hint:
        open === 1
          ? 'write escalationThreshold: 1'
          : `raise clearThreshold, or make it ${reach === open ? String(open) : same}`,
    });
  },
  ({ watch, reset }, isGiven) =>
    watch.afterAlert === 'hold-until-reset' && watch.alertCooldownMs > 0
      ? watchKey('alertCooldown', {
          code: 'cooldown-after-reset-only',
          says: `with hold-until-reset the device makes no checks after an alert, ${
            [reset.button, reset.watchdog, reset.software].every((does) => does === 'clears')
              ? 'and every reset clears the memory, so the cooldown never has an effect'
              : 'so the cooldown can only suppress an alert after a reset'
          }`,
          hint: isGiven(['watch', 'alertCooldown'])
            ? 'write alertCooldown: 0s'
            : `add alertCooldown: 0s under watch: (left out, it is ${durationText(watch.alertCooldownMs)})`,
          because: ['watch.afterAlert'],
        })
      : null,
  ({ watch }) =>
    watch.escalationThreshold.open === 1 && watch.recheckIntervalMs !== watch.checkIntervalMs
      ? watchKey('recheckInterval', {
          code: 'recheck-without-effect',
          says: 'recheckInterval has no effect, because escalationThreshold 1 alerts at the first open check',
          hint: 'delete recheckInterval, or raise escalationThreshold',
          because: ['watch.escalationThreshold'],
        })
      : null,
  ({ watch }, isGiven) =>
    watch.retryAttempts === 1 &&
    watch.retryIntervalMs !== watch.checkIntervalMs &&
    isGiven(['watch', 'retry', 'interval'])
      ? watchKey('retry.interval', {
          code: 'retry-without-effect',
          says: 'retry.interval has no effect, because retry.attempts is 1: after a failed attempt the device waits checkInterval',
          hint: 'delete retry.interval, or raise retry.attempts',
        })
      : null,
  ({ watch }) =>
    watch.retryAttempts > 1 && watch.retryIntervalMs > watch.checkIntervalMs
      ? watchKey('retry.interval', {
          code: 'retry-longer-than-check',
          says: `retry.interval (${durationText(watch.retryIntervalMs)}) is longer than checkInterval (${durationText(watch.checkIntervalMs)}), so the device waits longer after a failed attempt than between checks`,
          hint: `make retry.interval at most ${durationText(watch.checkIntervalMs)}`,
          because: ['watch.checkInterval', 'watch.retry'],
        })
      : null,
  ({ watch }) =>
    watch.alertCooldownMs === 0 && watch.afterAlert === 'keep-watching'
      ? watchKey('alertCooldown', {
          code: 'alert-at-each-check',
          says: 'without a cooldown, every check that reads open raises another alert once the last one is delivered',
          hint: 'alertCooldown: 30m, for example, gives fewer alerts; a long one can hide a door that opens again (bounds --strict shows it)',
        })
      : null,
  ({ watch }, isGiven) =>
    watch.alertCooldownMs === 0 &&
    watch.cooldownEndsWhenShut &&
    isGiven(['watch', 'cooldownEndsWhenShut'])
      ? watchKey('cooldownEndsWhenShut', {
          code: 'no-cooldown-to-end',
          says: 'cooldownEndsWhenShut has no effect, because alertCooldown is 0s',
          hint: 'delete cooldownEndsWhenShut, or raise alertCooldown',
        })
      : null,
  ({ watch, timing }) =>
    watch.alertCooldownMs > 0 &&
    watch.wakeOn === 'timer' &&
    watch.afterAlert === 'keep-watching' &&
    isOverByNextCheck(watch.alertCooldownMs, watch, timing)
      ? watchKey('alertCooldown', {
          code: 'cooldown-over-by-next-check',
          says: `a cooldown of ${durationText(watch.alertCooldownMs)} is over by the next check, so alerts repeat at every check while the door stays open; the cooldown suppresses an alert only if a reset brings a check forward`,
          hint: 'one longer than checkInterval and bootTime together gives fewer alerts, but can hide a door that opens again (bounds --strict shows it)',
          because: ['watch.checkInterval'],
        })
      : null,
  ({ watch, timing }) =>
    watch.heartbeatIntervalMs !== null &&
    watch.heartbeatIntervalMs < watch.checkIntervalMs &&
    isOverByNextCheck(watch.heartbeatIntervalMs, watch, timing)
      ? watchKey('heartbeatInterval', {
          code: 'heartbeat-shorter-than-check',
          says: `the device sends heartbeats only at its checks, every ${durationText(watch.checkIntervalMs)} while the door stays shut, so a shorter heartbeatInterval has no effect then`,
          hint: `make heartbeatInterval at least ${durationText(watch.checkIntervalMs)}`,
        })
      : null,
  ({ watch, supply }) => {
    const { lowBattery } = watch;
    if (lowBattery === undefined) return null;
    if (supply === null) {
      return watchKey('lowBattery', {
        code: 'low-battery-without-supply',
        says: 'lowBattery has no effect in a run, because the watch file has no supply section, so the battery is never low; bounds allow for the message',
        hint: 'give the watch file a supply:',
      });
    }
    const endMv = voltageAtUsablePc(supply, 0n);
    if (lowBattery.level.kind === 'share' || leftWhenLowPc(supply, lowBattery.level) !== null)
      return null;
    return endMv === null
      ? watchKey('lowBattery.atVoltage', {
          code: 'low-battery-without-curve',
          says: 'atVoltage has no effect in a run, because supply has no voltageCurve, so nothing says when the battery has this voltage; bounds allow for the message',
          hint: 'give supply a voltageCurve:, or use at: with a share of the charge',
        })
      : watchKey('lowBattery.atVoltage', {
          code: 'low-battery-never',
          says: `the low-battery message is never sent, because the voltage is still ${voltageText(endMv, 3)} when the usable charge ends`,
          hint: `raise atVoltage above ${voltageText(endMv, 3)}, or use at: with a share of the charge, such as at: 20%`,
        });
  },
  ({ answer, watch }) =>
    answer?.charges?.afterWarningMs !== undefined && watch.lowBattery === undefined
      ? {
          path: ['answer', 'charges', 'afterWarning'],
          code: 'charges-without-warning',
          says: 'nobody ever charges the battery, because the watch sends no low-battery message',
          hint: 'add lowBattery: { at: 20% } under watch:',
        }
      : null,
  ({ judge }) =>
    judge.reportWithinMs !== null && judge.reportWithinMs < judge.leaveOpenAfterMs
      ? judgeKey('reportWithin', {
          code: 'report-before-leave-open',
          says: 'reportWithin is shorter than leaveOpenAfter, so the alert is due before the opening counts as left open',
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
          says: `at rest, an alert takes at least ${longerThan(judge.reportWithinMs, soonestMs)}, which is longer than reportWithin (unless a reset brings a check forward)`,
          hint: 'lower recheckInterval or escalationThreshold, or raise reportWithin',
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
          says: `at rest, ${String(watch.escalationThreshold.open)} open checks take at least ${longerThan(judge.leaveOpenAfterMs, decidedMs)}, so an opening of ${durationText(judge.leaveOpenAfterMs)} (leaveOpenAfter) is not reported unless a reset brings a check forward`,
          hint: 'lower recheckInterval or escalationThreshold, or raise leaveOpenAfter',
          because: leaveOpenKeys,
        })
      : null;
  },
  ({ judge }) =>
    judge.quietUpToMs !== null && judge.quietUpToMs >= judge.leaveOpenAfterMs
      ? judgeKey('quietUpTo', {
          code: 'quiet-beyond-leave-open',
          says: 'quietUpTo overlaps leaveOpenAfter: the same opening must raise no alert, and must be reported',
          hint: 'make quietUpTo shorter than leaveOpenAfter',
        })
      : null,
  ({ contact, watch }) =>
    contact !== null && contact.bounceMs > settledMs && watch.wakeOn === 'opening'
      ? watchKey('wakeOn', {
          code: 'bounce-wakes',
          says: `the contact bounces for ${durationText(contact.bounceMs)}, so a closing door can also wake the device`,
          hint: 'put a capacitor across the contact to keep bounces under 1ms, and lower bounceTime',
        })
      : null,
  ({ contact, timing }) =>
    contact !== null && contact.bounceMs > settledMs && contact.bounceMs > timing.bootTime.least
      ? {
          path: ['contact', 'bounceTime'],
          code: 'bounce-beyond-boot',
          says: `the contact can bounce for longer than the shortest bootTime (${durationText(timing.bootTime.least)}), so a check that the contact woke can read the bounce`,
          hint: 'read the contact later (raise bootTime), or filter it (lower bounceTime)',
        }
      : null,
  ({ contact, sealGapUm }) =>
    contact !== null && sealGapUm > contact.operateGapUm
      ? {
          path: ['door', 'sealGap'],
          code: 'seal-beyond-contact',
          says: 'the contact can read open while the door still seals, so the device can alert although the door is shut',
          hint: 'move the magnet closer to the switch and measure again: operateGap must be larger than sealGap',
          because: ['contact.operateGap'],
        }
      : null,
];

/** A least time beside a limit that it is beyond: rounded where it stays beyond it. */
function longerThan(limitMs: number, ms: number): string {
  const text = roundedDurationText(ms, 'at least');
  return roundedMs(ms, 'at least') > limitMs || ms === limitMs ? text : durationText(ms);
}
