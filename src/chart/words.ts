// Sentences and labels on openings, alerts and sends.
import { roundedDurationText } from '../base/index.js';
import type { SendRecord } from '../sim/index.js';
import {
  type AlertKind,
  type JudgedAlert,
  type JudgedOpening,
  openAtEnd,
} from '../verdict/index.js';
import { stampText } from './calendar.js';
import { counted } from './numbers.js';
import { endOf, type Scene } from './scene.js';
import { printable } from './text.js';

const outcomeNames: Readonly<Record<JudgedOpening['outcome'], string>> = {
  brief: 'Brief opening',
  reported: 'Leave-open, reported',
  late: 'Leave-open, reported late',
  undecided: 'Still open at the end, undecided',
  missed: 'Leave-open, missed',
  unpowered: 'Leave-open, missed while the device had no charge',
  unknown: 'Opening, unknown: the log has a gap',
};

const alertNames: Readonly<Record<AlertKind, string>> = {
  true: 'Alert',
  early: 'Early alert',
  false: 'False alarm',
  repeat: 'Repeat alert',
  unknown: 'Alert, unknown: the log has a gap',
};

const sendNames: Readonly<Record<SendRecord['outcome'], string>> = {
  delivered: 'delivered',
  failed: 'failed',
  cutOff: 'cut off',
};

/** What a pointer on an opening tells. */
export function openingTitle(scene: Scene, index: number): string {
  const opening = scene.verdict.openings.at(index);
  const { outcome, fromMs, toMs, durationMs, delayMs } = opening;
  const until = toMs === null ? 'to the end' : `to ${stampText(scene.calendar, endOf(opening))}`;
  const delay =
    delayMs === null
      ? ''
      : `; ${reportWords(outcome)} after ${roundedDurationText(delayMs, 'at most')}`;
  const note = scene.timeline.notes.get(index);
  const noted = note === undefined ? '' : ` (${printable(note)})`;
  const from = stampText(scene.calendar, fromMs);
  return `${outcomeNames[outcome]}: ${from} ${until}, ${roundedDurationText(durationMs)}${delay}${noted}`;
}

/** An alert for a brief opening is a false alarm, not a report. */
export function reportWords(outcome: JudgedOpening['outcome']): string {
  return outcome === 'brief' ? 'false alarm' : 'reported';
}

/** What a pointer on an alert shows. */
export function alertTitle(scene: Scene, alert: JudgedAlert): string {
  const { kind, decidedMs, deliveredMs } = alert;
  const delivery =
    deliveredMs === null
      ? 'never delivered'
      : `delivered ${roundedDurationText(deliveredMs - decidedMs)} later`;
  return `${alertNames[kind]}: decided ${stampText(scene.calendar, decidedMs)}, ${delivery}`;
}

/** What a pointer on a low-battery message shows. */
export function lowBatteryTitle({ calendar }: Scene, deliveredMs: number): string {
  return `Low-battery message delivered: ${stampText(calendar, deliveredMs)}`;
}

export function sendTitle(
  scene: Scene,
  { startMs, endMs, outcome, waitedMs = 0 }: SendRecord,
  what: 'Attempt' | 'Heartbeat' | 'Low-battery message',
): string {
  const lasted = roundedDurationText(endMs - startMs);
  const waited =
    waitedMs > 0 ? `, ${roundedDurationText(waitedMs)} of it waiting for the network` : '';
  return `${what} ${sendNames[outcome]}: ${stampText(scene.calendar, startMs)}, ${lasted}${waited}`;
}

/** The verdict in one sentence. */
export function verdictSentence({ verdict, timeline }: Scene): string {
  const { leaveOpens, reported, late, missed, falseAlarms, worstDelayMs } = verdict.summary;
  const undecided = leaveOpens - reported - late - missed;
  const parts = [
    `${counted(reported, 'was', 'were')} reported in time`,
    ...(late > 0 ? [`${counted(late, 'was', 'were')} reported late`] : []),
    ...(undecided > 0 ? [`${counted(undecided, 'is', 'are')} undecided`] : []),
    `${counted(missed, 'was', 'were')} missed`,
  ];
  const worst =
    worstDelayMs === null
      ? ''
      : ` Worst detection latency ${roundedDurationText(worstDelayMs, 'at most')}.`;
  const last = openAtEnd(verdict.openings);
  const end = timeline.opensAtEnd
    ? ' The log ends as the door opens.'
    : last?.outcome === 'undecided'
      ? ` The door had been open for ${roundedDurationText(last.durationMs)} at the end.`
      : '';
  const opens =
    leaveOpens === 0
      ? end === ''
        ? timeline.logged !== null && timeline.logged.unseen.fromMs.length > 0
          ? 'No leave-open is known, so this timeline cannot show a missed alarm.'
          : 'The door was never left open, so this timeline cannot show a missed alarm.'
        : 'No leave-open so far.'
      : `Of ${counted(leaveOpens, 'leave-open')}, ${parts.join(', ')}.`;
  const unknown = verdict.summary.unknown;
  const gaps =
    unknown === 0
      ? ''
      : ` ${counted(unknown, 'opening is', 'openings are')} unknown: the log did not see enough.`;
  return `${opens}${gaps}${end} ${counted(falseAlarms, 'false alarm')}.${worst}`;
}
