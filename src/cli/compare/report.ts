// What a comparison found, for people and for programs.
import {
  counted,
  durationText,
  listText,
  measuredPercentText,
  numberText,
  plain,
  roughDurationText,
  roundedDurationText,
  shellWord,
} from '../../base/index.js';
import type { ClockEstimate, Comparison, HourShift } from '../../compare/index.js';
import { dayAndTime, isoTime, type Moments } from '../../wording/index.js';
import { notInFileText } from '../layout/not-in-file.js';
import type { Paint } from '../layout/paint.js';

/** Beyond the clock error of the watch file, a clock is believed to err by this share: common practice, no source. */
const believedShare = 0.15;

type Gap = Comparison['missingChecks'][number];

type Allowed = CompareView['allowed'];

export interface CompareView {
  readonly found: Comparison;
  /** How often the watch sends a heartbeat; null: never. */
  readonly heartbeatMs: number | null;
  readonly deviceLog: string;
  readonly door: string;
  /** The watch file; null: the defaults. */
  readonly config: string | null;
  /** Rows of the device log outside the door's timeline. */
  readonly outside: number;
  /** The options that say how to read the door log. */
  readonly logWords: readonly string[];
  /** What compares only the days around the first opening that was not judged; null: all were judged, or the door comes from a scenario, which cannot be cut. */
  readonly fewerDaysWords: readonly string[] | null;
  /** What asks about the silence at the end of these logs. */
  readonly silenceWords: readonly string[];
  readonly moments: Moments;
  /** All times of the device log are off by whole hours, and the command that reads them right; null: they are not. */
  readonly shift: (HourShift & { readonly words: readonly string[] | null }) | null;
  /** What the watch file allows the clock; 0 where it does not say. */
  readonly allowed: { readonly least: number; readonly most: number; readonly isStated: boolean };
}

type Judged = Pick<CompareView, 'found' | 'allowed' | 'heartbeatMs'>;

/** Whether the device did all that the machine would have done, on a clock as the watch file has it. */
export function isAsItShould(judged: Judged): boolean {
  const { found, allowed } = judged;
  const { missingChecks, misreadings, alerts, clock, missingHeartbeats, otherInterval } = found;
  const wrong =
    missingChecks.length + misreadings.length + alerts.length + found.checksAfterHold.length;
  const isClockWrong = allowed.isStated && isClockOutside(clock, allowed);
  const others = missingHeartbeats.length + found.notInFile.length + found.notJudgedOpenings.length;
  const isOther = otherInterval !== null || areBeatsLate(judged);
  return wrong + others === 0 && !isOther && !isClockWrong;
}

/** The whole interval lies outside what the watch file allows, or outside of 0 where it does not say: every crystal's does. */
function isClockOutside(clock: ClockEstimate | null, allowed: Allowed): boolean {
  return clock !== null && (clock.lowPpm > allowed.most || clock.highPpm < allowed.least);
}

export function compareJson(view: CompareView): string {
  const { found, deviceLog, outside, allowed, shift } = view;
  const { clock, ...rest } = found;
  const json = {
    schema: 'dozewatch/compare/1',
    deviceLog,
    rowsOutside: outside,
    asItShould: isAsItShould(view),
    clock,
    clockInFile: allowed.isStated,
    fitsIfLaterByHours: shift?.hours ?? null,
    clockOutsideFile: allowed.isStated && isClockOutside(clock, allowed),
    ...rest,
  };
  return `${JSON.stringify(json, null, 2)}\n`;
}

/** Each list is cut after so many; JSON has them all. */
const mostLines = 20;

function asExpected({ found }: CompareView): string {
  return found.onlyMessages
    ? 'the device agrees with the watch file, as far as messages show'
    : 'the device did what the watch file says';
}

function beatsText(came: number, missing: number): string {
  return came === 0
    ? `NO HEARTBEAT HAS EVER COME (about ${numberText(missing)} were due)`
    : `about ${counted(missing, 'heartbeat')} missing`;
}

/** A log of alerts alone reads like a device whose heartbeats do not work. */
function heartbeatsText(found: CompareView['found'], everyMs: number): string {
  const { heartbeats, alertsDelivered, missingHeartbeats, heartbeatsWhileDown } = found;
  const down =
    heartbeatsWhileDown === 0
      ? ''
      : `; about ${numberText(heartbeatsWhileDown)} more ${heartbeatsWhileDown === 1 ? 'was' : 'were'} due while the network was down, and such a one is not tried again`;
  if (heartbeats === 0 && missingHeartbeats.length === 0) {
    return down === '' ? `0: none was due (one every ${durationText(everyMs)})` : `0${down}`;
  }
  return heartbeats === 0 && alertsDelivered > 0
    ? `0, though alerts came: either heartbeats do not work, or the log leaves them out${down}`
    : `${String(heartbeats)}${latenessText(found)}${down}`;
}

