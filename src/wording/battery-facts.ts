// What decides a battery's life, one line each, in words.
import { roughDurationText } from '../base/index.js';
import {
  type BatteryAnswer,
  type ContactCost,
  chargeText,
  currentText,
  type HeartbeatLife,
  lifeText,
  shareText,
  type WiringLife,
} from '../battery/index.js';
import type { WatchFile } from '../scenarios/index.js';

export interface Facts {
  readonly watchFile: WatchFile;
  /** As the user named it. */
  readonly name: string | null;
}

export function batteryFacts(answer: BatteryAnswer, watch: Facts): (readonly [string, string])[] {
  const { quiet } = answer;
  const facts = [
    ['battery', supplyText(answer)],
    ['checks', `every ${roughDurationText(watch.watchFile.watch.checkIntervalMs)}`],
    ['mean current', `${currentText(quiet.meanNa)}, self-discharge included`],
    ['battery life', lifeText(quiet.lifeMs)],
    ['low battery', lowText(answer)],
    ['if the watch dies', silenceText(answer)],
    ['contact', contactText(answer.contact)],
  ] as const;
  return [...facts, ...holdFacts(answer), ...unknownFacts(answer, watch)];
}

function supplyText({ supply }: BatteryAnswer): string {
  const { capacityNah, usablePpm, derating, selfDischarge, preset } = supply;
  const { firstDayPpm, perMonthPpm, protectionPerMonthPpm } = selfDischarge;
  const cold =
    derating === null
      ? ''
      : `, of which ${shareText(derating.sharePpm)} at ${String(derating.celsius)} °C`;
  const loss = `self-discharge ${shareText(firstDayPpm)} in the first day and ${shareText(perMonthPpm + protectionPerMonthPpm)} a month`;
  const from = preset === null ? '' : `; preset ${preset.name}`;
  return `${chargeText(capacityNah)}, ${shareText(usablePpm)} usable${cold}; ${loss}${from}`;
}

function lowText({ low }: BatteryAnswer): string {
  if (low === null) return 'no warning can come 7 days ahead: a full charge does not last 7 days';
  const volts =
    low.voltageMv === null
      ? ' (no voltageCurve is given, so no voltage can be named)'
      : `, at ${(low.voltageMv / 1_000).toFixed(2)} V`;
  return `warn when ${shareText(low.leftPpm)} of a full charge is left${volts}: ${chargeText(low.usableLeftNah)} of it can be used, for 7 more days of watching`;
}

function silenceText({ heartbeat: { set, otherwise } }: BatteryAnswer): string {
  const other = otherwise.intervalMs === null ? 'without heartbeats' : 'with a heartbeat a day';
  return `${silent(set)}; ${other}: ${silent(otherwise)}, and a charge lasts ${lifeText(otherwise.lifeMs)}`;
}

function silent({ silentForAtMostMs }: HeartbeatLife): string {
  return silentForAtMostMs === null
    ? 'nothing ever tells its owner (no heartbeat)'
    : `its owner can miss a heartbeat after at most ${roughDurationText(silentForAtMostMs, 'at most')}`;
}

function contactText({ set, bias, currentNa, always, checkOnly }: ContactCost): string {
  const { resistanceOhm, voltageMv } = bias;
  const pullUp = `${String(resistanceOhm / 1_000)} kΩ at ${String(voltageMv / 1_000)} V conducts ${currentText(currentNa)} while the contact is closed (door shut)`;
  const day = ({ perDayNah, lifeMs }: WiringLife): string =>
    `${chargeText(perDayNah)} a day, life ${lifeText(lifeMs)}`;
  if (set === null) {
    return `nothing is said of a pull-up; a common one of ${pullUp}: powered always it would take ${day(always)}`;
  }
  const isAlways = set.powered === 'always';
  const [is, other] = isAlways ? [always, checkOnly] : [checkOnly, always];
  const words = isAlways ? ['always', 'only for the check'] : ['only for the check', 'always'];
  return `${pullUp}; powered ${words[0] ?? ''} it takes ${day(is)}; powered ${words[1] ?? ''} it would take ${day(other)}`;
}

function holdFacts({ hold }: BatteryAnswer): (readonly [string, string])[] {
  if (hold === null) return [];
  if (hold.currentNa === 0) {
    return [
      [
        'after an alert',
        'this watch stays awake and does nothing until reset, at a current that nobody gave: hold',
      ],
    ];
  }
  const flat = lifeText(hold.lastsMs);
  const text = `this watch stays awake and does nothing until reset, at ${currentText(hold.currentNa)}: flat in ${flat}, from a full charge`;
  return [['after an alert', text]];
}

/** Acts that happen, or may, and that the supply says nothing of. */
function unknownFacts(answer: BatteryAnswer, watch: Facts): (readonly [string, string])[] {
  const { boot, connect, heartbeat } = answer.supply;
  const beats = watch.watchFile.watch.heartbeatIntervalMs !== null;
  const unknown = [
    ...(boot === null ? ['boot'] : []),
    ...(connect === null ? ['connect'] : []),
    ...(beats && heartbeat === null ? ['heartbeat'] : []),
  ];
  if (unknown.length === 0) return [];
  return [['counted as nothing', `${unknown.join(', ')}: supply does not say what they take`]];
}
