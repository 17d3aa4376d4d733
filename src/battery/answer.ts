// Everything that an owner asks of a battery, answered at once and as plain data: reports, JSON and pictures only
// write it down.
import { type DeviceMs, dayMs, deviceMs, greatestOf, leastOf } from '../base/index.js';
import type { WatchSettings } from '../machine/index.js';
import {
  biasFromCellsNa,
  biasNa,
  type ContactBias,
  holdNa,
  type MeasuredLife,
  monthMs,
  type SupplySettings,
  type TimingRanges,
} from '../model/index.js';
import { nahOf } from './amounts.js';
import {
  asMeasured,
  type Calibration,
  calibrate,
  extremesOf,
  type LifeWithUse,
  separate,
} from './calibrate.js';
import { costOf, type PoweredCost, type UseCost } from './cost.js';
import { lastsAtMs, lifeMs } from './life.js';
import { quietUse } from './quiet.js';
import { contactSpending, spend } from './spending.js';
import type { Use } from './use.js';
import {
  type LowBattery,
  lowBattery,
  type NamedSpending,
  type SetWarning,
  setWarning,
  silentForAtMostMs,
} from './warning.js';

export interface BatteryQuestion {
  readonly watch: WatchSettings;
  readonly timing: TimingRanges;
  readonly supply: SupplySettings;
  readonly timelines: readonly NamedUse[];
  readonly measured: MeasuredLife | null;
  /** Another life, at another check interval: both together separate sleep from wakes. */
  readonly secondLife?: MeasuredLife | null;
}

export interface NamedUse {
  readonly file: string;
  readonly name: string;
  /** As if the charge never ended. */
  readonly use: Use;
  /** How often somebody resets the device; absent: nobody looks at it. */
  readonly resets?: number;
  /** As it is, ending with the charge; absent: the charge is not simulated. */
  readonly drained?: PoweredCost;
}

export interface BatteryAnswer {
  readonly supply: SupplySettings;
  /** A door that nobody opens. */
  readonly quiet: UseCost;
  readonly timelines: readonly {
    readonly file: string;
    readonly name: string;
    readonly cost: UseCost;
    /** For how long of the timeline the charge was used up. */
    readonly flatMs: number;
    readonly resets?: number;
  }[];
  readonly intervals: readonly IntervalLife[];
  readonly contact: ContactCost;
  /** Null: the watch goes on watching after an alert. */
  readonly hold: { readonly currentNa: number; readonly lastsMs: number | null } | null;
  /** For 7 days at the costliest use that still watches, `timeline`; null there: a door that nobody opens. */
  readonly low: (LowBattery & { readonly timeline: string | null }) | null;
  /** The message that the watch file sets; null: none. */
  readonly lowSet: SetWarning | null;
  /** The heartbeat as it is set, and the other way: none, or one a day. */
  readonly heartbeat: { readonly set: HeartbeatLife; readonly otherwise: HeartbeatLife };
  readonly calibration: CalibrationAnswer | null;
}

export interface IntervalLife {
  readonly checkIntervalMs: number;
  readonly lifeMs: number | null;
  /** The one that the watch file sets. */
  readonly isSet: boolean;
}

export interface ContactCost {
  /** Null: the file says nothing of a pull-up, and a usual one is looked at. */
  readonly set: ContactBias | null;
  readonly bias: ContactBias;
  /** Through the contact. */
  readonly currentNa: number;
  /** What the cells give for it: through a regulator another current. */
  readonly fromCellsNa: number;
  /** By wiring, on a quiet door. */
  readonly always: WiringLife;
  readonly checkOnly: WiringLife;
}

export interface WiringLife {
  readonly perDayNah: number;
  readonly lifeMs: number | null;
}

export interface HeartbeatLife {
  readonly intervalMs: number | null;
  readonly lifeMs: number | null;
  /** How long nobody may know that the watch is dead; null: for ever. */
  readonly silentForAtMostMs: number | null;
}

export interface CalibrationAnswer {
  readonly measured: MeasuredLife;
  readonly second: MeasuredLife | null;
  readonly result: Calibration;
  /** From one life: between which ends the life at each interval lies, whatever sleep and wakes take of what was measured. */
  readonly ranges: readonly LifeRange[];
  /** With the sleep current found; empty when none explains the life. */
  readonly intervals: readonly IntervalLife[];
  readonly cells: readonly { readonly capacityNah: number; readonly lifeMs: number | null }[];
}

