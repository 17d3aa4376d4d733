// Why a firmware missed an opening, reported it late, or raised a false alarm: only what is visible from outside.
import { counted, numberText, roughDurationText, roundedDurationText } from '../base/index.js';
import type { AlertRecord } from '../sim/index.js';
import { type Spans, spanAt, type World } from '../world/index.js';
import type { Reply, RigWake } from './reply.js';
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

/** Readings in the wakes of a stretch, those after a send among them, which are no checks. */
function readsIn(wakes: readonly RigWake[], { fromMs, toMs }: Stretch): number {
  let reads = 0;
  for (const wake of wakes) {
    if (wake.entryMs !== null && wake.entryMs >= fromMs && wake.endMs < toMs) reads += wake.reads;
  }
  return reads;
}

/** What kept it from checking: asleep or held all the time, or awake for most of it. Null: neither. */
function keptFrom(
  { wakes, memoryLostMs }: Reply,
  { fromMs, toMs }: Stretch,
  sentNone: string,
): string | null {
  const last = wakes.findLast(({ wakeMs }) => wakeMs < toMs);
  const stays =
    last !== undefined &&
    last.endMs <= fromMs &&
    !memoryLostMs.some((atMs) => atMs >= last.endMs && atMs < toMs);
  if (stays && last.ends === 'held')
    return 'stayed awake and did nothing while it was open, waiting for a reset';
  if (stays && last.sleep !== null && last.endMs + last.sleep.lengthMs >= toMs) {
    const asked = roughDurationText(last.sleep.nominalMs);
    return `slept through it: at +${roundedDurationText(last.endMs)} it went to sleep for ${asked}`;
  }
  const long = wakes.find(
    ({ entryMs, endMs }) =>
      entryMs !== null && 2 * (Math.min(endMs, toMs) - Math.max(entryMs, fromMs)) > toMs - fromMs,
  );
  if (long === undefined) return null;
  const { entryMs, endMs, reads } = long;
  const awakeMs = Math.min(endMs, toMs) - Math.max(entryMs ?? 0, fromMs);
  return `stayed awake for ${roundedDurationText(awakeMs)} of it without a break, read the contact ${times(reads)} in that wake and ${sentNone}`;
}

/** Whether the device had no power at any instant of a stretch. */
function wasOff({ wakes, memoryLostMs }: Reply, { fromMs, toMs }: Stretch): boolean {
  const lostMs = memoryLostMs.findLast((atMs) => atMs <= fromMs) ?? Number.NEGATIVE_INFINITY;
  return !wakes.some(({ wakeMs }) => wakeMs >= lostMs && wakeMs < toMs);
}

/**
 * Sentences without a capital and a full stop.
 * @param run with its wakes.
 * @param faults what may have cut a send; absent: nothing is said of it.
 */
export function explainRun(run: RigRun, openings: Spans, faults: Faults | null = null) {
  const { trace } = run;
  // What it neglected to the end of the timeline did not stop it.
  const failure = (run.failure?.atMs ?? 0) < trace.lengthMs ? run.failure : null;
  const { reply } = run;
  const { wakes } = reply;
  return {
    opening(index: number): string {
      const stretch = {
        fromMs: openings.fromMs[index] ?? 0,
        toMs: Math.min(openings.toMs[index] ?? 0, trace.lengthMs),
      };
      const own = trace.alerts.filter(({ decidedMs }) => spanAt(openings, decidedMs) === index);
      const best = own.find(({ deliveredMs }) => deliveredMs !== null) ?? own[0];
      if (best !== undefined)
        return attemptsText(best, stretch.fromMs, { before: own.indexOf(best), faults });
      if (failure !== null && failure.atMs <= stretch.fromMs) {
        return `the firmware had stopped: ${failure.what}`;
      }
      if (failure === null && wasOff(reply, stretch)) {
        return 'the device had no power while it was open';
      }
      const carried = carriedText(trace.alerts, stretch, faults);
      const sentNone = carried === null ? 'sent no alert' : `sent no new alert; ${carried}`;
      const kept = keptFrom(reply, stretch, sentNone);
      if (kept !== null) return `the firmware ${kept}`;
      const stopped =
        failure !== null && failure.atMs <= stretch.toMs
          ? `; it stopped ${roundedDurationText(failure.atMs - stretch.fromMs)} after the door opened: ${failure.what}`
          : '';
      const ending = `${carried === null ? '' : `; ${carried}`}${stopped}`;
      const { open, shut } = looksIn(wakes, stretch);
      if (open + shut === 0) {
        const reads = readsIn(wakes, stretch);
        return reads === 0
          ? `the firmware did not check the contact while it was open${ending}`
          : `the firmware read the contact ${times(reads)} while it was open, but only after a send in the same wake${ending}`;
      }
      const seen = `the firmware checked the contact ${times(open + shut)} while it was open`;
      const each = open + shut === 1 ? '' : ' each time';
      if (open === 0) return `${seen} and read it shut${each}${ending}`;
      return `${seen}, read it open${shut === 0 ? each : ` ${times(open)}`} and ${sentNone}${stopped}`;
    },
    alert(index: number): string {
      const alert = trace.alerts[index];
      const decidedMs = alert?.decidedMs ?? 0;
      const lost = alert?.deliveredMs === null ? `; ${notDelivered(alert, faults)}` : '';
      const at = spanAt(openings, decidedMs);
      if (at < 0) return `the firmware sent it while the door was shut${lost}`;
      const fromMs = openings.fromMs[at] ?? 0;
      const { open } = looksIn(wakes, { fromMs, toMs: decidedMs + 1 });
      return `the firmware sent it ${roundedDurationText(decidedMs - fromMs)} after the door opened, when it had read it open ${times(open)}${openBefore(wakes, openings, fromMs)}${lost}`;
    },
  };
}

