// What decides a battery's life, one line each.
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
  const loss = `self-discharge ${shareText(firstDayPpm)} in the first day and ${shareText(perMonthPpm + protectionPerMonthPpm)} per month`;
  const from = preset === null ? '' : `; preset ${preset.name}`;
  return `${chargeText(capacityNah)}, ${shareText(usablePpm)} usable${cold}; ${loss}${from}`;
}

function lowText({ low }: BatteryAnswer): string {
  if (low === null)
    return 'a full charge does not last 7 days, so no warning can come 7 days ahead';
  const volts =
    low.voltageMv === null
      ? ' (without a voltageCurve the voltage is unknown)'
      : `, at ${(low.voltageMv / 1_000).toFixed(2)} V`;
  return `warn when ${shareText(low.leftPpm)} of a full charge is left${volts}: the usable ${chargeText(low.usableLeftNah)} of it last 7 more days`;
}

function silenceText({ heartbeat: { set, otherwise } }: BatteryAnswer): string {
  const other = otherwise.intervalMs === null ? 'without heartbeats' : 'with a heartbeat per day';
  return `${silent(set)}; ${other}: ${silent(otherwise)}, and a charge lasts ${lifeText(otherwise.lifeMs)}`;
}

function silent({ silentForAtMostMs }: HeartbeatLife): string {
  return silentForAtMostMs === null
    ? 'nobody notices (no heartbeat)'
    : `a heartbeat is missing after at most ${roughDurationText(silentForAtMostMs, 'at most')}`;
}

function contactText({ set, bias, currentNa, always, checkOnly }: ContactCost): string {
  const { resistanceOhm, voltageMv } = bias;
  const pullUp = `${String(resistanceOhm / 1_000)} kΩ at ${String(voltageMv / 1_000)} V conducts ${currentText(currentNa)} while the contact is closed (door shut)`;
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

function holdFacts({ hold }: BatteryAnswer): (readonly [string, string])[] {
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
  const text = `this watch stays awake and does nothing until it is reset, at ${currentText(hold.currentNa)}: a full charge is flat in ${flat}`;
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
