// What decides a battery's life, one line each.
import {
  durationText,
  figure,
  ppmText,
  roughDurationText,
  sideText,
  voltageText,
} from '../base/index.js';
import {
  type BatteryAnswer,
  type ContactCost,
  chargeText,
  currentText,
  type HeartbeatLife,
  lifeRangeText,
  lifeText,
  shareText,
  type WiringLife,
  warningPercent,
} from '../battery/index.js';
import { type BoughtCells, coldRule, linearAt, type SupplySettings } from '../model/index.js';
import type { WatchFile } from '../scenarios/index.js';
import { plainCut } from './columns.js';
import { renewalOf } from './renewal.js';

/** All of it, in parts per million. */
const million = 1_000_000;

export interface Facts {
  readonly watchFile: WatchFile;
  /** As the user named it. */
  readonly name: string | null;
}

export function batteryFacts(answer: BatteryAnswer, watch: Facts): (readonly [string, string])[] {
  const { quiet } = answer;
  const facts = [
    ['battery', supplyText(answer)],
    ['checks', `every ${durationText(watch.watchFile.watch.checkIntervalMs)}`],
    ['mean current', `${currentText(quiet.meanNa)}, self-discharge included`],
    [lasting(answer), lifeWords(answer)],
    ...cellFacts(answer),
    ['low battery', lowText(answer)],
    ['if the watch dies', silenceText(answer)],
    ['contact', contactText(answer.contact)],
  ] as const;
  return [...facts, ...holdFacts(answer), ...unknownFacts(answer, watch)];
}

/** Cells that are thrown away have no charge: a set of them lasts. */
export function lasting({ supply }: BatteryAnswer): string {
  return renewalOf(supply).lasts;
}

function lifeWords({ quiet, supply }: BatteryAnswer): string {
  if (quiet.cells === null) return lifeRangeText(quiet);
  return `${lifeRangeText(quiet)}, by what the cells hold; ${lifeText(quiet.lifeMs)} with ${chargeText(supply.capacityNah)}, as each single life below`;
}

function cellFacts({ supply }: BatteryAnswer): (readonly [string, string])[] {
  const { cells, derating } = supply;
  if (cells === undefined) return [];
  return [
    ['sends', sagText(cells, supply)],
    ...lowVoltage(supply),
    ['capacity', coldText(derating)],
    ['sources', cells.sources.join('; ')],
  ];
}

function coldText(derating: SupplySettings['derating']): string {
  if (derating === null) {
    return 'nothing is taken off for cold, as at 27 °C; for a colder place give celsius';
  }
  const { celsius, sharePpm } = derating;
  const left = `at ${String(celsius)} °C ${shareText(sharePpm)} of it`;
  const rule = coldRule.map((point) => ({ celsius: point.celsius, ppm: point.sharePpm }));
  if (linearAt(rule, celsius) !== sharePpm) return `${left}, by supply.derating`;
  return `${left}, by the rule for any cell (all of it at 27 °C, half at −18 °C: Battery University BU-502), since no published number was found for this one; supply.derating replaces the rule`;
}

/** The least voltage that common boards and radio modules run from: 1.8 V (recalled from data sheets). */
const leastBoardMv = 1_800;

/** Cells without a regulator that do not run a common board even when they are fresh. */
function lowVoltage({ cells, voltageCurve }: SupplySettings): (readonly [string, string])[] {
  const freshMv = voltageCurve?.at(-1)?.voltageMv ?? leastBoardMv;
  if (cells?.regulator !== null || freshMv >= leastBoardMv) return [];
  const most = voltageText(freshMv);
  return [
    [
      'voltage',
      `at most ${most}, and few boards run from less than 1.8 V: unless yours does, give regulator: { kind: boost } or series:, or the life above does not hold`,
    ],
  ];
}

function sagText(cells: BoughtCells, supply: SupplySettings): string {
  const { sag } = cells;
  if (sag === null) {
    return 'the current of a send is not given (supply.connect as a current), so how far it pulls the cells down is unknown';
  }
  const pull = `a send draws ${currentText(sag.currentNa)} from the cells and pulls them down by ${fallText(sag.leastMv)} (fresh) to ${fallText(sag.mostMv)}; it needs ${neededText(cells, sag)}`;
  if (sag.failsAtPpm >= 1_000_000) return `${pull}, which even full cells do NOT give`;
  if (sag.failsAtPpm === 0) return `${pull}, which they give to the end`;
  const { capacityNah, usablePpm, derating } = supply;
  // As in the sentence on a low battery: what the cold holds back counts as left.
  const endPpm = million - (usablePpm * (derating?.sharePpm ?? million)) / million;
  const cold = derating === null ? '' : ', with what the cold holds back';
  return `${pull}, so sends begin to fail when ${shareText(endPpm)} of ${renewalOf(supply).whole} (${chargeText(capacityNah)}) is left${cold}`;
}

