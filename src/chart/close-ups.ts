// Which leave-opens and alerts are shown close up, and from when to when.
import { longestSleepMs } from '../model/index.js';
import type { AlertKind, OpeningOutcome } from '../verdict/index.js';
import { rangeMsOf } from '../world/index.js';
import { settledMs } from './facts/alerts.js';
import { wakesIn } from './facts/wakes.js';
import type { Window } from './facts/window.js';
import { endOf, notableOpenings, type Scene } from './scene.js';

/** What a close-up is about: an opening with its alerts, or alerts that belong to none. */
export interface Subject {
  readonly opening: number | null;
  /** Indices, ascending. */
  readonly alerts: readonly number[];
  readonly rank: number;
  /** When it began: the opening, or the alert's decision. */
  readonly startMs: number;
}

export interface CloseUp extends Subject, Window {
  /** That of its opening in the tables of `replay`, or `A2` for the second alert, of a door that was not open. */
  readonly number: string;
  /** How much of the opening lies beyond the window. */
  readonly cutMs: number;
  /** It needs the whole width of the picture. */
  readonly wide: boolean;
}

/** Worst first: this is what may not be left out while anything milder is shown. */
export const ranks = [
  'missed',
  'false',
  'worst',
  'late',
  'undecided',
  'unknown',
  'early',
  'reported',
] as const;
export type Rank = (typeof ranks)[number];

/** Up to this length a timeline is shown as one strip with all lanes. */
export const longestStripMs = 26 * 3_600_000;
/** The most checks that one window shows; a longer story is cut. */
const mostChecksShown = 60;
/** With more checks than this a window needs the full width. */
const checksInHalfWidth = 11;

export function rankOf(subject: Pick<Subject, 'rank'>): Rank {
  return ranks[subject.rank] ?? 'reported';
}

/** Every leave-open, what is undecided at the end, and every alert, each once, in the order of the timeline. */
function subjectsOf(scene: Scene): Subject[] {
  const { verdict, worst } = scene;
  const byOpening = new Map<number, number[]>();
  const strays: Subject[] = [];
  verdict.alerts.forEach(({ opening, decidedMs }, index) => {
    if (opening === null) {
      strays.push({ opening, alerts: [index], rank: ranks.indexOf('false'), startMs: decidedMs });
    } else {
      const known = byOpening.get(opening);
      if (known === undefined) byOpening.set(opening, [index]);
      else known.push(index);
    }
  });
  for (const opening of notableOpenings(scene)) {
    if (!byOpening.has(opening)) byOpening.set(opening, []);
  }
  const subjects = [...byOpening].map(([opening, alerts]): Subject => {
    const { outcome, fromMs } = verdict.openings.at(opening);
    const kinds = alerts.map((index) => verdict.alerts[index]?.kind ?? 'repeat');
    const rank = rankFor(outcome, kinds, opening === worst?.opening);
    return { opening, alerts, rank: ranks.indexOf(rank), startMs: fromMs };
  });
  return [...subjects, ...strays].sort((a, b) => a.startMs - b.startMs);
}

function rankFor(outcome: OpeningOutcome, kinds: readonly AlertKind[], isWorst: boolean): Rank {
  if (outcome === 'missed' || outcome === 'unpowered') return 'missed';
  if (kinds.includes('false')) return 'false';
  if (isWorst) return 'worst';
  if (outcome === 'late' || outcome === 'undecided' || outcome === 'unknown') return outcome;
  return kinds.includes('early') ? 'early' : 'reported';
}

/** The `most` worst subjects in the order of the timeline, and the others. */
export function chooseCloseUps(
  scene: Scene,
  most: number,
): { readonly closeUps: readonly CloseUp[]; readonly others: readonly Subject[] } {
  const subjects = subjectsOf(scene);
  const ranked = [...subjects].sort((a, b) => a.rank - b.rank || a.startMs - b.startMs);
  const chosen = new Set(ranked.slice(0, most));
  return {
    closeUps: subjects
      .filter((subject) => chosen.has(subject))
      .map((subject) => closeUpOf(scene, subject)),
    others: subjects.filter((subject) => !chosen.has(subject)),
  };
}

/** How far apart checks usually are. */
function checkPeriodMs({ watchFile, timeline }: Scene): number {
  const { bootTime } = timeline.timing;
  const bootMs =
    bootTime.kind === 'fixed'
      ? bootTime.ms
      : bootTime.kind === 'range'
        ? bootTime.greatestMs
        : (bootTime.ms[0] ?? 0);
  return Math.max(1, watchFile.watch.checkIntervalMs + bootMs);
}

