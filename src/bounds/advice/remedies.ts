// What would help: few and small changes of the settings, in round values, each proved by the same search that found
// the trouble. Of those that help, the ones with the longest check interval: they spare the battery.
import { durationText, leastOf, listText } from '../../base/index.js';
import type { WatchSettings } from '../../machine/index.js';
import { calmEnvironment, type Environment } from '../../model/index.js';
import { compileWatch, type Program } from '../../sim/index.js';
import type { Change, Holds, NowAndThen, Price, Remedy } from '../answer.js';
import type { Start } from '../holds.js';
import type { BoundsQuestion } from '../question.js';
import { timesOf } from '../times.js';
import { gapsOf } from './blind-band.js';
import { changesFrom, follows, nominal, otherThresholds } from './plan.js';
import { type FalseAlarmsPerYear, priceOf } from './prices.js';
import { quieterSettings } from './quiet.js';
import { firstTrue, roundUpTo } from './rounds.js';
import { singleChanges } from './single-changes.js';
import { openTrials, type Proved, type RestBounds, type Trials } from './trial.js';

interface Search {
  readonly question: BoundsQuestion;
  readonly trials: Trials;
  readonly from: Start;
}

type Unpriced = Omit<Remedy, 'price'>;

/** For what does not hold, at rest or else from any state: a few ways to make it hold, the ones with a high price last. */
export function remediesOf(
  question: BoundsQuestion,
  holds: Holds,
  priced: {
    readonly quietMs: number | null;
    /** What holds at rest now; undefined: not known. */
    readonly restMs: RestBounds | undefined;
    readonly falseAlarmsPerYear?: FalseAlarmsPerYear;
  },
  trials: Trials = openTrials(question),
): readonly Remedy[] {
  return unpriced(question, holds, trials)
    .filter(({ changes }) => !question.ownLogic || changes.every(({ key }) => isOfTime(key)))
    .map((remedy) => {
      const then = { ...question, program: { ...compiled(question, remedy), watch: remedy.watch } };
      const quietMs = { now: priced.quietMs, then: remedy.neverAlarmedUpToMs };
      const { falseAlarmsPerYear, restMs } = priced;
      const atRest = restPrice(trials, remedy, restMs);
      return { ...remedy, price: priceOf(question, then, { quietMs, atRest, falseAlarmsPerYear }) };
    })
    .filter((remedy, _, all) => !all.some((other) => isPlainer(other, remedy)))
    .toSorted((a, b) => a.price.muchWorse.length - b.price.muchWorse.length);
}

/** What holds at rest, where a remedy is for any state; null: it is for rest, or that is not known. */
function restPrice(
  trials: Trials,
  { holds, watch, alwaysReportedFromMs, worstDelayMs }: Unpriced,
  now: RestBounds | undefined,
): Price['atRest'] {
  if (holds === 'atRest' || now === undefined) return null;
  // Both by the same search: one that is content with less may leave either too long.
  const [was, is] = [trials.restBounds({}), trials.restBounds(watch)];
  if (was === undefined || is === undefined) return null;
  const never = Number.POSITIVE_INFINITY;
  const priced = (
    nowMs: number | null,
    wasMs: number | null,
    ...thenMs: readonly (number | null)[]
  ): NowAndThen => {
    const then = leastOf(thenMs.map((ms) => ms ?? never));
    const isWorse = then > (wasMs ?? never);
    const atMost = isWorse ? then : leastOf([then, nowMs ?? never]);
    return { now: nowMs, then: Number.isFinite(atMost) ? atMost : null };
  };
  return {
    sureFromMs: priced(now.sureFromMs, was.sureFromMs, is.sureFromMs, alwaysReportedFromMs),
    worstDelayMs: priced(now.worstDelayMs, was.worstDelayMs, is.worstDelayMs, worstDelayMs),
  };
}