/** Heartbeats that came, and not as soon as the watch file has it. */
function latenessText({ lateHeartbeats, otherInterval }: CompareView['found']): string {
  if (lateHeartbeats === null) return '';
  const why = !lateHeartbeats.isExplained
    ? 'which a slower clock, another heartbeatInterval or a reset explains'
    : otherInterval === null
      ? 'as the clock error explains'
      : 'as the interval of the checks explains';
  return `, ${lateText(lateHeartbeats)}, ${why}`;
}

function lateText({ latestByMs }: NonNullable<Comparison['lateHeartbeats']>): string {
  return `up to ${roughDurationText(latestByMs, 'at most')} later than the watch file allows`;
}

/** Where nothing explains it. A log of messages does not show resets, from which an interval counts again. */
function areBeatsLate({ found, allowed, heartbeatMs }: Judged): boolean {
  const { lateHeartbeats, onlyMessages, heartbeats } = found;
  if (lateHeartbeats === null || lateHeartbeats.isExplained) return false;
  const { count, latestByMs } = lateHeartbeats;
  if (!onlyMessages) return true;
  const isClock = !allowed.isStated && latestByMs <= believedShare * (heartbeatMs ?? 0);
  return count > 1 && 2 * count >= heartbeats && !isClock;
}

function heartbeatsRow({ found, heartbeatMs }: CompareView): readonly string[] {
  if (heartbeatMs !== null) return [`  heartbeats        ${heartbeatsText(found, heartbeatMs)}`];
  return found.heartbeats === 0
    ? []
    : [`  heartbeats        ${String(found.heartbeats)}, and the watch file sends none`];
}

function intervalText({
  everyMs,
  dueMs,
}: NonNullable<CompareView['found']['otherInterval']>): string {
  return `THE CHECKS ARE about ${roundedDurationText(everyMs)} apart, and by the watch file ${roundedDurationText(dueMs)}`;
}

export function compareReport(view: CompareView, paint: Paint): string {
  const { found, moments } = view;
  const at = (ms: number): string => dayAndTime(moments(ms));
  const beats = found.missingHeartbeats.reduce((sum, { count }) => sum + count, 0);
  const notSent = found.alerts.filter(({ kind }) => kind === 'not-sent');
  const without = found.alerts.filter(({ kind }) => kind === 'sent-without-reason');
  const clockIsOutside = isClockOutside(found.clock, view.allowed);
  const notInFile = notInFileText(found.notInFile);
  const verdict = isAsItShould(view)
    ? paint.good(asExpected(view))
    : [
        found.silentSinceMs === null ? null : `NOTHING CAME since ${at(found.silentSinceMs)}`,
        found.otherInterval === null ? null : intervalText(found.otherInterval),
        found.checksAfterHold.length > 0
          ? 'CHECKS GO ON AFTER AN ALERT, though the watch file holds until a reset'
          : null,
        beats > 0 ? beatsText(found.heartbeats, beats) : null,
        found.lateHeartbeats !== null && areBeatsLate(view)
          ? `heartbeats ${lateText(found.lateHeartbeats)}`
          : null,
        missingText(view),
        found.misreadings.length > 0
          ? `${counted(found.misreadings.length, 'check')} read wrongly`
          : null,
        notSent.length > 0
          ? `${counted(notSent.length, 'alert')} ${found.onlyMessages ? 'DID NOT ARRIVE' : 'NOT SENT'}`
          : null,
        notJudgedText(found),
        without.length > 0 ? `${counted(without.length, 'alert')} sent without a reason` : null,
        clockIsOutside && view.allowed.isStated
          ? 'the clock error is OUTSIDE the range of the watch file'
          : null,
        notInFile === '' ? null : notInFile,
      ]
        .filter((words) => words !== null)
        .join('; ');
  const head = [
    `${plain(view.deviceLog)} against ${plain(view.door)}: ${verdict}${verdict.endsWith('?') ? '' : '.'}`,
    ...shiftLines(view),
    '',
    ...(found.onlyMessages
      ? ['  checks            none: only messages, so checks and clock are unknown']
      : [`  checks            ${String(found.checks)}`]),
    `  alerts delivered  ${String(found.alertsDelivered)}`,
    ...heartbeatsRow(view),
    ...(found.onlyMessages ? [] : [`  clock error       ${clockWords(found)}`]),
    ...(found.clock !== null && clockIsOutside ? clockLines(found.clock, view.allowed) : []),
    ...(view.outside > 0
      ? [`  rows left out     ${String(view.outside)}, outside the door's timeline`]
      : []),
    ...unknownRow(view),
    ...openingsRow('not judged', found.notJudgedOpenings, {
      moments,
      why: 'whose alert may be missing',
    }),
    ...openingsRow('may hold', found.heldOpenings, {
      moments,
      why: `left out: the device may have been holding after an alert before ${found.heldOpenings.length === 1 ? 'it' : 'each'}, and no message since shows a reset`,
    }),
  ];
  const last = [untilLine(view), fewerDaysLine(view), nextLine(view), beatsLine(view)].filter(
    (line) => line !== null,
  );
  return `${[...head, ...listsOf(view), ...(last.length === 0 ? [] : ['', ...last])].join('\n')}\n`;
}

