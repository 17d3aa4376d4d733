// The first simulated year, instant by instant, for a picture: charge, door, messages, and when the device was off.
import { dayMs, trueMs } from '../base/index.js';
import { livingOf, yearsLivedWith, yearWorlds } from '../scenarios/index.js';
import { compileWatch, type Experiment, simulate } from '../sim/index.js';
import { type AlertKind, judge, type OpeningOutcome } from '../verdict/index.js';
import { deviceTiming, type Spans } from '../world/index.js';
import { chargeDays, withoutVisitCharges } from './charge-by.js';
import type { YearQuestion } from './lived-years.js';

export interface FirstYear {
  readonly lengthMs: number;
  /** Of this year only. */
  readonly counts: {
    readonly leaveOpens: number;
    readonly missed: number;
    readonly falseAlarms: number;
  };
  /** The share of the usable charge that is left, ascending in time, a charge as two points; null: there is no supply. */
  readonly charge: readonly { readonly atMs: number; readonly left: number }[] | null;
  /** It is charged by the days that the calendar names, since the watch file does not say when. */
  readonly isChargedByCalendar: boolean;
  readonly openings: Spans;
  /** Those that are not brief. */
  readonly leaveOpens: readonly { readonly fromMs: number; readonly outcome: OpeningOutcome }[];
  /** Delivered ones. */
  readonly alerts: readonly { readonly atMs: number; readonly kind: AlertKind }[];
  readonly lowBatteryMs: readonly number[];
  readonly charges: readonly number[];
  readonly networkDown: Spans;
  readonly flat: readonly { readonly fromMs: number; readonly toMs: number }[];
}

/** The charge is looked at this often. */
const lookMs = 7 * dayMs;

export function firstYear(question: YearQuestion): FirstYear {
  const { watchFile, profile, seed, outages = null } = question;
  const { watch, contact, timing, supply } = watchFile;
  const world = yearWorlds({ profile, contact, outages, powerCuts: null })(seed, 0);
  const ownSeed = `${seed} year 0`;
  const people = yearsLivedWith(livingOf(watchFile));
  const { answers = null, charge = null } = people.livedWith(watch, ownSeed);
  const byCalendar = supply !== null && charge === null ? (chargeDays(question).daysMs ?? []) : [];
  const experiment: Experiment = {
    program: compileWatch(watch),
    timing: deviceTiming({}, timing),
    world: { ...world, chargedMs: Float64Array.from(byCalendar) },
    seed: ownSeed,
    answers: byCalendar.length > 0 ? withoutVisitCharges(answers) : answers,
    charge: charge ?? (supply === null ? null : { supply, charging: { everyMs: null } }),
  };
  const trace = simulate(experiment, { record: 'none' });
  const { openings, alerts, summary } = judge(
    world.openings,
    people.asSeen(trace, ownSeed),
    watchFile.judge,
  );
  return {
    lengthMs: world.lengthMs,
    counts: {
      leaveOpens: summary.leaveOpens,
      missed: summary.missed,
      falseAlarms: summary.falseAlarms,
    },
    charge: experiment.charge === null ? null : chargeLine(experiment),
    isChargedByCalendar: byCalendar.length > 0,
    openings: world.openings,
    leaveOpens: openings.leaveOpens.map((index) => {
      const { fromMs, outcome } = openings.at(index);
      return { fromMs, outcome };
    }),
    alerts: alerts.flatMap(({ kind, deliveredMs }) =>
      deliveredMs === null ? [] : [{ atMs: deliveredMs, kind }],
    ),
    lowBatteryMs: trace.lowBattery.map(({ deliveredMs }) => deliveredMs),
    charges: trace.charges.map(({ atMs }) => atMs),
    networkDown: world.networkDown,
    flat: trace.flat,
  };
}

/** What is left at an instant shows where a run that ends there is charged at its last moment. */
function chargeLine(experiment: Experiment): NonNullable<FirstYear['charge']> {
  const { world } = experiment;
  const points: { atMs: number; left: number }[] = [{ atMs: 0, left: 1 }];
  const whole = simulate(experiment, { record: 'none' });
  for (const { atMs, leftPpm } of whole.charges) {
    points.push({ atMs, left: leftPpm / 1e6 }, { atMs: atMs + 1, left: 1 });
  }
  for (const { fromMs, toMs } of whole.flat) {
    points.push({ atMs: fromMs, left: 0 }, { atMs: toMs, left: 0 });
  }
  const length = Math.floor(world.lengthMs / lookMs);
  const looks = Array.from({ length }, (_, index) => (index + 1) * lookMs);
  // The first day after a charge takes more than others.
  const firstDays = whole.charges
    .map(({ atMs }) => atMs + dayMs)
    .filter((ms) => ms < world.lengthMs);
  for (const atMs of [dayMs, ...looks, ...firstDays, world.lengthMs]) {
    const chargedMs = Float64Array.from([...(world.chargedMs ?? [])].filter((ms) => ms < atMs - 1));
    const cut = {
      ...world,
      lengthMs: trueMs(atMs),
      chargedMs: Float64Array.of(...chargedMs, atMs - 1),
    };
    const last = simulate({ ...experiment, world: cut }, { record: 'none' }).charges.at(-1);
    if (last?.atMs === atMs - 1) points.push({ atMs: atMs - 1, left: last.leftPpm / 1e6 });
  }
  return points.sort((one, other) => one.atMs - other.atMs);
}