/** Whether one way changes less than another, and is as good. */
function isPlainer(one: Unpriced, other: Unpriced): boolean {
  const never = Number.POSITIVE_INFINITY;
  return (
    one.holds === other.holds &&
    one.changes.length < other.changes.length &&
    one.changes.every(({ key, value }) =>
      other.changes.some((change) => change.key === key && change.value === value),
    ) &&
    one.alwaysReportedFromMs <= other.alwaysReportedFromMs &&
    (one.worstDelayMs ?? never) <= (other.worstDelayMs ?? never) &&
    (one.neverAlarmedUpToMs ?? never) >= (other.neverAlarmedUpToMs ?? never)
  );
}

/** Settings that logic does not look at. */
function isOfTime(key: Change['key']): boolean {
  return key !== 'escalationThreshold' && key !== 'afterAlert' && key !== 'unsentWhenShut';
}

function compiled({ program, ownLogic }: BoundsQuestion, { watch }: Unpriced): Program {
  return ownLogic ? program : compileWatch(watch);
}

function unpriced(question: BoundsQuestion, holds: Holds, trials: Trials): readonly Unpriced[] {
  // No setting of the watch helps where its contact reads shut.
  if (gapsOf(question)?.kind === 'blind') return [];
  const fails = (from: Start): boolean =>
    [holds.leaveOpenAfter[from], holds.reportWithin[from], holds.quietUpTo.atRest].includes(false);
  return (['atRest', 'anyState'] as const)
    .filter((from) => fails(from) && isPossible(question, from))
    .flatMap((from) => waysFor({ question, trials, from }));
}

/** No setting helps while the power, or the contact, or the network is away for longer than may pass. */
export function isPossible(question: BoundsQuestion, from: Start): boolean {
  return (
    obstacleOf('leaveOpenAfter', question, from) === null &&
    obstacleOf('reportWithin', question, from) === null
  );
}

/** What keeps every setting from meeting a requirement: how long something may be away, as a clause. */
export interface Obstacle {
  readonly why: string;
  /** What takes it away, each under `environment:` of a watch file and as an option of `bounds`. */
  readonly without: readonly Without[];
}

interface Without {
  readonly line: string;
  readonly option: readonly [flag: string, value: string];
}

const withouts = {
  outage: { line: 'longestOutage: 0s', option: ['--outage', '0s'] },
  powerLoss: { line: 'powerLosses: 0', option: ['--power-losses', '0'] },
  chatter: { line: 'longestChatter: 0s', option: ['--chatter', '0s'] },
} as const satisfies Readonly<Record<string, Without>>;

/** Something that may be away, and how long in all. */
interface Away {
  readonly ms: number;
  readonly why: string;
  readonly without: Without;
}

/** What a requirement is met in, and by: of a question, or of a watch file. */
export interface Demanded extends Pick<BoundsQuestion, 'environment' | 'timing'> {
  readonly judge: Pick<BoundsQuestion['judge'], 'leaveOpenAfterMs' | 'reportWithinMs'>;
}

/** Why no setting can meet a requirement; null: a setting may meet it. */
export function obstacleOf(
  key: 'leaveOpenAfter' | 'reportWithin',
  { environment, judge, timing }: Demanded,
  from: Start,
): Obstacle | null {
  const { powerLosses, longestPowerLossMs, longestChatterMs } = environment;
  // A device that needs no time to read and to send needs no more than the instant between two losses, or that at the end
  // of an outage.
  const isInstant = timing.bootTime.most + timing.connectTime.most === 0;
  const losses = isInstant ? Math.min(1, powerLosses) : powerLosses;
  const lostMs = losses * longestPowerLossMs;
  const down = downOf(environment);
  const unseen: readonly Away[] = [
    {
      ms: lostMs,
      why: `the power may be away for ${durationText(lostMs)}${losses > 1 ? ' in all' : ''}`,
      without: withouts.powerLoss,
    },
    {
      ms: longestChatterMs,
      why: `the contact may read shut for ${durationText(longestChatterMs)} while the door is open`,
      without: withouts.chatter,
    },
  ];
  if (key === 'reportWithin') {
    const { reportWithinMs } = judge;
    return reportWithinMs === null
      ? null
      : awayFor([...unseen, down], isInstant ? reportWithinMs + 1 : reportWithinMs);
  }
  const { leaveOpenAfterMs } = judge;
  const missed = awayFor(unseen, leaveOpenAfterMs);
  if (missed !== null || down.ms < leaveOpenAfterMs) return missed;
  // From any state an alert that waits for the network can be an earlier one, and holds back the next. And one of the
  // opening itself can go with the power, just before it would be delivered.
  if (from === 'anyState') return { why: down.why, without: [down.without] };
  return powerLosses === 0
    ? null
    : { why: `${down.why}, and the power may be lost meanwhile`, without: [down.without] };
}