const fewOpenings = 3;

/** Whether alerts are missing is open: no verdict may pass over that. */
function notJudgedText({ notJudgedOpenings }: CompareView['found']): string | null {
  const { length } = notJudgedOpenings;
  return length === 0
    ? null
    : `NOT JUDGED whether an alert is missing for ${counted(length, 'opening')}, since that takes too long`;
}

/** Openings that are compared with nothing. */
function unknownRow({ found, moments }: CompareView): readonly string[] {
  const { unknownOpenings } = found;
  return openingsRow('unknown', unknownOpenings, {
    moments,
    why: `left out: the door log did not see enough of ${unknownOpenings.length === 1 ? 'it' : 'each'}`,
  });
}

function openingsRow(
  name: string,
  openings: readonly number[],
  { moments, why }: { readonly moments: Moments; readonly why: string },
): readonly string[] {
  if (openings.length === 0) return [];
  const shown = openings.slice(0, fewOpenings).map((ms) => dayAndTime(moments(ms)));
  const rest = openings.length - shown.length;
  const all = rest === 0 ? shown : [...shown, counted(rest, 'more', 'more')];
  return [`  ${name.padEnd(18)}${counted(openings.length, 'opening')}, ${why} (${listText(all)})`];
}

/** What is missing, wrong or late, each with its heading. */
function listsOf({ found, moments }: CompareView): readonly string[] {
  const at = (ms: number): string => dayAndTime(moments(ms));
  const notSent = found.alerts.filter(({ kind }) => kind === 'not-sent');
  const without = found.alerts.filter(({ kind }) => kind === 'sent-without-reason');
  const gap = ({ afterMs, beforeMs, count, everyMs }: Gap): string => {
    const until = beforeMs === null ? 'to the end' : `and ${at(beforeMs)}`;
    const due = everyMs === undefined ? '' : `, where one was due every ${durationText(everyMs)}`;
    return `about ${String(count)} ${beforeMs === null ? 'from' : 'between'} ${at(afterMs)} ${until}${due}`;
  };
  return [
    list('Heartbeats that never came', found.missingHeartbeats, gap),
    list('Checks that never happened', found.missingChecks, (one) =>
      one.isRetry === true ? `${gap(one)} (retry.interval)` : gap(one),
    ),
    list(
      'First checks after an alert that the watch file holds after',
      found.checksAfterHold,
      ({ alertMs, atMs }) => `${at(atMs)}, after the alert of ${at(alertMs)}`,
    ),
    list(
      'Checks that read wrongly',
      found.misreadings,
      ({ atMs, read }) => `${at(atMs)}: read ${read}`,
    ),
    list(
      found.onlyMessages
        ? 'Openings that the watch file would have reported, and no alert came'
        : 'Alerts that the watch file would have sent and the device did not',
      notSent,
      ({ atMs }) => at(atMs),
    ),
    list('Alerts that the device sent and the watch file would not have', without, ({ atMs }) =>
      at(atMs),
    ),
    list('Alerts that came long after the door was shut', found.lateAlerts, (late) => {
      const since = roughDurationText(late.atMs - late.shutMs, 'at most');
      const whose =
        late.missingMs === null ? '' : `; perhaps the missing one for ${at(late.missingMs)}`;
      return `${at(late.atMs)}: ${since} after the door was shut${whose}`;
    }),
  ].flat();
}

/** All of it would fit at another hour: that comes before every other explanation. */
function shiftLines({ shift }: CompareView): readonly string[] {
  if (shift === null) return [];
  const { hours, wrong, wrongThen } = shift;
  const later = `${String(Math.abs(hours))} h ${hours > 0 ? 'later' : 'earlier'}`;
  const left = wrongThen === 0 ? 'none' : `only ${numberText(wrongThen)}`;
  const which = wrongThen === 0 ? 'it fits the door' : 'it fits the door much better';
  return [
    `If all times of the device log are taken as ${later}, ${which}: then ${left} of the ${numberText(wrong)} differences in readings and alerts ${wrongThen > 1 ? 'are' : 'is'} left. It looks like another time zone, or summer time.`,
  ];
}

