// Why a firmware missed an opening, told it late, or raised a false alarm: only what could be seen from outside.
import { durationText, roughDurationText } from '../base/index.js';
import type { AlertRecord } from '../sim/index.js';
import { type Spans, spanAt } from '../world/index.js';
import type { RigWake } from './reply.js';
import type { RigRun } from './run.js';

/** From an instant up to, and without, another. */
interface Stretch {
  readonly fromMs: number;
  readonly toMs: number;
}

/** The checks of a stretch: how many, and how many read open. */
function looksIn(wakes: readonly RigWake[], { fromMs, toMs }: Stretch) {
  let open = 0;
  let shut = 0;
  for (const { check } of wakes) {
    if (check === null || check.atMs < fromMs || check.atMs >= toMs) continue;
    if (check.contact === 'open') open += 1;
    else shut += 1;
  }
  return { open, shut };
}

/** What kept it from looking: asleep or idle all the time, or awake for most of it. Null: nothing of the kind. */
function keptFrom(wakes: readonly RigWake[], { fromMs, toMs }: Stretch): string | null {
  const last = wakes.findLast(({ endMs }) => endMs <= fromMs);
  if (last?.ends === 'held') return 'stayed idle until a reset in all of it';
  if (last?.sleep != null && last.endMs + last.sleep.lengthMs >= toMs) {
    const asked = roughDurationText(last.sleep.nominalMs);
    return `slept through it: at +${durationText(last.endMs)} it had gone to sleep for ${asked}`;
  }
  const long = wakes.find(
    ({ entryMs, endMs }) =>
      entryMs !== null && 2 * (Math.min(endMs, toMs) - Math.max(entryMs, fromMs)) > toMs - fromMs,
  );
  if (long === undefined) return null;
  const { entryMs, endMs, reads } = long;
  const awakeMs = Math.min(endMs, toMs) - Math.max(entryMs ?? 0, fromMs);
  return `was awake in it for ${durationText(awakeMs)} on end, read the contact ${times(reads)} in that wake, and sent nothing`;
}

/**
 * Sentences without a capital and a full stop.
 * @param run with its wakes.
 */
export function explainRun(run: RigRun, openings: Spans) {
  const { trace, failure } = run;
  const { wakes } = run.reply;
  return {
    /** @param outcome `late`, or else one that was never told. */
    opening(index: number, outcome: string): string {
      const stretch = {
        fromMs: openings.fromMs[index] ?? 0,
        toMs: Math.min(openings.toMs[index] ?? 0, trace.lengthMs),
      };
      const own = trace.alerts.find(({ decidedMs }) => spanAt(openings, decidedMs) === index);
      if (own !== undefined) return attemptsText(own, stretch.fromMs, outcome);
      if (failure !== null && failure.atMs <= stretch.toMs) {
        return `the firmware had stopped: ${failure.what}`;
      }
      const kept = keptFrom(wakes, stretch);
      if (kept !== null) return `the firmware ${kept}`;
      const { open, shut } = looksIn(wakes, stretch);
      if (open + shut === 0) return 'the firmware did not read the contact in it';
      const seen = `the firmware read the contact ${times(open + shut)} in it`;
      const each = open + shut === 1 ? '' : ' each time';
      if (open === 0) return `${seen}, shut${each}`;
      return `${seen}, open${shut === 0 ? each : ` ${times(open)}`}, and sent nothing`;
    },
    alert(index: number): string {
      const alert = trace.alerts[index];
      const decidedMs = alert?.decidedMs ?? 0;
      const lost = alert?.deliveredMs === null ? `; ${inVain(alert)}` : '';
      const at = spanAt(openings, decidedMs);
      if (at < 0) return `the firmware sent it while the door was shut${lost}`;
      const fromMs = openings.fromMs[at] ?? 0;
      const { open } = looksIn(wakes, { fromMs, toMs: decidedMs + 1 });
      return `the firmware sent it ${durationText(decidedMs - fromMs)} after the door opened, having read the contact open ${times(open)} in that opening${lost}`;
    },
  };
}

function attemptsText(alert: AlertRecord, openedMs: number, outcome: string): string {
  const decided = `it was decided ${durationText(alert.decidedMs - openedMs)} after the door opened`;
  if (outcome === 'late' || alert.deliveredMs !== null) return `${decided}, and ${sends(alert)}`;
  const { forgottenMs, droppedMs } = alert;
  return `${decided}, ${forgottenMs === null && droppedMs === null ? 'and ' : ''}${inVain(alert)}`;
}

/** What became of an alert that was never delivered. */
function inVain(alert: AlertRecord): string {
  const vain = `${sends(alert)} in vain`;
  if (alert.forgottenMs !== null) return `${vain}, and forgotten without power`;
  return alert.droppedMs === null ? vain : `${vain}, and given up`;
}

function sends({ attempts }: AlertRecord): string {
  return `sent ${times(attempts.length)}`;
}

function times(count: number): string {
  return count === 1 ? 'once' : `${String(count)} times`;
}
