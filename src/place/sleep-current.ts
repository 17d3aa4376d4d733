// The current of a sleeping device, from readings of a meter in series, or from how far the voltage of its cells falls over
// days: voltage gives what is left by the curve of the cell, and a straight line through that over time the mean current.

import jStat from 'jstat';
import { dayMs } from '../base/index.js';
import { cellNamed, type VoltagePoint } from '../model/index.js';
import type { CurrentReadings } from './current-readings.js';

export interface CurrentEstimate {
  readonly na: number;
  /** Nominally it holds the current in 95 of 100 such sets of readings. */
  readonly lowNa: number;
  readonly highNa: number;
}

/** Why the fall of the voltage shows no current. */
export type VoltageDoubt = 'too-few' | 'too-short' | 'no-fall' | 'too-wide';

export interface SleepCurrent {
  /** Null: fewer than two readings. */
  readonly byMeter: CurrentEstimate | null;
  /** Readings of the meter far from the others, by line: left out. */
  readonly odd: readonly number[];
  readonly byVoltage: CurrentEstimate | null;
  /** Null: it shows one, or there are no voltages. */
  readonly doubt: VoltageDoubt | null;
  /** Both are known, and their intervals do not meet. */
  readonly contradict: boolean;
}

const monthDays = 30;
/** A meter of hand size reads a cell no better; common practice, no source. */
const voltmeterMv = 5;
/** A reading this many times the median, or as many times less, was not of the same sleep. */
const farOff = 1.5;
/** A current that is known no better is of no use in a life: the larger end would be taken for ten times too much. */
const mostTimes = 10;
const tail = 0.025;

export function sleepCurrentOf(readings: CurrentReadings): SleepCurrent {
  const { meter } = readings;
  const middle = medianOf(meter.map(({ na }) => na));
  const isOdd = ({ na }: { readonly na: number }): boolean =>
    meter.length > 2 && (na > middle * farOff || na < middle / farOff);
  const odd = meter.filter(isOdd).map(({ line }) => line);
  const byMeter = meanOf(meter.filter((one) => !isOdd(one)).map(({ na }) => na));
  const { estimate: byVoltage, doubt } = byFall(readings);
  const contradict =
    byMeter !== null &&
    byVoltage !== null &&
    (byVoltage.highNa < byMeter.lowNa || byVoltage.lowNa > byMeter.highNa);
  return { byMeter, odd, byVoltage, doubt, contradict };
}

function medianOf(values: readonly number[]): number {
  const sorted = [...values].sort((one, other) => one - other);
  return sorted[Math.floor(sorted.length / 2)] ?? 0;
}

/** Student's interval of the mean. */
function meanOf(values: readonly number[]): CurrentEstimate | null {
  const count = values.length;
  if (count < 2) return null;
  const mean = values.reduce((sum, one) => sum + one, 0) / count;
  const variance = values.reduce((sum, one) => sum + (one - mean) ** 2, 0) / (count - 1);
  const spread = quantile(count - 1) * Math.sqrt(variance / count);
  return { na: mean, lowNa: Math.max(0, mean - spread), highNa: mean + spread };
}

function quantile(freedom: number): number {
  return jStat.studentt.inv(1 - tail, freedom);
}

interface Fall {
  readonly estimate: CurrentEstimate | null;
  readonly doubt: VoltageDoubt | null;
}

/** Without self-discharge, which a watch file has beside the current. */
function byFall({ volts, cells, series, capacityNah }: CurrentReadings): Fall {
  if (volts.length === 0 || cells === null || capacityNah === null) {
    return { estimate: null, doubt: null };
  }
  const cell = cellNamed(cells);
  if (cell === null || volts.length < 3) return { estimate: null, doubt: 'too-few' };
  const days = volts.map(({ atMs }) => atMs / dayMs);
  const left = volts.map(({ mv }) => leftAt(cell.voltage, mv / series));
  const line = lineThrough(days, left, voltmeterMv / slopeMv(cell.voltage));
  if (line === null) return { estimate: null, doubt: 'too-short' };
  const lost = cell.selfDischarge;
  const lostPerDay = (lost.perMonthPpm + lost.protectionPerMonthPpm) / 1e6 / monthDays;
  const na = (perDay: number): number => Math.max(0, ((perDay - lostPerDay) * capacityNah) / 24);
  const estimate = {
    na: na(-line.slope),
    lowNa: na(-line.slope - line.spread),
    highNa: na(-line.slope + line.spread),
  };
  // An interval that begins at nothing shows no current: it only bounds it.
  if (estimate.lowNa <= 0) return { estimate, doubt: 'no-fall' };
  return { estimate, doubt: estimate.highNa > mostTimes * estimate.lowNa ? 'too-wide' : null };
}

/** The share left, from 0 to 1, at a voltage of one cell at rest. */
function leftAt(curve: readonly VoltagePoint[], mv: number): number {
  const above = curve.findIndex(({ voltageMv }) => voltageMv >= mv);
  if (above <= 0) return (curve.at(above < 0 ? -1 : 0)?.leftPpm ?? 0) / 1e6;
  const [low, high] = [curve[above - 1], curve[above]];
  if (low === undefined || high === undefined) return 0;
  const share = (mv - low.voltageMv) / (high.voltageMv - low.voltageMv);
  return (low.leftPpm + share * (high.leftPpm - low.leftPpm)) / 1e6;
}

/** How many mV the curve falls over the whole charge, on average. */
function slopeMv(curve: readonly VoltagePoint[]): number {
  return (curve.at(-1)?.voltageMv ?? 0) - (curve[0]?.voltageMv ?? 0);
}

/** Least squares; the error of a reading is what the line leaves over, and at least that of the meter. Null: all at once. */
function lineThrough(
  x: readonly number[],
  y: readonly number[],
  leastError: number,
): { readonly slope: number; readonly spread: number } | null {
  const count = x.length;
  const meanX = x.reduce((sum, one) => sum + one, 0) / count;
  const meanY = y.reduce((sum, one) => sum + one, 0) / count;
  const squares = x.reduce((sum, one) => sum + (one - meanX) ** 2, 0);
  // Within hours nothing but the meter changes.
  if (squares < 0.5) return null;
  const slope =
    x.reduce((sum, one, index) => sum + (one - meanX) * ((y[index] ?? 0) - meanY), 0) / squares;
  const rest = y.reduce((sum, one, index) => {
    return sum + (one - meanY - slope * ((x[index] ?? 0) - meanX)) ** 2;
  }, 0);
  const error = Math.max(leastError, Math.sqrt(rest / (count - 2)));
  return { slope, spread: (quantile(count - 2) * error) / Math.sqrt(squares) };
}
