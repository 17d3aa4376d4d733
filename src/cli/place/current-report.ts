// The answer of `place --sleep-current`: the current with its interval, the lines for the watch file, and readings that do not fit.
import { counted, numberText } from '../../base/index.js';
import type {
  CurrentEstimate,
  CurrentReadings,
  SleepCurrent,
  VoltageDoubt,
} from '../../place/index.js';
import { cautionWords } from '../layout/caution.js';
import type { Paint } from '../layout/paint.js';
import { factsText, paragraphText } from '../layout/table-text.js';
import { afterCurrent, currentCautions, currentSteps } from './current-sheet.js';

export interface CurrentView {
  readonly found: SleepCurrent;
  readonly readings: CurrentReadings;
}

export function isMeasured({ found }: CurrentView): boolean {
  return supplyLines(found) !== null && found.odd.length === 0 && !found.contradict;
}

export function* currentSheetText(width: number, paint: Paint): Generator<string> {
  yield `${paint.bold('What the device draws asleep: a sheet for measuring it')}\n\n`;
  for (const words of currentCautions) yield paragraphText(paint.doubtful(words), width);
  yield '\n';
  for (const [index, step] of currentSteps.entries()) {
    yield paragraphText(step, width, `  ${String(index + 1)}. `);
  }
  yield `\n${paragraphText(afterCurrent, width)}`;
  yield `\n${paragraphText(paint.dim(cautionWords), width)}`;
}

export function* currentReport(view: CurrentView, width: number, paint: Paint): Generator<string> {
  const { found, readings } = view;
  yield `${paragraphText(paint.bold(headline(found)), width)}\n`;
  yield factsText(
    [
      ['with the meter', `${usedText(readings.meter, found)}: ${estimateText(found.byMeter)}`],
      ['by the voltage', `${usedText(readings.volts, found)}: ${estimateText(found.byVoltage)}`],
    ],
    width,
  );
  // With a meter, what the voltage does not show is no loss.
  if (found.doubt !== null && found.byMeter === null)
    yield `\n${paragraphText(paint.doubtful(doubts[found.doubt]), width)}`;
  const wide = wideText(found);
  if (wide !== null) yield `\n${paragraphText(paint.doubtful(wide), width)}`;
  if (found.odd.length > 0) {
    const lines = found.odd.map(String).join(', ');
    const words = `${counted(found.odd.length, 'reading')} far from the others: was the device awake? Line ${lines}; the figures are without it. Repeat the reading, or leave out the row.`;
    yield `\n${paragraphText(paint.bad(words), width)}`;
  }
  const lines = supplyLines(found);
  if (lines !== null) {
    const title = 'For the watch file (if it has supply: already, the line goes under that)';
    yield `\n${paragraphText(paint.bold(title), width)}`;
    for (const line of lines) yield `  ${line}\n`;
  }
  if (found.contradict) yield `\n${paragraphText(contradictionStep, width)}`;
  yield `\n${paragraphText(paint.dim(cautionWords), width)}`;
}

const contradictionStep =
  'Next: measure once more with the meter, over several wakes, and check the type and the capacity of the cells. Until both readings agree, do not rely on this line.';

const doubts: Readonly<Record<VoltageDoubt, string>> = {
  'too-few': 'Three voltages are the least that show a current: read it again on other days.',
  'too-short':
    'These voltages lie within a day, in which nothing but the meter changes: read it again some days later.',
  'no-fall':
    'The voltage has not fallen enough to show a current: its interval begins at 0. Read on for some weeks, or use a meter.',
  'too-wide':
    'This is too uncertain to use: readings over more days narrow it, or use a meter in series.',
};

/** More than this, from the one end of an interval to the other, is worth more readings. */
const wideTimes = 3;

function wideText(found: SleepCurrent): string | null {
  const one = best(found);
  if (one === null || one.highNa <= wideTimes * one.lowNa) return null;
  return `That is uncertain: ${found.byMeter === null ? 'readings over more days narrow it, or a meter in series' : 'more readings narrow it'}.`;
}

/** The meter where there is one: the voltage is a rough figure. */
function best({ byMeter, byVoltage, doubt }: SleepCurrent): CurrentEstimate | null {
  return byMeter ?? (doubt === null ? byVoltage : null);
}

function headline(found: SleepCurrent): string {
  const one = best(found);
  if (one === null) {
    const { byVoltage } = found;
    return byVoltage === null
      ? 'Not enough readings: two of a meter, or three voltages over days.'
      : `These voltages do not show the current: it may be anything from ${between(byVoltage)}.`;
  }
  const base = `Asleep the device draws about ${microText(one.na, 'nearest')} (${between(one)})`;
  if (!found.contradict) return `${base}.`;
  return `${base} with the meter, but by the voltage ${between(found.byVoltage ?? one)}. Both cannot be: does it wake more often than set, or is the cell not what it says?`;
}

/** `3 readings`, `2 of 3 readings`: those far from the others are not used. */
function usedText(readings: readonly { readonly line: number }[], { odd }: SleepCurrent): string {
  const used = readings.filter(({ line }) => !odd.includes(line)).length;
  const all = counted(readings.length, 'reading');
  return used === readings.length ? all : `${numberText(used)} of ${all}`;
}

function estimateText(one: CurrentEstimate | null): string {
  return one === null
    ? 'nothing found'
    : `${microText(one.na, 'nearest')} (${between(one)} with 95 % confidence)`;
}

function between({ lowNa, highNa }: CurrentEstimate): string {
  return `${microText(lowNa, 'down').replace(' µA', '')} to ${microText(highNa, 'up')}`;
}

const rounds = { down: Math.floor, nearest: Math.round, up: Math.ceil };

/** Tenths of a microampere. */
function microText(na: number, round: keyof typeof rounds): string {
  return `${numberText(rounds[round](na / 100) / 10)} µA`;
}

/** The larger end of the interval: so a life is not taken for longer than it is. */
export function supplyLines(found: SleepCurrent): readonly string[] | null {
  const one = best(found);
  if (one === null) return null;
  const ua = Math.ceil(one.highNa / 100) / 10;
  const of = `the larger end of ${between(one)}`;
  // Only a meter and voltages can contradict each other, and the line takes the meter's.
  const how =
    found.contradict && found.byVoltage !== null
      ? `by the meter: ${of}; by the voltage ${contrary(one, found.byVoltage)}`
      : `${between(one)}: the larger end`;
  return ['supply:', `  sleepCurrent: ${String(ua)}uA   # ${how}`];
}

/** The end of an interval that lies next to another that it does not meet. */
function contrary(one: CurrentEstimate, { lowNa, highNa }: CurrentEstimate): string {
  return lowNa > one.highNa
    ? `at least ${microText(lowNa, 'down')}`
    : `at most ${microText(highNa, 'up')}`;
}

/** Schema `dozewatch/sleep-current/1`. */
export function currentJson({ found, readings }: CurrentView): string {
  const answer = {
    schema: 'dozewatch/sleep-current/1',
    readings: { meter: readings.meter.length, volts: readings.volts.length },
    byMeter: found.byMeter,
    byVoltage: found.byVoltage,
    voltageDoubt: found.doubt,
    oddLines: found.odd,
    contradict: found.contradict,
    supply: supplyLines(found),
  };
  return `${JSON.stringify(answer, null, 2)}\n`;
}
