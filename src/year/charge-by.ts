// The days by which to charge: each is a day before the charge since the last of them would be used up, in the first simulated year.
import { dayMs } from '../base/index.js';
import { livingOf, yearsLivedWith, yearWorlds } from '../scenarios/index.js';
import { type Answers, compileWatch, simulate, type Trace } from '../sim/index.js';
import { deviceTiming } from '../world/index.js';
import type { YearQuestion } from './lived-years.js';

/** With a charge that lasts a day there are no more. */
const mostDates = 366;

export interface ChargeDays {
  /** Whole days after the start, in ms; empty without a supply, or where a charge lasts for the year. Null: a charge lasts less than two days. */
  readonly daysMs: readonly number[] | null;
  /** What makes the last of them: the device waits for a reset that does not come. Null: it does not. */
  readonly waits: EndlessWait | null;
}

export interface EndlessWait {
  readonly fromMs: number;
  /** Its alert was lost on the way, so that nobody knows. Else nobody answers alerts. */
  readonly isLost: boolean;
}

export function chargeDays({
  watchFile,
  profile,
  seed,
  outages = null,
}: Pick<YearQuestion, 'watchFile' | 'profile' | 'seed' | 'outages'>): ChargeDays {
  const { supply, watch, contact, timing } = watchFile;
  if (supply === null) return { daysMs: [], waits: null };
  // Cells of one kind differ: the day must be early enough for those that hold the least.
  const capacityNah = supply.cells?.capacityNah.least ?? supply.capacityNah;
  const world = yearWorlds({ profile, contact, outages, powerCuts: null })(seed, 0);
  const ownSeed = `${seed} year 0`;
  const people = yearsLivedWith(livingOf(watchFile));
  const answers = withoutVisitCharges(people.livedWith(watch, ownSeed).answers ?? null);
  const experiment = {
    program: compileWatch(watch),
    timing: deviceTiming({}, timing),
    seed: ownSeed,
    answers,
    charge: { supply: { ...supply, capacityNah }, charging: { everyMs: null } },
  };
  const holds = watch.afterAlert === 'hold-until-reset';
  const dates: number[] = [];
  let waits: EndlessWait | null = null;
  while (dates.length < mostDates) {
    const chargedMs = Float64Array.from(dates);
    const trace = simulate({ ...experiment, world: { ...world, chargedMs } }, { record: 'none' });
    const [first] = trace.flat;
    if (holds) {
      const isAnswered = (answers?.alertAfterMs ?? null) !== null;
      const wait = waitOf(trace, people.asSeen(trace, ownSeed), first?.fromMs ?? trace.lengthMs);
      waits = isAnswered && wait?.isLost === false ? null : wait;
    }
    if (first === undefined) {
      const isCause = waits !== null && waits.fromMs < (dates.at(-1) ?? 0) + dayMs;
      return { daysMs: dates, waits: isCause ? waits : null };
    }
    const byMs = (Math.floor(first.fromMs / dayMs) - 1) * dayMs;
    if (byMs <= (dates.at(-1) ?? 0)) break;
    dates.push(byMs);
  }
  return { daysMs: null, waits };
}

/**
 * The same people, who only reset a silent device. The days assume no charge but on each of them, and a heartbeat that
 * met an outage brings nobody in another year; none is lost after its delivery.
 */
export function withoutVisitCharges(answers: Answers | null): Answers | null {
  if (answers?.silence == null) return answers;
  const { noticedAfterMs, comesAfterMs } = answers.silence;
  return { ...answers, silence: { noticedAfterMs, comesAfterMs, onlyResets: true } };
}

/** From the last delivery up to an instant, if nobody has come since. */
function waitOf({ alerts, answers }: Trace, seen: Trace, untilMs: number): EndlessWait | null {
  const last = alerts.findLastIndex(
    ({ deliveredMs }) => deliveredMs !== null && deliveredMs < untilMs,
  );
  const fromMs = alerts[last]?.deliveredMs ?? null;
  if (fromMs === null) return null;
  if (answers.some(({ atMs }) => atMs >= fromMs && atMs < untilMs)) return null;
  return { fromMs, isLost: seen.alerts[last]?.deliveredMs === null };
}