/** What to do about it; null: nothing. */
function nextLine(view: CompareView): string | null {
  const { found, allowed, config, door, logWords, silenceWords, shift } = view;
  const file = config === null ? '' : ` -c ${shellWord(plain(config))}`;
  const { silentSinceMs, misreadings, missingChecks, alerts, onlyMessages } = found;
  if (shift !== null) {
    return shift.words === null
      ? 'Next: correct the times of the log that has them wrong, and compare again.'
      : `Next: compare it at these times: dozewatch ${shift.words.map((word) => shellWord(plain(word))).join(' ')}`;
  }
  if (silentSinceMs !== null) {
    const words = silenceWords.map((word) => shellWord(plain(word))).join(' ');
    return silenceWords.includes('-')
      ? null
      : `Next: what this silence can mean, and tests at the door, with the day of the last charge for DATE: dozewatch ${words}`;
  }
  if (found.otherInterval !== null || isBeyondBelief(found.clock, allowed)) {
    return 'Next: see whether this is the watch file of this device, and whether other firmware was flashed; then compare again.';
  }
  const areUnsent = onlyMessages && alerts.some(({ kind }) => kind === 'not-sent');
  const steps = [
    found.notInFile.length > 0
      ? 'give the watch file of this device with -c, or add to this one what the device sends (watch.heartbeatInterval, watch.lowBattery); then compare again'
      : null,
    allowed.isStated && isClockOutside(found.clock, allowed)
      ? `change clockError as above, then prove the bounds again: dozewatch bounds${file}`
      : null,
    areBeatsLate(view)
      ? 'see whether watch.heartbeatInterval is that of this device, and whether its clock is slower than device.clockError'
      : null,
    misreadings.length > 0 ? 'measure the gaps of the contact again: dozewatch place' : null,
    found.checksAfterHold.length > 0
      ? 'see whether this is the watch file of this device, whether other firmware was flashed, or whether the log leaves out resets'
      : null,
    missingChecks.some(({ beforeMs, isRetry }) => beforeMs !== null && isRetry !== true)
      ? 'find out what kept the device from checking (no power, or a hang)'
      : null,
    missingChecks.some(({ beforeMs, isRetry }) => beforeMs !== null && isRetry === true)
      ? 'find out whether the firmware tries again after a failed attempt (retry.interval)'
      : null,
    areUnsent
      ? `ask whether the network was down then, and test the whole chain at the door, from the switch to you: dozewatch drill${file}`
      : null,
    onlyMessages && alerts.some(({ kind }) => kind === 'sent-without-reason')
      ? 'see whether the door log has all openings, and whether this is the watch file of this device'
      : null,
    alerts.length > 0 && !onlyMessages
      ? `run your firmware through the same door: dozewatch rig FIRMWARE.c ${shellWord(plain(door))}${file}${logWords.map((word) => ` ${shellWord(plain(word))}`).join('')}`
      : null,
  ].filter((step) => step !== null);
  return steps.length === 0 ? null : steps.map((step) => `Next: ${step}`).join('\n');
}

/** What judges openings that took too long together; null: all were judged, or the timeline cannot be cut. */
function fewerDaysLine({ found, fewerDaysWords: words }: CompareView): string | null {
  if (found.notJudgedOpenings.length === 0 || words === null) return null;
  return words.includes('-')
    ? 'Next: judge fewer days, with --from and --until.'
    : `Next: judge fewer days, such as those of the first opening that was not judged: dozewatch ${words.map((word) => shellWord(plain(word))).join(' ')}`;
}

/** Heartbeats alone that do not come have another cause than a device that does not check; null: none are missing. */
function beatsLine({ found }: CompareView): string | null {
  const { heartbeats, missingHeartbeats, missingChecks, alertsDelivered } = found;
  const areAlone = heartbeats === 0 ? alertsDelivered > 0 : missingChecks.length === 0;
  return missingHeartbeats.length > 0 && areAlone
    ? 'Find out where the heartbeats are lost: in the firmware, in the network, or in this log.'
    : null;
}