/** Small against a voltage: in mV, of which two decimals of a volt would leave nothing. */
function fallText(mv: number): string {
  return mv < 100 ? `${String(mv)} mV` : voltageText(mv);
}

function neededText(
  { series, regulator }: BoughtCells,
  { neededMv, neededBy, keepsMv }: NonNullable<BoughtCells['sag']>,
): string {
  const needed = voltageText(neededMv);
  if (neededBy === 'regulator' && regulator !== null) {
    const keeps =
      keepsMv === 0 ? '' : `, and ${voltageText(keepsMv)} that a ${regulator.kind} one keeps`;
    return `${needed} (${voltageText(regulator.outputMv)} for the output of the regulator${keeps})`;
  }
  const each = series === 1 ? 'the cell is' : `the ${String(series)} cells in series are`;
  return `${needed} (${each} empty at ${voltageText(neededMv / series)}${series === 1 ? '' : ' each'})`;
}

function supplyText({ supply }: BatteryAnswer): string {
  if (supply.cells !== undefined) return cellsText(supply, supply.cells);

  const { capacityNah, usablePpm, derating, selfDischarge, preset } = supply;
  const { firstDayPpm, perMonthPpm, protectionPerMonthPpm } = selfDischarge;
  const cold =
    derating === null
      ? ''
      : `, of which ${shareText(derating.sharePpm)} at ${String(derating.celsius)} °C`;
  const loss = `self-discharge ${lossText(firstDayPpm)} in the first day and ${lossText(perMonthPpm + protectionPerMonthPpm)} per month`;
  const from = preset === null ? '' : `; preset ${preset.name}`;
  return `${chargeText(capacityNah)}, ${sideText(usablePpm / million, 'down')} usable${cold}; ${loss}${from}`;
}

/** Cells that lose little lose less than a tenth of a per cent per month: three figures, as their charge is shown. */
function lossText(ppm: number): string {
  return `${figure(ppm / 10_000)} %`;
}

function cellsText({ selfDischarge, preset }: SupplySettings, cells: BoughtCells): string {
  const { series, parallel, about, capacityNah, regulator } = cells;
  const many = series * parallel;
  const wired =
    many === 1
      ? ''
      : ` (${String(many)} of them: ${String(series)} in series${parallel > 1 ? `, ${String(parallel)} strings in parallel` : ''})`;
  const held = `${chargeText(capacityNah.least)} to ${chargeText(capacityNah.most)}`;
  const { firstDayPpm, perMonthPpm, protectionPerMonthPpm } = selfDischarge;
  const first = firstDayPpm === 0 ? '' : `${lossText(firstDayPpm)} in the first day and `;
  const loss = `self-discharge ${first}${lossText(perMonthPpm + protectionPerMonthPpm)} per month`;
  const through =
    regulator === null
      ? ''
      : `; through a ${regulator.kind} regulator, which draws ${currentText(regulator.quiescentNa)} itself`;
  const from = preset === null ? '' : `; preset ${preset.name}`;
  return `${about}${wired}: ${held}, less at a heavier load; ${loss}${through}${from}`;
}

function lowText(answer: BatteryAnswer): string {
  const { low, supply } = answer;
  if (low === null) {
    return `${renewalOf(supply).fresh} does not last 7 days, so no warning can come 7 days ahead${setText(answer)}`;
  }
  const volts =
    low.voltageMv === null
      ? 'without a voltageCurve the voltage is unknown'
      : `the voltage is then ${voltageText(low.voltageMv)}`;
  const share = `${warningPercent(low.usableLeftPpm)}%`;
  const left = `${chargeText(low.usableLeftNah)} are then left to use (with what cannot be used, ${shareText(low.leftPpm)} of ${renewalOf(supply).whole}, ${chargeText(supply.capacityNah)}; ${volts})`;
  const how =
    answer.lowSet === null
      ? `to be warned 7 days before the end, write under watch: lowBattery: { at: ${share} }`
      : `a warning 7 days before the end needs lowBattery: { at: ${share} }`;
  const use = low.timeline === null ? '' : `, at the average use of ${plainCut(low.timeline, 100)}`;
  return `${how}${use}: ${left}${setText(answer)}`;
}