/** Open checks in a row just before an opening, which may count towards the alert. */
function openBefore(wakes: readonly RigWake[], openings: Spans, fromMs: number): string {
  const before = wakes.flatMap(({ check }) =>
    check !== null && check.atMs < fromMs ? [check] : [],
  );
  const row = before.slice(before.findLastIndex(({ contact }) => contact !== 'open') + 1);
  if (row.length === 0) return '';
  const which =
    row.length === 1 ? 'the check before read' : `the ${String(row.length)} checks before it read`;
  const where = row.every(({ atMs }) => spanAt(openings, atMs) >= 0)
    ? `, in ${row.length === 1 ? 'an earlier opening' : 'earlier openings'}`
    : '';
  return ` (${which} open too${where})`;
}

type Faults = Pick<World, 'resetsMs' | 'powerLost'>;

/** @param on.before how many alerts of the same opening came before it. */
function attemptsText(
  alert: AlertRecord,
  openedMs: number,
  { before, faults }: { readonly before: number; readonly faults: Faults | null },
): string {
  const which =
    before === 0
      ? 'an alert'
      : `after ${counted(before, 'alert')} that ${before === 1 ? 'was' : 'were'} not delivered another`;
  const decided = `${which} was decided ${roundedDurationText(alert.decidedMs - openedMs)} after the door opened`;
  if (alert.deliveredMs === null) return `${decided}; ${notDelivered(alert, faults)}`;
  const sent = `delivered ${roundedDurationText(alert.deliveredMs - alert.decidedMs)} later`;
  const tried = attemptCounts(alert, faults);
  return `${decided} and ${sent}${tried === '' ? '' : ` (before that ${tried})`}`;
}

/** An alert that was decided before an opening, and tried in it, where no other was decided in it; null: none was tried. */
function carriedText(
  alerts: readonly AlertRecord[],
  { fromMs, toMs }: Stretch,
  faults: Faults | null,
): string | null {
  const carried = alerts.findLast(
    ({ decidedMs, attempts }) =>
      decidedMs < fromMs && attempts.some(({ startMs, endMs }) => endMs > fromMs && startMs < toMs),
  );
  if (carried === undefined) return null;
  const { decidedMs, deliveredMs, attempts } = carried;
  const within = attempts.filter(({ endMs }) => endMs > fromMs && endMs <= toMs);
  const tried = attemptCounts({ ...carried, attempts: within }, faults);
  const counts = tried === '' ? '' : ` (${tried} while it was open)`;
  const one = `one decided ${roundedDurationText(fromMs - decidedMs)} before the door opened`;
  return deliveredMs === null || deliveredMs > toMs
    ? `${one} was still waiting to be delivered${counts}`
    : `${one} was delivered ${roundedDurationText(deliveredMs - fromMs)} after it opened${counts}`;
}

/** What became of an alert that was never delivered. */
function notDelivered(alert: AlertRecord, faults: Faults | null): string {
  const tried = `not delivered (${attemptCounts(alert, faults)})`;
  if (alert.forgottenMs !== null) return `${tried}, and lost with the power`;
  return alert.droppedMs === null ? tried : `${tried}, and given up`;
}

function attemptCounts({ attempts }: AlertRecord, faults: Faults | null): string {
  const failed = attempts.filter(({ outcome }) => outcome === 'failed').length;
  const parts = failed > 0 ? [`${counted(failed, 'attempt')} failed`] : [];
  const cut = new Map<string, number>();
  for (const { outcome, endMs } of attempts) {
    if (outcome !== 'cutOff') continue;
    const by = cutBy(endMs, faults);
    cut.set(by, (cut.get(by) ?? 0) + 1);
  }
  for (const [by, count] of cut) parts.push(`${counted(count, 'attempt')} cut off${by}`);
  return parts.join(', ');
}

function cutBy(atMs: number, faults: Faults | null): string {
  if (faults?.powerLost.fromMs.includes(atMs) === true) return ' by a power loss';
  return faults?.resetsMs.includes(atMs) === true ? ' by a reset' : '';
}

function times(count: number): string {
  return count === 1 ? 'once' : `${numberText(count)} times`;
}
