// The numbers of a verdict in rows.
import {
  counted,
  type Diagnostic,
  dayMs,
  durationText,
  numberText,
  plain,
  ppmText,
  roughDurationText,
  roundedDurationText,
  shellWord,
} from '../base/index.js';
import {
  currentText,
  isFlatBeforeEnd,
  isTooShort,
  lifeRangeText,
  poweredCost,
} from '../battery/index.js';
import { deliveryIgnored, isDeliverySet } from './assumptions.js';
import { plainCut } from './columns.js';
import { dayAndTime } from './moments.js';
import type { Paint } from './paint.js';
import { pickedWords } from './picked-words.js';
import { renewalOf } from './renewal.js';
import type { ReplayView } from './replay-view.js';

/** The numbers of a verdict, one a row. */
export function replayFacts(view: ReplayView, paint: Paint): (readonly [string, string])[] {
  const { summary } = view.verdict;
  const { leaveOpenAfterMs, reportWithinMs } = view.watchFile.judge;
  const some = (count: number, colour: (text: string) => string) =>
    count === 0 ? '0' : colour(paint.bold(numberText(count)));
  const picked = pickedWords(view.timeline);
  const late =
    reportWithinMs === null ? '' : ` (reported after more than ${durationText(reportWithinMs)})`;
  const rows: (readonly [string, string, boolean?])[] = [
    ['timeline', spanText(view)],
    ['firmware', plainCut(view.firmware?.file ?? '', 200), view.firmware !== null],
    [
      'word size',
      `${String(view.firmware?.wordBits ?? '')} bits (long and pointers)`,
      (view.firmware?.wordBits ?? null) !== null,
    ],
    [
      'watch file',
      view.watchName === null ? 'none given, so the defaults apply' : plainCut(view.watchName, 200),
    ],
    ['logic', plainCut(view.logicName ?? '', 200), view.logicName !== undefined],
    [
      'leave-opens',
      `${numberText(summary.leaveOpens)} (${durationText(leaveOpenAfterMs)} or longer), of ${counted(summary.openings, 'opening')}`,
    ],
    [reportWithinMs === null ? 'reported' : 'reported in time', numberText(summary.reported)],
    ['late', `${some(summary.late, paint.bad)}${late}`],
    ['MISSED', some(summary.missed, paint.bad)],
    [
      'without charge',
      `${some(summary.unpowered, paint.bad)} of the missed leave-opens`,
      summary.unpowered > 0,
    ],
    ['charge', flatText(view), view.trace.flat.length > 0],
    ['low battery', lowBatteryText(view, paint), view.watchFile.watch.lowBattery !== undefined],
    ['undecided at the end', some(summary.undecided, paint.doubtful), summary.undecided > 0],
    [
      'unknown',
      `${some(summary.unknown, paint.doubtful)} (the log did not see enough of it)`,
      summary.unknown > 0,
    ],
    [
      'FALSE ALARMS',
      `${some(summary.falseAlarms, paint.bad)}, of ${counted(summary.alerts, 'alert')}`,
    ],
    [
      'early alerts',
      `${some(summary.earlyAlerts, paint.doubtful)} (decided before the door counted as left open)`,
      summary.earlyAlerts > 0,
    ],
    ['repeated alerts', numberText(summary.repeats), summary.repeats > 0],
    [
      'worst detection latency',
      summary.worstDelayMs === null
        ? 'none: no leave-open was reported'
        : roundedDurationText(summary.worstDelayMs, 'at most'),
    ],
    ['delivery', deliveryIgnored, isDeliverySet(view.watchFile)],
    [
      renewalOf(view.watchFile.supply).lasts,
      batteryLifeText(view),
      (view.firmware?.failure ?? null) === null,
    ],
    ['checks', numberText(summary.checks)],
    ['picked at random', plainCut(picked ?? '', 400), picked !== null],
  ];
  return rows.flatMap(([label, value, shown]) =>
    shown === false ? [] : [[label, value] as const],
  );
}

/** When its owner learned that the battery is low. */
function lowBatteryText(view: ReplayView, paint: Paint): string {
  const { moments, watchFile } = view;
  const { lowBattery, charges } = view.trace;
  const [first] = lowBattery;
  const { done } = renewalOf(watchFile.supply);
  const charged = charges.length === 0 ? '' : `; ${done} ${counted(charges.length, 'time')}`;
  if (first === undefined) return `${undeliveredText(view, paint)}${charged}`;
  const when = dayAndTime(moments(first.deliveredMs));
  return lowBattery.length === 1
    ? `one message, delivered on ${when}${charged}`
    : `${counted(lowBattery.length, 'message')}, the first delivered on ${when}${charged}`;
}

