// Why a firmware missed an opening, told it late, or raised a false alarm: only what could be seen from outside.
import { durationText } from '../base/index.js';
import type { AlertRecord, WakeRecord } from '../sim/index.js';
import { type Spans, spanAt } from '../world/index.js';
import type { RigRun } from './run.js';

/** From an instant up to, and without, another. */
interface Stretch {
  readonly fromMs: number;
  readonly toMs: number;
}

/** The checks of a stretch: how many, and how many read open. */
function looksIn(wakes: readonly WakeRecord[], { fromMs, toMs }: Stretch) {
  let open = 0;
  let shut = 0;
  for (const { check, repeats, periodMs } of wakes) {
    if (check === null || check.atMs >= toMs) continue;
    const first = repeats === 0 ? 0 : Math.max(0, Math.ceil((fromMs - check.atMs) / periodMs));
    const last =
      repeats === 0 ? 0 : Math.min(repeats, Math.ceil((toMs - check.atMs) / periodMs) - 1);
    if (check.atMs + first * periodMs < fromMs) continue;
    const count = Math.max(0, last - first + 1);
    if (check.contact === 'open') open += count;
    else shut += count;
  }
  return { open, shut };
}

/**
 * Sentences without a capital and a full stop.
 * @param run with its wakes.
 */
export function explainRun(run: RigRun, openings: Spans) {
  const { trace, failure } = run;
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
      const { open, shut } = looksIn(trace.wakes, stretch);
      if (open + shut === 0) return 'the firmware did not read the contact in it';
      const seen = `the firmware read the contact ${times(open + shut)} in it`;
      if (open === 0) return `${seen}, shut each time`;
      return `${seen}, open ${shut === 0 ? 'each time' : times(open)}, and sent nothing`;
    },
    alert(index: number): string {
      const decidedMs = trace.alerts[index]?.decidedMs ?? 0;
      const at = spanAt(openings, decidedMs);
      if (at < 0) return 'the firmware sent it while the door was shut';
      const fromMs = openings.fromMs[at] ?? 0;
      const { open } = looksIn(trace.wakes, { fromMs, toMs: decidedMs + 1 });
      return `the firmware sent it ${durationText(decidedMs - fromMs)} after the door opened, having read the contact open ${times(open)} in that opening`;
    },
  };
}

function attemptsText(alert: AlertRecord, openedMs: number, outcome: string): string {
  const decided = `it was decided ${durationText(alert.decidedMs - openedMs)} after the door opened`;
  const sends =
    alert.attempts.length === 1 ? 'sent once' : `sent ${String(alert.attempts.length)} times`;
  if (outcome === 'late' || alert.deliveredMs !== null) return `${decided}, and ${sends}`;
  if (alert.forgottenMs !== null)
    return `${decided}, ${sends} in vain, and forgotten without power`;
  if (alert.droppedMs !== null) return `${decided}, ${sends} in vain, and given up`;
  return `${decided}, and ${sends} in vain`;
}

function times(count: number): string {
  return count === 1 ? 'once' : `${String(count)} times`;
}
