// The head of a picture: what it is of, in which zone, watched how; and the verdict in six figures.
import { durationText, roughDurationText, roundedDurationText } from '../../base/index.js';
import type { WatchFile } from '../../scenarios/index.js';
import { clockText, dateText, dayAt, wallAt } from '../calendar.js';
import type { Block } from '../drawing.js';
import { counted, countText } from '../numbers.js';
import type { Scene } from '../scene.js';
import { printable } from '../text.js';
import type { Figure } from './figures.js';
import { headOf, type Note } from './head.js';

export function heading(
  scene: Scene,
  {
    title,
    note,
    watchName,
  }: {
    readonly title: string;
    readonly note: Note | null;
    readonly watchName: string | null;
  },
  widthPx: number,
): Block {
  const named = watchName === null ? '' : `${printable(watchName)} · `;
  const subtitles = [placeWords(scene), `${named}${watchWords(scene.watchFile)}`];
  return headOf({ title, subtitles, figures: figuresOf(scene), note }, widthPx);
}

/** From when to when, in which zone. */
export function placeWords({ calendar, lengthMs }: Scene): string {
  const grain = lengthMs < 3_600_000 ? 'second' : 'minute';
  const from = wallAt(calendar, 0);
  const to = wallAt(calendar, lengthMs);
  const until =
    to.day === from.day
      ? clockText(to.wallMs, grain)
      : `${dateText(dayAt(calendar, lengthMs))} ${clockText(to.wallMs, grain)}`;
  const start = `${dateText(from.day)} ${clockText(from.wallMs, grain)}`;
  return `${start} to ${until} (${roughDurationText(lengthMs)}) · ${calendar.zoneText}`;
}

/** How the watch looks, in a line. */
export function watchWords({ watch, judge }: WatchFile): string {
  const { open, outOf } = watch.escalationThreshold;
  const threshold =
    open === outOf ? `${open} open checks in a row` : `${open} open of the last ${outOf} checks`;
  const holds = watch.afterAlert === 'hold-until-reset';
  const cooldown = holds ? 'then waits for a reset · ' : cooldownWords(watch.alertCooldownMs);
  const within =
    judge.reportWithinMs === null
      ? ''
      : ` · to be reported within ${durationText(judge.reportWithinMs)}`;
  // Where the first open check decides an alert, nothing uses the recheck interval.
  const recheck =
    watch.recheckIntervalMs === watch.checkIntervalMs || open === 1
      ? ''
      : `, after an open check every ${durationText(watch.recheckIntervalMs)}`;
  const woken = { timer: '', opening: ' and at each opening', 'any-change': ' and at each change' };
  const check = `check every ${durationText(watch.checkIntervalMs)}${woken[watch.wakeOn]}${recheck}`;
  const quiet =
    judge.quietUpToMs === null ? '' : ` · quiet up to ${durationText(judge.quietUpToMs)}`;
  const leaveOpen = `left open from ${durationText(judge.leaveOpenAfterMs)}`;
  return `${check} · alerts after ${threshold} · ${cooldown}${leaveOpen}${within}${quiet}`;
}

/** Empty if there is no cooldown; a firmware's cooldown is not known. */
function cooldownWords(alertCooldownMs: number): string {
  return alertCooldownMs === 0 ? '' : `cooldown ${durationText(alertCooldownMs)} · `;
}

function figuresOf({ verdict }: Scene): Figure[] {
  const {
    leaveOpens,
    reported,
    late,
    undecided,
    unknown,
    missed,
    unpowered,
    falseAlarms,
    worstDelayMs,
  } = verdict.summary;
  const plain = (name: string, count: number): Figure => ({
    name,
    value: countText(count),
    alarm: null,
    late: false,
    share: 1,
  });
  return [
    plain('leave-opens', leaveOpens),
    plain('reported', reported),
    { ...plain('late', late), late: late > 0 },
    ...(undecided > 0 ? [plain('undecided', undecided)] : []),
    ...(unpowered > 0 ? [plain('without charge', unpowered)] : []),
    ...(unknown > 0 ? [plain('unknown', unknown)] : []),
    { ...plain('missed', missed), alarm: missed > 0 ? 'missed' : null },
    {
      ...plain(falseAlarms === 1 ? 'false alarm' : 'false alarms', falseAlarms),
      alarm: falseAlarms > 0 ? 'false' : null,
    },
    {
      ...plain('worst detection latency', 0),
      value: worstDelayMs === null ? '–' : roundedDurationText(worstDelayMs, 'at most'),
      share: 2,
    },
  ];
}

/** The picture's name for people who hear it. */
export function titleWords(scene: Scene, title: string | undefined): string {
  const given = printable(title ?? scene.timeline.name);
  return given === '' ? counted(scene.verdict.summary.openings, 'door opening') : given;
}
