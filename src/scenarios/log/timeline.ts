// A stretch of a door log as a timeline for a watch.

import {
  type Diagnostic,
  durationText,
  err,
  ok,
  type Result,
  roundedDurationText,
  type SourceRef,
  trueMs,
} from '../../base/index.js';
import { longestTimelineMs } from '../../model/index.js';
import { deviceTiming, firstAfter, noSpans, type Spans } from '../../world/index.js';
import { contactEdges } from '../contact-edges.js';
import { noTemperature } from '../scenario/timeline.js';
import { localTime } from '../time/local-time.js';
import type { DoorLog, LogTimelineOptions, Timeline, WatchFile } from '../types.js';

const defaultSeed = '1';

/**
 * A log from `fromMs` to `untilMs` as a timeline. Openings are cut to it; one that is still open at its end is
 * endless. The device powers on at its start if `fromMs` gives that; else half a check interval later, so that an opening at the
 * first row is not in step with the checks.
 * @returns the timeline. Errors: `range-empty`, `range-too-long`, `power-on-outside`, `too-many-edges`.
 */
export function timelineOfLog(
  log: DoorLog,
  watchFile: WatchFile,
  options: LogTimelineOptions,
): Result<Timeline> {
  const { name, file, seed = defaultSeed } = options;
  const source: SourceRef = { file };
  const fromMs = options.fromMs ?? log.firstMs;
  const untilMs = options.untilMs ?? log.lastMs;
  const lengthMs = untilMs - fromMs;
  const powerOnIsAssumed = options.fromMs === undefined && options.powerOnAtMs === undefined;
  const halfMs = Math.floor(watchFile.watch.checkIntervalMs / 2);
  const assumedMs = powerOnIsAssumed ? Math.max(0, Math.min(halfMs, lengthMs - 1)) : 0;
  const powerOnAtMs = options.powerOnAtMs ?? assumedMs;
  const fault = rangeFault(options, log, { lengthMs, powerOnAtMs, source });
  if (fault !== null) return err(fault);
  const doubled = doubledLengths(log, watchFile.judge.leaveOpenAfterMs, { fromMs, untilMs });
  if (doubled.length > 0 && !log.lenient) return { ok: false, errors: doubled };
  const opensAtEnd = isOpenedAt(log, untilMs);
  const openForMs = openForAt(log.openings, fromMs);
  const openings = clipped(log.openings, fromMs, untilMs);
  const course = { openings, moves: null, faults: [], seed };
  const contact = contactEdges(course, watchFile.contact, source);
  if (!contact.ok) return contact;
  return ok({
    name,
    file,
    start: { epochMs: fromMs, timeZone: log.timeZone },
    world: {
      lengthMs: trueMs(lengthMs),
      openings,
      contact: contact.value,
      networkDown: noSpans,
      powerLost: noSpans,
      resetsMs: new Float64Array(0),
      powerOnAtMs: trueMs(powerOnAtMs),
    },
    moves: null,
    timing: deviceTiming({}, watchFile.timing),
    seed,
    expect: null,
    opensAtEnd,
    logged: {
      powerOnIsAssumed,
      unavailable: clipped(log.unavailable, fromMs, untilMs),
      unseen: unseenIn(log, { fromMs, untilMs, openForMs }),
      repairs: [...log.repairs, ...doubled],
      hidingRepairs: log.hidingRepairs + doubled.length,
    },
    notes: new Map(),
    remarks: [
      ...log.remarks,
      ...doubled,
      ...(openForMs === null ? [] : [beginsOpen(source, openForMs)]),
      ...(opensAtEnd ? [endsAsItOpens(source)] : []),
      ...noTemperature(watchFile.timing.clockError, source),
    ],
  });
}

/** Openings in the night the clocks go back that are leave-opens or not, depending on which of two instants a time is. */
function doubledLengths(
  { doubled, file, lenient }: DoorLog,
  leaveOpenAfterMs: number,
  { fromMs, untilMs }: { readonly fromMs: number; readonly untilMs: number },
): readonly Diagnostic[] {
  return doubled
    .filter((one) => one.fromMs < untilMs && one.fromMs + one.takenMs >= fromMs)
    .filter(({ leastMs, mostMs }) => leastMs < leaveOpenAfterMs && leaveOpenAfterMs <= mostMs)
    .map(({ line, leastMs, mostMs, takenMs }): Diagnostic => {
      const lengths = `this opening lasts ${durationText(leastMs)} or ${durationText(mostMs)}, because its local time occurs twice`;
      const source = { file, line };
      const code = 'local-time-twice';
      if (lenient) {
        const message = `${lengths}: ${durationText(takenMs)} is used`;
        return { code, severity: 'warning', source, message };
      }
      const hint =
        'export the log with offsets, or add --lenient to use the earliest times that fit';
      return { code, severity: 'error', source, message: lengths, hint, tries: ['--lenient'] };
    });
}