/** The same number as in the tables, so that a reader of both finds it. */
function numberOf({ opening, alerts }: Subject): string {
  return opening === null ? `A${String((alerts[0] ?? 0) + 1)}` : String(opening + 1);
}

function closeUpOf(scene: Scene, subject: Subject): CloseUp {
  const period = checkPeriodMs(scene);
  const { fromMs, storyMs, endMs } = storyOf(scene, subject);
  const mostMs = mostChecksShown * period;
  const short = Math.max((storyMs - fromMs) * 3, 10 * period);
  const wanted = endMs - fromMs <= short ? endMs : storyMs + (storyMs - fromMs) * 0.5;
  const toMs = Math.min(wanted, fromMs + mostMs);
  const whole = toMs >= endMs;
  const span = toMs - fromMs;
  const window = {
    fromMs: Math.max(0, Math.floor(fromMs - Math.max(1.2 * period, 0.08 * span))),
    toMs: Math.min(
      scene.lengthMs,
      Math.ceil(toMs + (whole ? Math.max(1.2 * period, 0.08 * span) : 0)),
    ),
  };
  return {
    ...subject,
    ...window,
    number: numberOf(subject),
    cutMs: Math.max(0, endMs - window.toMs),
    wide: window.toMs - window.fromMs > checksInHalfWidth * period,
  };
}

/**
 * The stretches of a timeline in which a picture looks at single wakes: around its close-ups, with the checks in memory
 * before them and the cooldowns that reach into them. Null: the picture shows every wake.
 */
export function lookedAt(
  scene: Scene,
  most: number,
): readonly (readonly [fromMs: number, toMs: number])[] | null {
  const { watch } = scene.watchFile;
  if (scene.lengthMs <= longestStripMs) return null;
  const { timing } = scene.timeline;
  const sleepMs = longestSleepMs(watch);
  const workMs =
    rangeMsOf(timing.bootTime).most + rangeMsOf(timing.connectTime).most + timing.joinWaitMs;
  // A clock errs by far less than half.
  const wakeMs = 2 * sleepMs + workMs;
  const leadMs = (watch.escalationThreshold.outOf + 2) * wakeMs + 2 * watch.alertCooldownMs;
  const shownMs = 2 * mostChecksShown * checkPeriodMs(scene);
  const { alerts } = scene.trace;
  const shown = chooseCloseUps(scene, most).closeUps.map((closeUp) => {
    const first = closeUp.alerts[0] === undefined ? undefined : alerts[closeUp.alerts[0]];
    const fromMs = Math.min(closeUp.startMs, first?.decidedMs ?? closeUp.startMs);
    return [fromMs - leadMs - shownMs, fromMs + shownMs] as const;
  });
  // A device that holds may have done so since long before a close-up, and then has the checks before it in memory still.
  const held = alerts.flatMap(({ deliveredMs }) =>
    deliveredMs === null || watch.afterAlert === 'keep-watching'
      ? []
      : [[deliveredMs - leadMs, deliveredMs + 1] as const],
  );
  return [...shown, ...held];
}

/** From the first event that led here, to where the story happens, to where the door was shut (or all is sent). */
function storyOf(
  scene: Scene,
  { opening, alerts }: Subject,
): { readonly fromMs: number; readonly storyMs: number; readonly endMs: number } {
  const { trace, verdict, lengthMs } = scene;
  const first = alerts[0] === undefined ? undefined : trace.alerts[alerts[0]];
  const led = first === undefined ? lengthMs : memoryStartMs(scene, first.decidedMs);
  const settled = first === undefined ? 0 : settledMs(first, lengthMs);
  if (opening === null) return { fromMs: led, storyMs: settled, endMs: settled };
  const judged = verdict.openings.at(opening);
  const shutMs = endOf(judged);
  const storyMs = judged.outcome === 'missed' ? Math.max(settled, shutMs) : settled || shutMs;
  return { fromMs: Math.min(judged.fromMs, led), storyMs, endMs: Math.max(settled, shutMs) };
}

/** The first of the open checks that were in memory when an alert was decided. */
function memoryStartMs({ trace, watchFile }: Scene, decidedMs: number): number {
  const { outOf } = watchFile.watch.escalationThreshold;
  const upTo = wakesIn(trace, { fromMs: decidedMs, toMs: decidedMs + 1 }, outOf + 1);
  let startMs = decidedMs;
  for (const { check, memoryBefore } of [...upTo].reverse()) {
    if (check === null || check.atMs > decidedMs) continue;
    startMs = check.atMs;
    if (memoryBefore.recentChecks === 0) break;
  }
  return startMs;
}