/** What is away for at least this long: one thing, or all of them, one after the other. Null: they are not. */
function awayFor(all: readonly Away[], ms: number): Obstacle | null {
  const one = all.find((away) => away.ms >= ms);
  if (one !== undefined) return { why: one.why, without: [one.without] };
  const some = all.filter((away) => away.ms > 0);
  if (some.reduce((sum, away) => sum + away.ms, 0) < ms) return null;
  const why = `${listText(some.map((away) => away.why))}, one after the other`;
  return { why, without: some.map(({ without }) => without) };
}

function downOf(environment: Environment): Away {
  const { longestOutageMs } = environment;
  const ms = longestDownMs(environment);
  const isOne = ms === longestOutageMs;
  const which = isOne ? 'a network outage' : 'network outages';
  const why = `${which} may last ${durationText(ms)}${isOne ? '' : ' in all'}`;
  return { ms, why, without: withouts.outage };
}

/** Ways to meet one requirement, whatever becomes of the others. */
export function remediesOfOne(
  question: BoundsQuestion,
  key: 'leaveOpenAfter' | 'reportWithin',
  from: Start,
): { readonly remedies: readonly Pick<Remedy, 'changes'>[]; readonly isCutShort: boolean } {
  const { leaveOpenAfterMs, reportWithinMs } = question.judge;
  const within = key === 'reportWithin' ? reportWithinMs : null;
  // A door that stays open for as long as the alert may take has been reported: that much of leaveOpenAfter is always required, and no more.
  const judge = {
    ...question.judge,
    leaveOpenAfterMs: within ?? leaveOpenAfterMs,
    reportWithinMs: within,
    quietUpToMs: null,
  };
  const alone = { ...question, judge };
  const trials = openTrials(alone);
  const remedies = waysFor({ question: alone, trials, from }).filter(
    ({ changes }) => !question.ownLogic || changes.every(({ key }) => isOfTime(key)),
  );
  return { remedies, isCutShort: trials.isCutShort() };
}

/** How long the network may be down without a pause. */
function longestDownMs({ outages, outagesApartMs, longestOutageMs }: Environment): number {
  return longestOutageMs * (outagesApartMs === 0 ? outages : 1);
}

function waysFor(search: Search): readonly Unpriced[] {
  const ways = waysTogether(search);
  return ways.length > 0 ? ways : waysAlone(search);
}

/** One setting changed, or what helps where nothing goes wrong: whether the search of several together was cut short or not. */
function waysAlone({ question, trials, from }: Search): readonly Unpriced[] {
  const search: Search = { question, trials: trials.again(), from };
  const ways = singleChanges(question, from).flatMap(({ values, isEverQuicker }) => {
    const helps = isEverQuicker
      ? firstProved(search, notNervous(search, quickEnough(search, values)))
      : firstOf(search, values);
    return helps === null ? [] : [remedyOf(search, helps)];
  });
  for (const settings of ways.length > 0 ? [] : quieterSettings(question, search.trials)) {
    const helps = firstOf(search, [settings]);
    if (helps !== null) ways.push(remedyOf(search, helps));
  }
  // Where nothing was cut short, what helps without faults has been tried with them.
  return ways.length > 0 || !trials.isCutShort() ? ways : waysInCalm(search);
}

/** Of settings that are ever quicker: from the first that is quick enough where nothing goes wrong. */
function quickEnough(
  { trials }: Search,
  settings: readonly Partial<WatchSettings>[],
): readonly Partial<WatchSettings>[] {
  const first = firstTrue(settings, (changed) => trials.inCalm(changed) !== 'slow');
  return first === null ? [] : settings.slice(settings.indexOf(first));
}

