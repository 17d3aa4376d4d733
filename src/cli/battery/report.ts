// The report of `battery` for a terminal: the life first, then what decides it, then where the charge goes.
import { dayMs, durationText, numberText, roughDurationText, sentence } from '../../base/index.js';
import {
  type BatteryAnswer,
  chargeText,
  currentText,
  type IntervalLife,
  isFlatBeforeEnd,
  isTooShort,
  type LifeRange,
  lifeRangeText,
  lifeText,
  shareText,
  type UseCost,
} from '../../battery/index.js';
import { type MeasuredLife, presetNumbers, type SupplySettings } from '../../model/index.js';
import {
  batteryFacts,
  type Facts,
  lasting,
  plainCut,
  type Renewal,
  renewalOf,
} from '../../wording/index.js';
import type { Paint } from '../layout/paint.js';
import { factsText, paragraphText, tableText } from '../layout/table-text.js';

export interface BatteryStyle {
  readonly width: number;
  readonly paint: Paint;
}

/** With what lasts: a charge, or a set of cells. */
interface NamedStyle extends BatteryStyle {
  readonly lasts: string;
  readonly renewal: Renewal;
}

export function batteryReport(answer: BatteryAnswer, watch: Facts, style: BatteryStyle): string {
  const { paint, width } = style;
  const { quiet, timelines } = answer;
  const name = plainCut(watch.name ?? 'the watch', 200);
  const [first] = timelines;
  const used =
    first === undefined || first.cost.lengthMs === 0
      ? ''
      : `${paint.bold(lifeRangeText(first.cost))} at the average use of ${plainCut(first.name, 100)}${unanswered(first)}, and `;
  const headline = `${paint.bold(name)}: ${measuredBy(answer)}${lasting(answer)} ${used}${paint.bold(lifeRangeText(quiet))} at a door that nobody opens.`;
  const named = { ...style, lasts: lasting(answer), renewal: renewalOf(answer.supply) };
  const parts = [
    `${headline}\n`,
    `\n${factsText(batteryFacts(answer, watch), width)}`,
    calibrationText(answer, named),
    `\nWhere the charge goes at a door that nobody opens\n${partsTable(quiet, width, dayMs)}`,
    ...timelines.map((timeline) => timelineText(timeline, named)),
    `\nLife against check interval${ofCell(answer)}, at a door that nobody opens\n${intervalTable(answer.intervals, named)}`,
    presetText(answer.supply, width),
    `\n${paragraphText(estimateCaution, width)}${paragraphText(named.renewal.caution, width)}`,
  ];
  return parts.join('');
}

/** Whom a timeline lacks whose first alert ends all watching; empty: nobody, or resets are in it. */
function unanswered({ cost, resets }: BatteryAnswer['timelines'][number]): string {
  return cost.heldMs > 0 && resets === 0
    ? ', in which nobody resets the device after an alert (year uses answer.afterAlert)'
    : '';
}

/** Beside another table for another cell, and where cells of a kind may hold more or less. */
function ofCell({ calibration, supply }: BatteryAnswer): string {
  const held = chargeText(supply.capacityNah);
  if (calibration !== null) return ` with the ${held} of the watch file`;
  return supply.cells === undefined ? '' : ` with cells of ${held}`;
}

const estimateCaution =
  'These are estimates from the currents given: cells age, and cold can take more than a curve shows.';

/** What a life that was measured has changed, before the answer that follows from it. */
function measuredBy({ calibration, supply }: BatteryAnswer): string {
  if (calibration === null) return '';
  const { measured, second } = calibration;
  const other =
    supply.capacityNah !== measured.capacityNah
      ? ` (with ${chargeText(measured.capacityNah)}; the watch file has ${chargeText(supply.capacityNah)}${supply.cells === undefined ? '' : ' in its cells'})`
      : '';
  return `by the ${second === null ? 'life' : 'lives'} that you measured${other}, `;
}

function timelineText(
  { name, cost, flatMs, resets }: BatteryAnswer['timelines'][number],
  { paint, width, lasts, renewal }: NamedStyle,
): string {
  const flat =
    flatMs > 0
      ? ` ${paint.bad(`${sentence(`${renewal.usedUp.now} before its end`).replace(/\.$/u, '')}: for ${roughDurationText(flatMs, 'at least')} of it the device is off.`)}`
      : isFlatBeforeEnd(cost)
        ? ` ${paint.bad(sentence(`${renewal.fresh} would not last to the end of it`))}`
        : '';
  const held =
    cost.heldMs > 0
      ? ` It stays awake and does nothing for ${roughDurationText(cost.heldMs)} of it${resets === 0 ? ', because no reset is in it' : ''}, so this average is of this timeline only.`
      : '';
  const life =
    cost.lengthMs === 0
      ? 'the device has no power in all of it.'
      : `${lasts} ${lifeRangeText(cost)} at this average use, ${currentText(cost.meanNa)}.`;
  const short =
    cost.lengthMs > 0 && flatMs === 0 && isTooShort(cost)
      ? ' It is short: openings and heartbeats of a whole day may be missing from this average, or count too much.'
      : '';
  const poweredMs = cost.lengthMs + flatMs;
  const length =
    cost.beforePowerOnMs === 0 || poweredMs === 0
      ? roughDurationText(cost.beforePowerOnMs + poweredMs)
      : `${roughDurationText(poweredMs)} from power-on`;
  const lead = `${paint.bold(plainCut(name, 100))} (${length}): ${life}`;
  return `\n${paragraphText(`${lead}${flat}${held}${short}`, width)}${partsTable(cost, width, null)}`;
}