/** Why no low-battery message was delivered: none was due, or all tries were in vain. */
function undeliveredText(
  { trace: { lowBatteryDue }, timeline, moments, watchFile, firmware }: ReplayView,
  paint: Paint,
): string {
  if (lowBatteryDue === null) {
    if (firmware !== null) return 'the firmware sent no message';
    return `no message was due: no check found the battery low${levelText(watchFile)}`;
  }
  const { firstMs, failed, cutOff, lastMs } = lowBatteryDue;
  const due = `due from ${dayAndTime(moments(firstMs))}, but ${paint.bad('NOT delivered')}`;
  if (lastMs === null) return `${due}: the device never tried`;
  const tries = [
    ...(failed === 0 ? [] : [`${countedTries(failed)} failed (the network was down)`]),
    ...(cutOff === 0 ? [] : [`${countedTries(cutOff)} ${cutOff === 1 ? 'was' : 'were'} cut off`]),
  ];
  const end = lastMs >= timeline.world.lengthMs ? 'at the end of the timeline' : null;
  const last = failed + cutOff === 1 ? 'it ended' : 'the last ended';
  return `${due}: ${tries.join(', ')}; ${last} ${end ?? `on ${dayAndTime(moments(lastMs))}`}`;
}

function countedTries(count: number): string {
  return `${numberText(count)} ${count === 1 ? 'try' : 'tries'}`;
}

function levelText({ watch: { lowBattery } }: ReplayView['watchFile']): string {
  if (lowBattery === undefined) return '';
  const { level } = lowBattery;
  return level.kind === 'voltage'
    ? ` (${numberText(level.voltageMv / 1_000)} V or less)`
    : ` (${ppmText(level.sharePpm)} or less left)`;
}

/** When the charge was used up, and for how long the device was off. */
function flatText({ trace: { flat, charges }, moments, watchFile }: ReplayView): string {
  const [first] = flat;
  if (first === undefined) return '';
  const offMs = flat.reduce((sum, { fromMs, toMs }) => sum + toMs - fromMs, 0);
  const again =
    flat.length > 1
      ? `first on ${dayAndTime(moments(first.fromMs))}, ${numberText(flat.length)} times`
      : `on ${dayAndTime(moments(first.fromMs))}`;
  const { done } = renewalOf(watchFile.supply);
  const charged =
    charges.length === 0 ? `never ${done}` : `${done} ${counted(charges.length, 'time')}`;
  return `used up ${again}; the device was off for ${roundedDurationText(offMs, 'at least')} in all (${charged})`;
}

function batteryLifeText(view: ReplayView): string {
  const { watchFile, use, trace } = view;
  const { supply } = watchFile;
  if (supply === null) return 'unknown: the watch file has no supply section';
  const { cost } = poweredCost(use, trace.flat, supply);
  if (cost.lengthMs === 0) return `unknown: ${noUseText(view)}`;
  const flat =
    trace.flat.length === 0 && isFlatBeforeEnd(cost)
      ? `; ${renewalOf(supply).fresh} does not last to the end of this timeline`
      : '';
  if (isTooShort(cost)) {
    return `unknown: ${tooShortText(view, cost.lengthMs)} (a whole life${wholeLifeCommand(view)})`;
  }
  const held = cost.cells === null ? '' : ', by what the cells hold';
  const from = cost.beforePowerOnMs === 0 ? '' : ' from power-on';
  return `${lifeRangeText(cost)} at the average use of this timeline${from}, ${currentText(cost.meanNa)}${held}${flat}`;
}

function noUseText({ trace, use }: ReplayView): string {
  if (trace.flat.length > 0) return 'the device had no charge in all of this timeline';
  return use.beforePowerOnMs > 0
    ? 'the device has no power in all of this timeline'
    : 'the timeline has no length';
}

function tooShortText({ timeline, trace }: ReplayView, poweredMs: number): string {
  if (timeline.world.lengthMs < dayMs) return 'this timeline is shorter than a day';
  if (trace.flat.length > 0) return 'in this timeline the battery lasted less than a day';
  return `the device is on for only ${roughDurationText(poweredMs)} of this timeline`;
}

/** On a page that is shared the file is named without its folder, so that it says where to run this. */
function wholeLifeCommand({ watchName, isPage }: ReplayView): string {
  const name = watchName === null || watchName === '-' ? null : plain(watchName);
  const command = `dozewatch battery${name === null ? '' : ` -c ${shellWord(name)}`}`;
  if (isPage !== true) return `: ${command}`;
  return `${name === null ? '' : `, in the folder of ${name}`}: npx ${command}`;
}

function spanText({ timeline, moments }: ReplayView): string {
  const { lengthMs } = timeline.world;
  const from = dayAndTime(moments(0));
  const to = dayAndTime(moments(lengthMs));
  return `${from} to ${to} (${roughDurationText(lengthMs)}), ${plain(timeline.start.timeZone)}`;
}

/** A remark on an input as one sentence, with its hint. */
export function remarkText({ message, hint }: Pick<Diagnostic, 'message' | 'hint'>): string {
  return hint === undefined ? message : `${message} (${hint})`;
}