/** Of settings that are ever quicker, and quick enough: up to the last that is quiet enough where nothing goes wrong. */
function notNervous(
  { trials }: Search,
  settings: readonly Partial<WatchSettings>[],
): readonly Partial<WatchSettings>[] {
  const first = firstTrue(settings, (changed) => trials.inCalm(changed) === 'nervous');
  return first === null ? settings : settings.slice(0, settings.indexOf(first));
}

function firstOf(
  { trials, from }: Search,
  settings: readonly Partial<WatchSettings>[],
): Helps | null {
  for (const changed of settings) {
    const bounds = trials.inCalm(changed) === 'yes' ? trials.proved(changed, from) : null;
    if (bounds !== null) return { settings: changed, bounds };
  }
  return null;
}

/** What meets the requirements where nothing goes wrong, where it also meets them in the environment of the question. */
function waysInCalm(search: Search): readonly Unpriced[] {
  const { question, trials, from } = search;
  const calm = { ...question, environment: calmEnvironment };
  return waysTogether({ question: calm, trials: trials.again(calm), from }).flatMap(({ watch }) => {
    const bounds = trials.proved(watch, from);
    return bounds === null ? [] : [remedyOf(search, { settings: watch, bounds })];
  });
}

function waysTogether(search: Search): readonly Unpriced[] {
  const { watch } = search.question.program;
  const { from } = search;
  const freed: Partial<WatchSettings> =
    from === 'anyState' && watch.afterAlert === 'hold-until-reset'
      ? { afterAlert: 'keep-watching' }
      : {};
  const { environment, judge } = search.question;
  // While the network is down an alert that is dropped is lost, however quickly it was decided.
  const isDropped = longestDownMs(environment) >= judge.leaveOpenAfterMs;
  const kept = watch.unsentWhenShut === 'drop' && isDropped ? [] : waysWith(search, freed);
  if (kept.length > 0 || watch.unsentWhenShut === 'send') return kept;
  return waysWith(search, { ...freed, unsentWhenShut: 'send' });
}

function waysWith(search: Search, freed: Partial<WatchSettings>): readonly Unpriced[] {
  const { watch } = search.question.program;
  const ways: Unpriced[] = [];
  const attempt = (base: Partial<WatchSettings>): boolean => {
    const remedy = withCooldown(search, { ...freed, ...base });
    if (remedy !== null) ways.push(remedy);
    return remedy !== null;
  };
  attempt({});
  if (watch.wakeOn === 'timer') attempt({ wakeOn: 'opening' });
  if (ways.length > 0) return ways;
  for (const settings of quieterSettings(search.question, search.trials)) attempt(settings);
  if (ways.length > 0) return ways;
  for (const escalationThreshold of otherThresholds(watch)) {
    if (attempt({ escalationThreshold })) break;
  }
  return ways;
}

