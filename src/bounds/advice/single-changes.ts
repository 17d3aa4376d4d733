// One setting changed and all others kept: what is left to try where the search of several together has found no way.
import type { WatchSettings } from '../../machine/index.js';
import type { Start } from '../holds.js';
import type { BoundsQuestion } from '../question.js';
import { nominal, otherThresholds } from './plan.js';
import { roundUpTo } from './rounds.js';

type Settings = Partial<WatchSettings>;

/** Values of one setting. */
export interface SingleChange {
  /** Its key in a watch file. */
  readonly key: string;
  readonly values: readonly Settings[];
  /** Whether each value is quicker than the one before, so that some need no trial. */
  readonly isEverQuicker: boolean;
}

/** Every setting that a remedy may change to report sooner; those that leave the checks as they are come first. */
export function singleChanges(
  { program: { watch }, ownLogic }: BoundsQuestion,
  from: Start,
): readonly SingleChange[] {
  const { alertCooldownMs, recheckIntervalMs, checkIntervalMs, escalationThreshold } = watch;
  const isAnyState = from === 'anyState';
  const recheck = (ms: number): Settings => ({ recheckIntervalMs: nominal(ms) });
  // A recheck interval that is not written down follows the check interval.
  const check = (ms: number): Settings => ({
    checkIntervalMs: nominal(ms),
    ...(recheckIntervalMs === checkIntervalMs ? recheck(ms) : {}),
  });
  const cooldowns = isAnyState && alertCooldownMs > 0 ? [...roundUpTo(alertCooldownMs - 1), 0] : [];
  const isHeld = isAnyState && watch.afterAlert === 'hold-until-reset';
  const isDropped = watch.unsentWhenShut === 'drop';
  const ever = (key: string, values: readonly Settings[]): SingleChange => ({
    key,
    values,
    isEverQuicker: true,
  });
  const all: readonly SingleChange[] = [
    ever(
      'alertCooldown',
      cooldowns.map((ms) => ({ alertCooldownMs: nominal(ms) })),
    ),
    ever('wakeOn', watch.wakeOn === 'timer' ? [{ wakeOn: 'opening' }] : []),
    ever('afterAlert', isHeld && !ownLogic ? [{ afterAlert: 'keep-watching' }] : []),
    ever('unsentWhenShut', isDropped && !ownLogic ? [{ unsentWhenShut: 'send' }] : []),
    {
      key: 'escalationThreshold',
      values: ownLogic
        ? []
        : otherThresholds(watch).map((threshold) => ({ escalationThreshold: threshold })),
      isEverQuicker: false,
    },
    ever(
      'recheckInterval',
      escalationThreshold.open === 1 ? [] : roundUpTo(recheckIntervalMs - 1).map(recheck),
    ),
    ever('checkInterval', roundUpTo(checkIntervalMs - 1).map(check)),
  ];
  return all.filter(({ values }) => values.length > 0);
}
