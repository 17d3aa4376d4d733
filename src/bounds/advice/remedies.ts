// What would help: few and small changes of the settings, in round values, each proved by the same search that found
// the trouble. Of those that help, the ones with the longest check interval: they spare the battery.
import type { WatchSettings } from '../../machine/index.js';
import type { Holds, Remedy } from '../answer.js';
import type { BoundsQuestion } from '../bounds.js';
import type { Start } from '../holds.js';
import { changesFrom, nominal, otherThresholds, type Replanned, replanning } from './plan.js';
import { roundUpTo } from './round.js';
import { holdsInCalm, type Meter, type Proved, proved } from './trial.js';

/** The states that all trials together may take. */
const mostStates = 40_000;

interface Search {
  readonly question: BoundsQuestion;
  readonly replanned: Replanned;
  readonly meter: Meter;
  readonly from: Start;
}

/** For what does not hold, at rest or else from any state: a few ways to make it hold. */
export function remediesOf(question: BoundsQuestion, holds: Holds): readonly Remedy[] {
  const fails = (from: Start): boolean =>
    [holds.leaveOpenAfter[from], holds.reportWithin[from], holds.quietUpTo.atRest].includes(false);
  const replanned = replanning(question);
  const meter: Meter = { states: mostStates };
  return (['atRest', 'anyState'] as const)
    .filter((from) => fails(from) && isPossible(question, from))
    .flatMap((from) => waysFor({ question, replanned, meter, from }));
}

/** No setting helps while the power, or the contact, or the network is away for longer than may pass. */
export function isPossible({ environment, judge }: BoundsQuestion, from: Start): boolean {
  const { powerLosses, longestPowerLossMs, longestChatterMs, longestOutageMs } = environment;
  const blindMs = Math.max(powerLosses * longestPowerLossMs, longestChatterMs);
  if (blindMs >= judge.leaveOpenAfterMs) return false;
  // From any state an alert that waits for the network can be an earlier one, and holds back the next.
  if (from === 'anyState' && longestOutageMs >= judge.leaveOpenAfterMs) return false;
  return judge.reportWithinMs === null || longestOutageMs < judge.reportWithinMs;
}

function waysFor(search: Search): readonly Remedy[] {
  const { watch } = search.question.program;
  const { from } = search;
  const freed: Partial<WatchSettings> =
    from === 'anyState' && watch.afterAlert === 'hold-until-reset'
      ? { afterAlert: 'keep-watching' }
      : {};
  const ways: Remedy[] = [];
  const attempt = (base: Partial<WatchSettings>): boolean => {
    const remedy = withCooldown(search, { ...freed, ...base });
    if (remedy !== null) ways.push(remedy);
    return remedy !== null;
  };
  attempt({});
  if (watch.wakeOn === 'timer') attempt({ wakeOn: 'opening' });
  if (ways.length > 0) return ways;
  for (const escalationThreshold of otherThresholds(watch)) {
    if (attempt({ escalationThreshold })) break;
  }
  return ways;
}

/** With the cooldown as it is; else, from any state, with the longest round one that helps. */
function withCooldown(search: Search, base: Partial<WatchSettings>): Remedy | null {
  const kept = withIntervals(search, base);
  const { alertCooldownMs } = search.question.program.watch;
  if (kept !== null || search.from === 'atRest' || alertCooldownMs === 0) {
    return kept === null ? null : remedyOf(search, kept);
  }
  const none = withIntervals(search, { ...base, alertCooldownMs: nominal(0) });
  if (none === null) return null;
  const shorter = roundUpTo(alertCooldownMs - 1).map(
    (ms): Partial<WatchSettings> => ({ ...none.settings, alertCooldownMs: nominal(ms) }),
  );
  return remedyOf(search, firstProved(search, shorter) ?? none);
}

interface Helps {
  readonly settings: Partial<WatchSettings>;
  readonly bounds: Proved;
}

function remedyOf({ question, replanned, from }: Search, { settings, bounds }: Helps): Remedy {
  const { watch } = replanned(settings).program;
  return {
    holds: from,
    changes: changesFrom(question.program.watch, watch),
    ...bounds,
    checkIntervalMs: watch.checkIntervalMs,
  };
}

/** The longest check interval, and for it the longest recheck interval, with which all holds. */
function withIntervals(search: Search, base: Partial<WatchSettings>): Helps | null {
  const { watch } = search.question.program;
  const checks = [watch.checkIntervalMs, ...roundUpTo(watch.checkIntervalMs - 1)];
  const likely: Partial<WatchSettings>[] = [];
  for (const checkMs of checks) {
    const settings = longestRecheck(search, { ...base, checkIntervalMs: nominal(checkMs) });
    if (settings !== null) likely.push(settings);
  }
  return firstProved(search, likely);
}

/** The longest recheck interval that is quick enough where nothing goes wrong; null: none, or it is too quick. */
function longestRecheck(
  { question, replanned, meter }: Search,
  base: Partial<WatchSettings> & Pick<WatchSettings, 'checkIntervalMs'>,
): Partial<WatchSettings> | null {
  const { recheckIntervalMs } = question.program.watch;
  const longest = Math.max(recheckIntervalMs, base.checkIntervalMs);
  const rechecks = [...new Set([recheckIntervalMs, ...roundUpTo(longest)])].toSorted(
    (a, b) => b - a,
  );
  const settingsAt = (index: number): Partial<WatchSettings> => ({
    ...base,
    recheckIntervalMs: nominal(rechecks[index] ?? 0),
  });
  const isQuick = (index: number): boolean =>
    holdsInCalm(replanned(settingsAt(index)), meter) !== 'slow';
  const index = firstTrue(rechecks.length, isQuick);
  if (index === null) return null;
  const settings = settingsAt(index);
  return holdsInCalm(replanned(settings), meter) === 'yes' ? settings : null;
}

/** The first of settings, ever quicker ones, with which all holds. */
function firstProved(
  { replanned, meter, from }: Search,
  settings: readonly Partial<WatchSettings>[],
): Helps | null {
  const known = new Map<number, Proved | null>();
  const boundsAt = (index: number): Proved | null => {
    const changed = settings[index];
    if (changed === undefined) return null;
    const bounds = known.get(index) ?? proved(replanned(changed), from, meter);
    known.set(index, bounds);
    return bounds;
  };
  const index =
    boundsAt(0) === null ? firstTrue(settings.length, (at) => boundsAt(at) !== null) : 0;
  const [changed, bounds] = index === null ? [] : [settings[index], boundsAt(index)];
  return changed === undefined || bounds == null ? null : { settings: changed, bounds };
}

/** The first index at which something holds that goes on holding from there; null: it holds nowhere. */
function firstTrue(count: number, holds: (index: number) => boolean): number | null {
  if (count === 0 || !holds(count - 1)) return null;
  let low = 0;
  let high = count - 1;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (holds(middle)) high = middle;
    else low = middle + 1;
  }
  return low;
}