/** With the cooldown as it is; else, from any state, with the longest round one that helps. */
function withCooldown(search: Search, base: Partial<WatchSettings>): Unpriced | null {
  const kept = isHopeless(search, base) ? null : withIntervals(search, base);
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

/**
 * Unless the contact tells of it, the door can shut and open again between the delivery of an alert and the next check.
 * The cooldown then hides the new opening, but for the sleep in which it began, whatever the intervals.
 * Twice that sleep is taken off: some of it may be the wake's own time.
 */
function isHopeless({ question, trials, from }: Search, base: Partial<WatchSettings>): boolean {
  const { watch } = trials.replanned(base).program;
  if (from === 'atRest' || watch.wakeOn === 'any-change') return false;
  const { cooldownMs, sleeps, bootMs } = timesOf(watch, question.timing);
  const [{ mostMs, countedMs }] = sleeps;
  const longestCooldownMs = cooldownMs * (mostMs / Math.max(1, countedMs));
  return longestCooldownMs - 2 * (mostMs + bootMs.most) > question.judge.leaveOpenAfterMs;
}

interface Helps {
  readonly settings: Partial<WatchSettings>;
  readonly bounds: Proved;
}

function remedyOf({ question, trials, from }: Search, { settings, bounds }: Helps): Unpriced {
  const { watch } = trials.replanned(settings).program;
  return {
    holds: from,
    changes: changesFrom(question.program.watch, watch),
    ...bounds,
    checkIntervalMs: watch.checkIntervalMs,
    watch,
  };
}

/**
 * The longest check interval, and for it the recheck interval as it is, if that helps once the check interval does; else the
 * longest, with which all holds.
 */
function withIntervals(search: Search, base: Partial<WatchSettings>): Helps | null {
  const { watch } = search.question.program;
  const checks = [watch.checkIntervalMs, ...roundUpTo(watch.checkIntervalMs - 1)];
  const provedAt = (checkMs: number): Helps | null => {
    const settings = longestRecheck(search, { ...base, checkIntervalMs: nominal(checkMs) });
    const bounds = settings === null ? null : search.trials.proved(settings, search.from);
    if (settings === null || bounds === null) return null;
    return withRecheckKept(search, settings) ?? { settings, bounds };
  };
  const isLikely = (checkMs: number): boolean =>
    longestRecheck(search, { ...base, checkIntervalMs: nominal(checkMs) }) !== null;
  // Most often the longest likely one will do; else it lies between that and the shortest.
  const from = checks.findIndex(isLikely);
  const longest = checks[from];
  if (longest === undefined) return null;
  const found = provedAt(longest);
  if (found !== null) return found;
  const to = checks.findLastIndex(isLikely);
  const check = firstTrue(checks.slice(from, to + 1), (checkMs) => provedAt(checkMs) !== null);
  return check === null ? null : provedAt(check);
}

/** The same with the recheck interval as it is: nobody should change what need not change. Null: it must, or does not. */
function withRecheckKept(
  { question, trials, from }: Search,
  settings: Partial<WatchSettings>,
): Helps | null {
  const { watch } = question.program;
  const { recheckIntervalMs } = watch;
  if ((settings.recheckIntervalMs ?? recheckIntervalMs) === recheckIntervalMs) return null;
  // One that follows the check interval would have to be written down to stay.
  if (recheckIntervalMs === watch.checkIntervalMs) return null;
  const kept = { ...settings, recheckIntervalMs };
  if (trials.inCalm(kept) !== 'yes') return null;
  const bounds = trials.proved(kept, from);
  return bounds === null ? null : { settings: kept, bounds };
}

/** The longest recheck interval that is quick enough where nothing goes wrong; null: none, or it is too quick. */
function longestRecheck(
  { question, trials }: Search,
  base: Partial<WatchSettings> & Pick<WatchSettings, 'checkIntervalMs'>,
): Partial<WatchSettings> | null {
  const { recheckIntervalMs, escalationThreshold } = { ...question.program.watch, ...base };
  const longest = Math.max(recheckIntervalMs, base.checkIntervalMs);
  const { watch } = question.program;
  if (follows({ ...watch, ...base }, watch)) {
    const following = { ...base, recheckIntervalMs: base.checkIntervalMs };
    return trials.inCalm(following) === 'yes' ? following : null;
  }
  // Where one open check is enough there is none to check again after.
  const others = escalationThreshold.open === 1 ? [] : roundUpTo(longest);
  const settings = [...new Set([recheckIntervalMs, ...others])]
    .toSorted((a, b) => b - a)
    .map((ms) => ({ ...base, recheckIntervalMs: nominal(ms) }));
  const quick = firstTrue(settings, (changed) => trials.inCalm(changed) !== 'slow');
  return quick === null || trials.inCalm(quick) !== 'yes' ? null : quick;
}

/** The first of settings, ever quicker ones, with which all holds. */
function firstProved(
  { trials, from }: Search,
  settings: readonly Partial<WatchSettings>[],
): Helps | null {
  const boundsOf = (changed: Partial<WatchSettings>): Proved | null => trials.proved(changed, from);
  const [first] = settings;
  if (first === undefined) return null;
  const changed =
    boundsOf(first) === null ? firstTrue(settings, (at) => boundsOf(at) !== null) : first;
  const bounds = changed === null ? null : boundsOf(changed);
  return changed === null || bounds === null ? null : { settings: changed, bounds };
}