export interface LifeRange {
  readonly checkIntervalMs: number;
  readonly leastMs: number | null;
  readonly mostMs: number | null;
  readonly isSet: boolean;
}

const usualIntervals = [30, 60, 120, 180, 300, 600, 900, 1_800, 3_600].map((s) => s * 1_000);
/** What a pull-up is taken for where the file has none. */
const usualBias: ContactBias = { resistanceOhm: 45_000, voltageMv: 3_300, powered: 'always' };

/** What the measured lives explain; null: none is given. */
export function calibrationOf(question: BatteryQuestion): CalibrationAnswer | null {
  return question.measured === null ? null : calibrationAnswer(question, question.measured);
}

/** With a measured life, everything is computed from what it explains. */
export function batteryAnswer(asked: BatteryQuestion): BatteryAnswer {
  const calibration = calibrationOf(asked);
  const question = { ...asked, supply: asMeasured(asked.supply, calibration?.result ?? null) };
  const { watch, timing, supply, timelines } = question;
  const quiet = quietUse(watch, timing);
  const intervals = [...new Set([...usualIntervals, watch.checkIntervalMs])].sort((a, b) => a - b);
  const costliest = busiest(quiet, question);
  const low = lowBattery(costliest.spending, supply);
  return {
    supply,
    quiet: costOf(quiet, supply),
    timelines: timelines.map(({ file, name, use, drained, resets }) => ({
      file,
      name,
      ...(resets === undefined ? {} : { resets }),
      ...(drained ?? { cost: costOf(use, supply), flatMs: 0 }),
    })),
    intervals: intervalLives(question, supply, intervals),
    contact: contactCost(quiet, supply),
    hold: watch.afterAlert === 'hold-until-reset' ? holdAnswer(supply) : null,
    low: low === null ? null : { ...low, timeline: costliest.name },
    lowSet:
      watch.lowBattery === undefined
        ? null
        : setWarning(watch.lowBattery.level, supply, {
            quiet: spend(quiet, supply),
            busiest: costliest,
          }),
    heartbeat: heartbeatLives(watch, timing, supply),
    calibration,
  };
}

/** The life on a quiet door at each check interval; everything else stays as it is set. */
export function intervalLives(
  { watch, timing }: Pick<BatteryQuestion, 'watch' | 'timing'>,
  supply: SupplySettings,
  intervalsMs: readonly number[],
): IntervalLife[] {
  return intervalsMs.map((ms) => {
    const checkIntervalMs: DeviceMs = deviceMs(ms);
    const use = quietUse({ ...watch, checkIntervalMs }, timing);
    const life = lifeMs(spend(use, supply), supply);
    return { checkIntervalMs: ms, lifeMs: life, isSet: ms === watch.checkIntervalMs };
  });
}

/** The costliest use that still watches: what a low battery has to last for. */
function busiest(quiet: Use, { timelines, supply }: BatteryQuestion): NamedSpending {
  const uses = timelines.filter(({ use }) => use.heldMs === 0 && use.lengthMs > 0);
  return [{ name: null, use: quiet }, ...uses]
    .map(({ name, use }): NamedSpending => ({ name, spending: spend(use, supply) }))
    .reduce((most, next) =>
      next.spending.totalPc * BigInt(most.spending.lengthMs) >
      most.spending.totalPc * BigInt(next.spending.lengthMs)
        ? next
        : most,
    );
}

function holdAnswer(supply: SupplySettings) {
  const currentNa = holdNa(supply);
  return { currentNa, lastsMs: lastsAtMs(currentNa, supply) };
}

function contactCost(quiet: Use, supply: SupplySettings): ContactCost {
  const voltageMv = supply.cells?.regulator?.outputMv ?? usualBias.voltageMv;
  const bias = supply.contactBias ?? { ...usualBias, voltageMv };
  const currentNa = biasNa(bias);
  const fromCellsNa = biasFromCellsNa(bias, supply);
  const wired = (powered: ContactBias['powered']): WiringLife => {
    const { chargePc } = contactSpending(quiet, fromCellsNa, powered);
    const withBias = { ...supply, contactBias: { ...bias, powered } };
    return {
      perDayNah: nahOf((chargePc * BigInt(dayMs)) / BigInt(quiet.lengthMs)),
      lifeMs: lifeMs(spend(quiet, withBias), supply),
    };
  };
  return {
    set: supply.contactBias,
    bias,
    currentNa,
    fromCellsNa,
    always: wired('always'),
    checkOnly: wired('check-only'),
  };
}