function rangeFault(
  options: LogTimelineOptions,
  log: DoorLog,
  range: { readonly lengthMs: number; readonly powerOnAtMs: number; readonly source: SourceRef },
): Diagnostic | null {
  const { lengthMs, powerOnAtMs, source } = range;
  const fault = (code: string, message: string, hint: string): Diagnostic => ({
    code,
    severity: 'error',
    source,
    message,
    hint,
  });
  if (lengthMs <= 0) {
    const outside = outsideLog(options, log);
    return outside !== null
      ? fault('range-empty', outside.message, outside.hint)
      : fault(
          'range-empty',
          'the log covers a single instant',
          'say how long the door was watched, with --until',
        );
  }
  if (lengthMs > longestTimelineMs) {
    const message = 'the timeline is longer than ten years';
    return fault(
      'range-too-long',
      message,
      'check its times, or shorten it with --from and --until',
    );
  }
  if (powerOnAtMs < 0 || powerOnAtMs >= lengthMs) {
    const message = 'the device gets its power after the end of the timeline';
    const hint = `make --power-on-at less than ${durationText(lengthMs)}, the length of the timeline`;
    return fault('power-on-outside', message, hint);
  }
  return null;
}

/** Why nothing of the log is between --from and --until; null: neither is given. */
function outsideLog(
  { fromMs, untilMs }: LogTimelineOptions,
  { firstMs, lastMs, timeZone }: DoorLog,
): { readonly message: string; readonly hint: string } | null {
  const at = (epochMs: number): string => {
    const { date, time } = localTime({ epochMs, timeZone }, 0);
    return `${date} ${time}`;
  };
  if (fromMs !== undefined && untilMs === undefined) {
    const message = `the log ends at ${at(lastMs)}, and --from is no earlier`;
    return {
      message,
      hint: 'choose an earlier --from, or add --until if it was watched for longer',
    };
  }
  if (untilMs !== undefined && fromMs === undefined) {
    const message = `the log begins at ${at(firstMs)}, and --until is no later`;
    return { message, hint: 'choose a later --until' };
  }
  return fromMs === undefined
    ? null
    : { message: 'the timeline ends before it starts', hint: 'make --until later than --from' };
}

/** The openings within `[fromMs, untilMs)`, counted from its start. */
function clipped({ fromMs: starts, toMs: ends }: Spans, fromMs: number, untilMs: number): Spans {
  const first = firstAfter(ends, fromMs);
  // Starts before the end: those up to the millisecond before it.
  const past = firstAfter(starts, untilMs - 1);
  const last = Math.max(first, past);
  const clippedFrom = starts.slice(first, last);
  const clippedTo = ends.slice(first, last);
  for (let index = 0; index < clippedFrom.length; index += 1) {
    const endMs = clippedTo[index] ?? 0;
    clippedFrom[index] = Math.max(0, (clippedFrom[index] ?? 0) - fromMs);
    clippedTo[index] = endMs > untilMs ? Number.POSITIVE_INFINITY : endMs - fromMs;
  }
  return { fromMs: clippedFrom, toMs: clippedTo };
}

/** How long the door had been open at an instant within an opening; null: it is not within one. */
function openForAt({ fromMs: starts, toMs: ends }: Spans, atMs: number): number | null {
  const startMs = starts[firstAfter(ends, atMs)];
  return startMs === undefined || startMs >= atMs ? null : atMs - startMs;
}

/** Of a door that is open as the timeline begins, nothing before it is seen. */
function unseenIn(
  { unavailable }: DoorLog,
  on: { readonly fromMs: number; readonly untilMs: number; readonly openForMs: number | null },
): Spans {
  const { fromMs, untilMs, openForMs } = on;
  const spans = clipped(unavailable, fromMs, untilMs);
  const first = firstAfter(unavailable.toMs, fromMs);
  const startMs = (unavailable.fromMs[first] ?? fromMs) - fromMs;
  const straddles = spans.fromMs[0] === 0 && startMs < 0;
  if (straddles) spans.fromMs[0] = Math.min(startMs, -(openForMs ?? 0));
  if (straddles || openForMs === null) return spans;
  return {
    fromMs: Float64Array.from([-openForMs, ...spans.fromMs]),
    toMs: Float64Array.from([0, ...spans.toMs]),
  };
}

/** A timeline that begins within an opening. */
function beginsOpen(source: SourceRef, openForMs: number): Diagnostic {
  return {
    code: 'begins-open',
    severity: 'warning',
    source,
    message: `the door had been open for ${roundedDurationText(openForMs)} at the start of the timeline: the length and the latency of this opening are counted from there`,
    hint: 'to see all of it, choose an earlier --from',
  };
}

/** Whether the door opens for good at an instant that ends the log. */
function isOpenedAt({ openings, lastMs }: DoorLog, untilMs: number): boolean {
  const last = openings.fromMs.at(-1);
  return last === untilMs && last === lastMs && openings.toMs.at(-1) === Number.POSITIVE_INFINITY;
}

/** A log whose last row opens the door. */
function endsAsItOpens(source: SourceRef): Diagnostic {
  return {
    code: 'ends-as-it-opens',
    severity: 'warning',
    source,
    message: 'the log ends when the door opens, so this opening is not part of the timeline',
    hint: 'to include it, set the end of the timeline with --until',
  };
}