/** The message that the watch file sets, and how long before the end it comes. */
function setText({ lowSet, supply }: BatteryAnswer): string {
  if (lowSet === null) return '; the watch file sends no such message';
  const { level, usableLeftPpm, endMv, beforeEndMs, busiest } = lowSet;
  const byVoltage = level.kind === 'voltage';
  const set = byVoltage
    ? `; the watch file sets atVoltage: ${String(level.voltageMv / 1_000)}V`
    : `; the watch file sets at: ${ppmText(level.sharePpm)}`;
  if (usableLeftPpm === null) {
    if (endMv === null) return `${set}, and nothing says when the battery has that voltage`;
    return `${set}, a message that NEVER comes: the voltage is still ${voltageText(endMv, 3)} when the usable charge ends`;
  }
  const share = byVoltage ? `, when ${shareText(usableLeftPpm)} of the usable charge is left` : '';
  if (beforeEndMs === null) return `${set}${share}`;
  const about = (ms: number): string => roughDurationText(Math.round(ms));
  const busyMs = busiest?.beforeEndMs ?? null;
  const inUse =
    busiest === null || busyMs === null
      ? ''
      : `, and about ${about(busyMs)} before it at the average use of ${plainCut(busiest.name, 100)}`;
  return `${set}${share}, about ${about(beforeEndMs)} before the end at a door that nobody opens${inUse}${byVoltage ? coldVoltageText(supply) : ''}`;
}

/** Below this the voltage of a cell under the current of a check is clearly lower than in a room. */
const roomCelsius = 20;

/** The curve holds for the cold only as far as it is squeezed into what the cold leaves. */
function coldVoltageText({ derating }: SupplySettings): string {
  if (derating === null || derating.celsius >= roomCelsius) return '';
  return `. A cell at ${String(derating.celsius)} °C also gives less voltage at once, which is not in this figure (common practice, no source), so the message may come earlier: measure the voltage in the cold, or use at: with a share of the charge`;
}

function silenceText(answer: BatteryAnswer): string {
  const { set, otherwise } = answer.heartbeat;
  const other =
    otherwise.intervalMs === null
      ? 'without heartbeats nobody notices'
      : `with a heartbeat per day: ${silent(otherwise)}`;
  return `${silent(set)}; ${other}, and ${lasting(answer)} ${lifeText(otherwise.lifeMs)}`;
}

function silent({ silentForAtMostMs }: HeartbeatLife): string {
  return silentForAtMostMs === null
    ? 'nobody notices (no heartbeat)'
    : `a heartbeat is missing after at most ${roughDurationText(silentForAtMostMs, 'at most')}`;
}

function contactText({
  set,
  bias,
  currentNa,
  fromCellsNa,
  always,
  checkOnly,
}: ContactCost): string {
  const { resistanceOhm, voltageMv } = bias;
  const given =
    fromCellsNa === currentNa
      ? ''
      : `, for which the cells give ${currentText(fromCellsNa)} through the regulator`;
  const pullUp = `${String(resistanceOhm / 1_000)} kΩ at ${String(voltageMv / 1_000)} V conducts ${currentText(currentNa)} while the contact is closed (door shut)${given}`;
  const day = ({ perDayNah, lifeMs }: WiringLife): string =>
    `${chargeText(perDayNah)} per day, life ${lifeText(lifeMs)}`;
  if (set === null) {
    return `no pull-up is given; a common one of ${pullUp}; always powered, it would use ${day(always)}`;
  }
  const isAlways = set.powered === 'always';
  const [is, other] = isAlways ? [always, checkOnly] : [checkOnly, always];
  const words = isAlways ? ['always', 'only for the check'] : ['only for the check', 'always'];
  return `${pullUp}; powered ${words[0] ?? ''} it uses ${day(is)}; powered ${words[1] ?? ''} it would use ${day(other)}`;
}

function holdFacts({ hold, supply }: BatteryAnswer): (readonly [string, string])[] {
  if (hold === null) return [];
  if (hold.currentNa === 0) {
    return [
      [
        'after an alert',
        'this watch stays awake and does nothing until it is reset, at an unknown current (supply.hold is not given)',
      ],
    ];
  }
  const flat = lifeText(hold.lastsMs);
  const text = `this watch stays awake and does nothing until it is reset, at ${currentText(hold.currentNa)}: ${renewalOf(supply).fresh} is flat in ${flat}`;
  return [['after an alert', text]];
}

/** Acts that happen, or may, and whose charge the supply section does not give. */
function unknownFacts(answer: BatteryAnswer, watch: Facts): (readonly [string, string])[] {
  const { boot, connect, heartbeat } = answer.supply;
  const beats = watch.watchFile.watch.heartbeatIntervalMs !== null;
  const unknown = [
    ...(boot === null ? ['boot'] : []),
    ...(connect === null ? ['connect'] : []),
    ...(beats && heartbeat === null ? ['heartbeat'] : []),
  ];
  if (unknown.length === 0) return [];
  return [['left out', `${unknown.join(', ')}: the supply section does not give what they use`]];
}