function heartbeatLives(watch: WatchSettings, timing: TimingRanges, supply: SupplySettings) {
  const every = (intervalMs: DeviceMs | null): HeartbeatLife => {
    const other = { ...watch, heartbeats: intervalMs !== null, heartbeatIntervalMs: intervalMs };
    return {
      intervalMs,
      lifeMs: lifeMs(spend(quietUse(other, timing), supply), supply),
      silentForAtMostMs: silentForAtMostMs(other, timing),
    };
  };
  const isSet = watch.heartbeatIntervalMs !== null;
  return {
    set: every(watch.heartbeatIntervalMs),
    otherwise: every(isSet ? null : deviceMs(dayMs)),
  };
}

function calibrationAnswer(question: BatteryQuestion, measured: MeasuredLife): CalibrationAnswer {
  const { watch, timing, supply, timelines, secondLife: second = null } = question;
  const one = lifeWithUse(question, measured);
  const result =
    second === null
      ? calibrate(measured, one.use, supply)
      : separate(one, lifeWithUse(question, second), supply);
  const found = { measured, second, result };
  if (result.kind !== 'explained') return { ...found, intervals: [], ranges: [], cells: [] };
  const base = measured.checkIntervalMs ?? watch.checkIntervalMs;
  const longer = [1, 2, 5, 10].map((factor) => Math.min(factor * watch.checkIntervalMs, monthMs));
  const all = [...new Set([...longer, base, second?.checkIntervalMs ?? base])];
  all.sort((a, b) => a - b);
  const asSet = timelines[0]?.use ?? quietUse(watch, timing);
  const extremes = second === null ? extremesOf(one, supply) : null;
  return {
    ...found,
    intervals: intervalLives(question, result.supply, all),
    ranges: extremes === null ? [] : rangesOf(question, extremes, all),
    cells: [1, 1.5, 2, 5].map((factor) => {
      const capacityNah = Math.round(measured.capacityNah * factor);
      const cell = { ...result.supply, capacityNah };
      return { capacityNah, lifeMs: lifeMs(spend(asSet, cell), cell) };
    }),
  };
}

/** One timeline is taken as what the device did in that life; without one, the door was quiet. */
function lifeWithUse(
  { watch, timing, timelines }: BatteryQuestion,
  measured: MeasuredLife,
): LifeWithUse {
  const checkIntervalMs = deviceMs(measured.checkIntervalMs ?? watch.checkIntervalMs);
  return {
    measured,
    use: timelines[0]?.use ?? quietUse({ ...watch, checkIntervalMs }, timing),
  };
}

function rangesOf(
  question: BatteryQuestion,
  { asleep, wakes }: { readonly asleep: SupplySettings; readonly wakes: SupplySettings },
  intervalsMs: readonly number[],
): readonly LifeRange[] {
  const asSleep = intervalLives(question, asleep, intervalsMs);
  const asWakes = intervalLives(question, wakes, intervalsMs);
  // Of a wake that costs nothing, time awake is cheaper than sleep. It is not: fewer checks never shorten a life.
  let [leastSoFar, mostSoFar] = [0, 0];
  return asSleep.map(({ checkIntervalMs, lifeMs: one, isSet }, index) => {
    const other = asWakes[index]?.lifeMs ?? null;
    const ends = [one ?? Number.POSITIVE_INFINITY, other ?? Number.POSITIVE_INFINITY];
    leastSoFar = Math.max(leastSoFar, leastOf(ends));
    mostSoFar = Math.max(mostSoFar, greatestOf(ends));
    const end = (ms: number): number | null => (Number.isFinite(ms) ? ms : null);
    return {
      checkIntervalMs,
      leastMs: end(leastSoFar),
      mostMs: end(mostSoFar),
      isSet,
    };
  });
}