/** Where the device log simply ends before the door's, the last of the missing checks are behind its end. Null: none are missing. */
function missingText({ found, moments }: CompareView): string | null {
  const within = found.missingChecks.filter(({ beforeMs }) => beforeMs !== null);
  const end = found.missingChecks.find(({ beforeMs }) => beforeMs === null);
  const sum = (ofRetries: boolean): number =>
    within
      .filter(({ isRetry = false }) => isRetry === ofRetries)
      .reduce((total, { count }) => total + count, 0);
  const [checks, retries] = [sum(false), sum(true)];
  const parts = [
    checks === 0 ? null : `${aboutCounted(checks, 'check')} never happened`,
    retries === 0
      ? null
      : `${aboutCounted(retries, 'retry', 'retries')} (retry.interval) never happened`,
    end === undefined
      ? null
      : `${aboutCounted(end.count, 'check')} ${end.count === 1 ? 'is' : 'are'} missing${within.length === 0 ? ', all' : ''} after ${dayAndTime(moments(end.afterMs))}, where the device log ends`,
  ].filter((part) => part !== null);
  return parts.length === 0 ? null : parts.join('; ');
}

/** The count of a gap follows from its length. */
function aboutCounted(count: number, one: string, many?: string): string {
  return `${count === 1 ? '' : 'about '}${counted(count, one, many)}`;
}

/** How to compare only what the device log covers; null: it has no early end. */
function untilLine({ found, moments }: CompareView): string | null {
  const end = found.missingChecks.at(-1);
  if (end?.beforeMs !== null) return null;
  return `If the device log was only copied or stopped at its end, --until ${isoTime(moments(end.afterMs))} leaves out the rest.`;
}

function list<T>(
  title: string,
  items: readonly T[],
  words: (item: T) => string,
): readonly string[] {
  if (items.length === 0) return [];
  const shown = items.slice(0, mostLines).map((item) => `  ${words(item)}`);
  const more = items.length - shown.length;
  return [
    '',
    title,
    ...shown,
    ...(more > 0 ? [`  and ${String(more)} more (--json has all)`] : []),
  ];
}

/** No clock errs that far: the checks are at another interval than that of the watch file. */
function isBeyondBelief(clock: ClockEstimate | null, { least, most }: Allowed): boolean {
  if (clock === null) return false;
  const rate = (ppm: number): number => 1 + ppm / 1_000_000;
  const found = rate(clock.ppm);
  return found < rate(least) * (1 - believedShare) || found > rate(most) * (1 + believedShare);
}

/** The line to change: the file's range, widened to what was measured. */
function clockLines(clock: ClockEstimate, allowed: Allowed): readonly string[] {
  const share = (ppm: number): string => `${String(ppm / 10_000)}%`;
  if (isBeyondBelief(clock, allowed)) {
    return [
      `  in the file       ${share(allowed.least)} to ${share(allowed.most)}; no clock errs that far: is this the watch file of this device?`,
    ];
  }
  const least = Math.min(allowed.least, withRoom(clock.lowPpm));
  const most = Math.max(allowed.most, withRoom(clock.highPpm));
  const inFile = allowed.isStated
    ? `${share(allowed.least)} to ${share(allowed.most)}; write under device:`
    : 'nothing (0% is assumed); for this clock write under device:';
  return [
    `  in the file       ${inFile}`,
    `                    clockError: { min: ${share(least)}, max: ${share(most)} }`,
    '                    with room for other temperatures; a colder or warmer place may need more',
  ];
}

/** A tenth more, in round figures: other temperatures than those of the log have other errors. */
function withRoom(ppm: number): number {
  if (ppm === 0) return 0;
  const step = 10 ** Math.floor(Math.log10(Math.abs(ppm))) / 2;
  return Math.sign(ppm) * Math.ceil((1.1 * Math.abs(ppm)) / step) * step;
}

function clockWords({ clock, otherInterval }: CompareView['found']): string {
  if (otherInterval !== null) return 'unknown: the checks are at another interval';
  if (clock === null) return 'unknown: too few sleeps between checks';
  const { ppm, lowPpm, highPpm, sleeps, bootPpm } = clock;
  const widthPpm = highPpm - lowPpm;
  const digits = widthPpm === 0 ? (ppm % 100 === 0 ? 2 : 4) : widthPpm < narrowPpm ? 4 : 2;
  const span =
    widthPpm === 0
      ? 'to within 0.0001 %'
      : `${measuredPercentText(lowPpm, digits, Math.floor)} to ${measuredPercentText(highPpm, digits, Math.ceil)}`;
  const boot = 4 * bootPpm > widthPpm ? '; most of that from the range of bootTime' : '';
  return `${measuredPercentText(ppm, digits)} (95 %: ${span}${boot}), from ${counted(sleeps, 'sleep')}`;
}

/** An interval narrower than this is written to a part per million, but in per cent, as its estimate. */
const narrowPpm = 500;
