// What there is to describe of an instant: the check, alert or opening nearest to it, and why.
import { durationText } from '../../base/index.js';
import { openChecks } from '../../machine/index.js';
import type { CheckRecord, WakeRecord } from '../../sim/index.js';
import { spanAt } from '../../world/index.js';
import { stampText } from '../calendar.js';
import { wakesIn } from '../facts/wakes.js';
import { counted } from '../numbers.js';
import type { Scene } from '../scene.js';
import { alertTitle, openingTitle } from '../words.js';

export interface Description {
  readonly atMs: number;
  readonly sentences: readonly string[];
}

const causeWords: Readonly<Record<WakeRecord['cause'], string>> = {
  'power-on': 'after power came on',
  reset: 'after a reset',
  timer: 'woken by its timer',
  contact: 'woken by the contact',
};

const decisionWords: Readonly<Record<CheckRecord['decision'], string>> = {
  none: '',
  alert: 'An alert is decided.',
  attempt: 'The pending alert is tried again.',
  quiet: 'That would be an alert, but the cooldown still runs.',
  drop: 'The unsent alert is dropped.',
};

/** What is nearest to an instant, no farther off than `reachMs`. */
export function describeAt(scene: Scene, atMs: number, reachMs: number): Description {
  const check = nearestCheck(scene, atMs, reachMs);
  const nearMs = check === null ? atMs : check.atMs;
  const opening = spanAt(scene.timeline.world.openings, nearMs);
  const sentences = [
    ...(check === null ? [] : checkSentences(scene, check)),
    ...alertSentences(scene, nearMs, reachMs),
    ...(opening < 0 ? [] : openingSentences(scene, opening)),
  ];
  if (sentences.length > 0) return { atMs: nearMs, sentences };
  const asleep = `${stampText(scene.calendar, Math.round(atMs))}: the door is shut, and no check is near.`;
  return { atMs, sentences: [asleep] };
}

/** The check after (or before) an instant; null: there is none. */
export function nextCheckMs({ trace }: Scene, atMs: number, forward: boolean): number | null {
  let before: number | null = null;
  for (const { check, repeats, periodMs } of trace.wakes) {
    if (check === null) continue;
    const nth = periodMs > 0 ? (atMs - check.atMs) / periodMs : 0;
    const index = forward
      ? Math.max(0, Math.floor(nth) + 1)
      : Math.min(repeats, Math.ceil(nth) - 1);
    const found = check.atMs + index * periodMs;
    if (index < 0 || index > repeats) continue;
    if (forward && found > atMs) return found;
    if (!forward && found < atMs) before = found;
  }
  return before;
}

interface NearCheck {
  readonly atMs: number;
  readonly wake: WakeRecord;
  readonly check: CheckRecord;
}

function nearestCheck({ trace }: Scene, atMs: number, reachMs: number): NearCheck | null {
  let nearest: NearCheck | null = null;
  for (const wake of wakesIn(trace, { fromMs: atMs - reachMs, toMs: atMs + reachMs + 1 }, 1)) {
    const { check, repeats, periodMs } = wake;
    if (check === null) continue;
    const nth = periodMs > 0 ? Math.round((atMs - check.atMs) / periodMs) : 0;
    const at = check.atMs + Math.min(repeats, Math.max(0, nth)) * periodMs;
    const off = Math.abs(at - atMs);
    if (off <= reachMs && (nearest === null || off < Math.abs(nearest.atMs - atMs))) {
      nearest = { atMs: at, wake, check };
    }
  }
  return nearest;
}

function checkSentences({ calendar, watchFile, timeline }: Scene, near: NearCheck): string[] {
  const { atMs, wake, check } = near;
  const truth = spanAt(timeline.world.openings, atMs) < 0 ? 'shut' : 'open';
  const wrong = truth === check.contact ? '' : `, though the door is ${truth}`;
  const { escalationThreshold } = watchFile.watch;
  const open = openChecks(wake.memoryAfter);
  const sleep = wake.sleep === null ? [] : [`Then it sleeps ${durationText(wake.sleep.lengthMs)}.`];
  return [
    `Check at ${stampText(calendar, atMs)}, ${causeWords[wake.cause]}: the contact reads ${check.contact}${wrong}.`,
    `It remembers ${counted(open, 'open check')}; an alert takes ${String(escalationThreshold.open)} of ${String(escalationThreshold.outOf)}.`,
    ...[decisionWords[check.decision]].filter((words) => words !== ''),
    ...sleep,
  ];
}

function alertSentences(scene: Scene, atMs: number, reachMs: number): string[] {
  const index = scene.verdict.alerts.findIndex(
    ({ decidedMs }) => Math.abs(decidedMs - atMs) <= reachMs,
  );
  const alert = scene.verdict.alerts[index];
  if (alert === undefined) return [];
  return withReason(`${alertTitle(scene, alert)}.`, scene.sentences.get(`alert ${index}`));
}

function openingSentences(scene: Scene, index: number): string[] {
  return withReason(`${openingTitle(scene, index)}.`, scene.sentences.get(`opening ${index}`));
}

function withReason(words: string, reason: string | undefined): string[] {
  return reason === undefined ? [words] : [words, `Why: ${reason}.`];
}