const activityWords = {
  sleep: 'asleep',
  boot: 'wakes and checks',
  blink: 'blinks',
  connect: 'alerts sent',
  failedAttempt: 'failed attempts',
  heartbeat: 'heartbeats',
  joinWait: 'waiting for the network',
  hold: 'awake until reset',
  contactBias: 'through the closed contact',
  selfDischarge: 'self-discharge',
} as const;

/** @param perMs shows what goes in such a time in place of the use's own. */
function partsTable(cost: UseCost, width: number, perMs: number | null): string {
  const columns = [
    { title: 'activity' },
    { title: 'times', align: 'right' },
    { title: 'lasting', align: 'right' },
    { title: 'charge', align: 'right' },
    { title: 'share', align: 'right' },
  ] as const;
  const scale = perMs === null ? 1 : perMs / cost.lengthMs;
  const rows = cost.parts
    .filter(({ chargeNah, timeMs }) => chargeNah > 0 || timeMs > 0)
    .map(({ activity, count, timeMs, chargeNah, sharePpm }) => ({
      cells: [
        activityWords[activity],
        count === null ? '' : numberText(Math.round(count * scale)),
        roughDurationText(Math.round(timeMs * scale)),
        chargeText(Math.round(chargeNah * scale)),
        shareText(sharePpm),
      ],
      below: [],
    }));
  const total = {
    cells: [
      perMs === null ? 'all' : 'all, in a day',
      '',
      '',
      chargeText(Math.round(cost.chargeNah * scale)),
      '',
    ],
    below: [],
  };
  return [...tableText(columns, [...rows, total], width)].join('');
}

function intervalTable(
  lives: readonly IntervalLife[],
  { width, paint, lasts }: NamedStyle,
): string {
  const columns = [{ title: 'every', align: 'right' }, { title: lasts }] as const;
  const rows = lives.map(({ checkIntervalMs, lifeMs, isSet }) => {
    const life = isSet ? `${paint.bold(lifeText(lifeMs))}  as set` : lifeText(lifeMs);
    return { cells: [durationText(checkIntervalMs), life], below: [] };
  });
  return [...tableText(columns, rows, width)].join('');
}

const oneLife =
  'One life does not separate sleep from wakes: at the one end wakes take nothing and sleep takes all of the charge, at the other end sleep takes nothing. Measure a second life at another check interval, and give --calibrate twice.';

function measuredText({ capacityNah, lifeMs, checkIntervalMs }: MeasuredLife): string {
  const at = checkIntervalMs === undefined ? '' : ` at ${durationText(checkIntervalMs)}`;
  return `${chargeText(capacityNah)} lasted ${durationText(lifeMs)}${at}`;
}

/** pC as millicoulombs: 3.6 mC are a µAh. */
function wakeText(wakePc: number): string {
  return `${String(Number((wakePc / 1e9).toPrecision(3)))} mC`;
}

function rangeTable(
  lives: readonly IntervalLife[],
  ranges: readonly LifeRange[],
  { width, paint, lasts }: NamedStyle,
): string {
  const columns = [
    { title: 'every', align: 'right' },
    { title: `${lasts}, if wakes take what the file says` },
    { title: 'at least' },
    { title: 'at most' },
  ] as const;
  const rows = lives.map(({ checkIntervalMs, lifeMs, isSet }, index) => ({
    cells: [
      durationText(checkIntervalMs),
      isSet ? `${paint.bold(lifeText(lifeMs))}  as set` : lifeText(lifeMs),
      lifeText(ranges[index]?.leastMs ?? null),
      lifeText(ranges[index]?.mostMs ?? null),
    ],
    below: [],
  }));
  return [...tableText(columns, rows, width)].join('');
}

function calibrationText({ calibration }: BatteryAnswer, style: NamedStyle): string {
  if (calibration?.result.kind !== 'explained') return '';
  const { measured, second, result, intervals, ranges, cells } = calibration;
  const { paint, width } = style;
  const life = [measured, ...(second === null ? [] : [second])].map(measuredText).join(' and ');
  const columns = [{ title: 'cell', align: 'right' }, { title: style.lasts }] as const;
  const rows = cells.map(({ capacityNah, lifeMs }) => ({
    cells: [chargeText(capacityNah), lifeText(lifeMs)],
    below: [],
  }));
  return [
    '\n',
    paragraphText(
      `${paint.bold(second === null ? 'From the measured life' : 'From the measured lives')}: a sleep current of ${paint.bold(currentText(result.sleepNa))}${result.wakePc === null ? ' explains' : ` and ${paint.bold(wakeText(result.wakePc))} per wake explain`} why ${life}.`,
      width,
    ),
    `With this and the cell of the measurement (${chargeText(measured.capacityNah)}), at a door that nobody opens:\n${ranges.length === 0 ? intervalTable(intervals, style) : rangeTable(intervals, ranges, style)}`,
    ...(ranges.length === 0 ? [] : [paragraphText(oneLife, width)]),
    `With this, at the interval as set:\n${[...tableText(columns, rows, width)].join('')}`,
  ].join('');
}

/** The numbers that a preset filled in, each with how sure it is; empty when none did. */
export function presetText({ preset }: SupplySettings, width: number): string {
  if (preset === null || preset.filled.length === 0) return '';
  const rows = presetNumbers(preset.name)
    .filter(({ key }) => preset.filled.includes(key))
    .map(({ key, value, basis, source }) => {
      const written =
        typeof value === 'string'
          ? value
          : Object.entries(value)
              .map(([name, amount]) => `${name} ${amount}`)
              .join(', ');
      return [key, `${written} (${basis}: ${source})`] as const;
    });
  const title = `From the preset ${preset.name}, not measured on your board (read: from the source; recalled: not checked against the source):`;
  return `\n${paragraphText(title, width)}${factsText(rows, width)}`;
}
