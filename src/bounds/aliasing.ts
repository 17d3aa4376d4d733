// The fewest brief openings that together cause a false alarm: shortest paths over the logic at its checks, where an
// opening costs one and may cover several checks only while it stays brief.
import { durationText } from '../base/index.js';
import { effectBit, inputCode, inputCodes } from '../machine/index.js';
import type { Aliasing } from './answer.js';
import type { BoundsQuestion } from './bounds.js';
import { timesOf } from './environment.js';

interface Point {
  readonly state: number;
  /** From the start of the opening that the last check fell into to that check; null: it read shut. */
  readonly openForMs: number | null;
  /** Sleep that follows: check, recheck, retry. */
  readonly which: number;
  readonly openings: number;
  readonly sinceFirstMs: number | null;
}

/** More openings than any threshold asks for. */
const mostOpenings = 64;

export function aliasingOf(question: BoundsQuestion): {
  readonly aliasing: Aliasing | null;
  readonly proof: string | null;
} {
  const { leaveOpenAfterMs } = question.judge;
  if (leaveOpenAfterMs <= 1) {
    return { aliasing: null, proof: 'no opening is brief: every one counts as left open' };
  }
  const alarm = cheapestAlarm(question);
  if (alarm === null) {
    const proof = `no way of opening the door only for less than ${durationText(leaveOpenAfterMs)} at a time leads to an alert`;
    return { aliasing: null, proof };
  }
  const { openings, sinceFirstMs } = alarm;
  const withinMs = sinceFirstMs ?? 0;
  const what = openings === 1 ? '1 brief opening is' : `${String(openings)} brief openings are`;
  const sentence = `${what} enough for a false alarm, within ${durationText(withinMs)}`;
  return { aliasing: { openings, withinMs, sentence }, proof: null };
}

function cheapestAlarm(question: BoundsQuestion): Point | null {
  const { table } = question.program;
  const off = table.initial;
  const awake = table.next[off * inputCodes + inputCode.wake['power-on']] ?? 0;
  const rest = table.next[awake * inputCodes + inputCode.check + inputCode.checkCooldownOver] ?? 0;
  let layer: Point[] = [
    { state: rest, openForMs: null, which: 0, openings: 0, sinceFirstMs: null },
  ];
  const seen = new Set<string>();
  for (let openings = 0; openings <= mostOpenings && layer.length > 0; openings += 1) {
    const dearer: Point[] = [];
    // Steps that cost nothing join the layer while it is walked.
    for (const point of layer) {
      const key = `${String(point.state)},${String(point.openForMs)},${String(point.which)}`;
      if (seen.has(key)) continue;
      seen.add(key);
      for (const next of stepsFrom(question, point)) {
        if (next.alarm) return next.point;
        if (next.point.openings > openings) dearer.push(next.point);
        else layer.push(next.point);
      }
    }
    layer = dearer;
  }
  return null;
}

function stepsFrom(
  question: BoundsQuestion,
  from: Point,
): readonly { readonly point: Point; readonly alarm: boolean }[] {
  const { program, timing, judge } = question;
  const times = timesOf(program.watch, timing);
  const sleepMs = (times.sleeps[from.which] ?? times.sleeps[0]).leastMs;
  const stepMs = sleepMs + times.bootMs.least;
  const step = (openForMs: number | null, anew: boolean): { point: Point; alarm: boolean } => {
    const { table } = program;
    const awake = table.next[from.state * inputCodes + inputCode.wake.timer] ?? 0;
    const code =
      inputCode.check +
      inputCode.checkCooldownOver +
      (openForMs === null ? 0 : inputCode.checkReadsOpen);
    const effects = table.effects[awake * inputCodes + code] ?? 0;
    const since = from.sinceFirstMs === null ? (anew ? 0 : null) : from.sinceFirstMs + stepMs;
    const point: Point = {
      state: table.next[awake * inputCodes + code] ?? 0,
      openForMs,
      which: Math.max((effects & effectBit.sleepMask) / effectBit.sleepCheck - 1, 0),
      openings: from.openings + (anew ? 1 : 0),
      sinceFirstMs: since,
    };
    return { point, alarm: (effects & effectBit.decideAlert) !== 0 };
  };
  const longerMs = from.openForMs === null ? null : from.openForMs + stepMs;
  const staysBrief = longerMs !== null && longerMs + 1 < judge.leaveOpenAfterMs;
  return [
    step(null, false),
    ...(staysBrief ? [step(longerMs, false)] : []),
    ...(canOpenAnew(question, from) ? [step(0, true)] : []),
  ];
}

/** Where every edge wakes the device and no time passes to the check, a door that shuts is seen shut. */
function canOpenAnew({ program, timing }: BoundsQuestion, { openForMs }: Point): boolean {
  if (openForMs === null || program.watch.wakeOn !== 'any-change') return true;
  return timesOf(program.watch, timing).bootMs.most > 0;
}
