// Turns a script into instants: each stroke is placed by where the device would be after the strokes before it.
import { dayMs, trueMs } from '../base/index.js';
import { sendOfWake, simulate, type Trace, type WakeRecord } from '../sim/index.js';
import { cutAt, type Span } from '../timeline/index.js';
import {
  type ContactFault,
  type DeviceTiming,
  type ResetEffect,
  rangeMsOf,
} from '../world/index.js';
import { longestPeriodMs } from './pace.js';
import type { HuntQuestion } from './question.js';
import { rhythmOf } from './rhythm.js';
import type { Act, Moment, Script, Wait } from './stroke.js';
import { type Trial, trialSeed, worldOf } from './trial.js';
import { logShare, turnAfter } from './turns.js';

/** A timeline while it is put together. */
interface Stage {
  readonly question: HuntQuestion;
  readonly timing: DeviceTiming;
  readonly reset: ResetEffect;
  readonly door: [fromMs: number, toMs: number][];
  readonly outages: Span[];
  readonly powerCuts: Span[];
  readonly resetsMs: number[];
  readonly misreads: ContactFault[];
  /** Of the last stroke. */
  nowMs: number;
  /** Of the last move of the door; −1: it has not moved. */
  movedMs: number;
  /** What the device does so far if nothing more happens; null: something has happened since it was run. */
  seen: { readonly trace: Trace; readonly untilMs: number } | null;
}

const never = Number.POSITIVE_INFINITY;

/** How long a chattering contact keeps each reading. */
const slotMs = trueMs(100);

/** How long a timeline goes on whose door is left open for good: more would only repeat itself. */
const leftOpenMs = 21_600_000;

/** How long a timeline goes on after its last stroke, at least, and how many heartbeats. */
const tailMs = dayMs;
const tailHeartbeats = 3;

/** The shortest stretch that is drawn as a quiet one. */
const leastQuietMs = 60_000;

/** The trial that a script comes to. Strokes that come too late for the device to answer are left out. */
export function staged(
  question: HuntQuestion,
  script: Script,
  { timing, reset }: Pick<Stage, 'timing' | 'reset'>,
): Trial {
  const stage: Stage = {
    question,
    timing,
    reset,
    door: [],
    outages: [],
    powerCuts: [],
    resetsMs: [],
    misreads: [],
    nowMs: 0,
    movedMs: -1,
    seen: null,
  };
  const quietMs = restMs(question, timing);
  const lastMs = question.lengthMs - quietMs;
  for (const { wait, act } of script.strokes) {
    const atMs = Math.max(stage.nowMs, placed(stage, wait));
    if (atMs > lastMs) break;
    stage.nowMs = atMs;
    perform(stage, act, atMs);
  }
  if (isOpen(stage) && script.ending !== null) {
    moveDoor(stage, false, Math.min(lastMs, Math.max(stage.nowMs, placed(stage, script.ending))));
  }
  const heartbeatsMs = tailHeartbeats * (question.watch.heartbeatIntervalMs ?? 0);
  const soonMs = stage.nowMs + Math.max(tailMs, heartbeatsMs, quietMs);
  const stopsMs = isOpen(stage)
    ? stage.nowMs + Math.max(leftOpenMs, quietMs)
    : script.runsOn
      ? question.lengthMs
      : Math.max(soonMs, stage.movedMs + quietMs);
  return cutAt(trialOf(stage), Math.min(stopsMs, question.lengthMs));
}

function trialOf(stage: Stage): Trial {
  const { question, timing, reset } = stage;
  return {
    lengthMs: question.lengthMs,
    powerOnAtMs: 0,
    openings: stage.door,
    networkDown: stage.outages,
    powerLost: stage.powerCuts,
    batteryLow: [],
    resets: stage.resetsMs.map((atMs) => ({ atMs, ...reset })),
    contactFaults: stage.misreads,
    timing,
  };
}

/** The quiet end of a timeline: whatever was begun before can be seen, decided and sent in it. */
function restMs({ watch, judge, lengthMs }: HuntQuestion, timing: DeviceTiming): number {
  const checks = watch.escalationThreshold.outOf + 2;
  const neededMs = judge.leaveOpenAfterMs + checks * longestPeriodMs(watch, timing);
  return Math.min(neededMs, Math.floor(lengthMs / 2));
}

function perform(stage: Stage, act: Act, atMs: number): void {
  const { adversity } = stage.question;
  switch (act.kind) {
    case 'nothing':
      return;
    case 'open':
      moveDoor(stage, true, atMs);
      return;
    case 'shut':
      moveDoor(stage, false, atMs);
      return;
    case 'visit':
      moveDoor(stage, true, atMs);
      moveDoor(stage, false, atMs + act.forMs);
      stage.nowMs = Math.max(atMs, stage.movedMs);
      return;
    case 'troubled':
      moveDoor(stage, true, atMs);
      for (const { afterMs, fault } of act.faults) perform(stage, fault, atMs + afterMs);
      moveDoor(stage, false, atMs + act.forMs);
      stage.nowMs = Math.max(atMs, stage.movedMs);
      return;
    case 'series':
      for (let index = 0; index < act.count; index += 1) {
        const fromMs = atMs + index * act.everyMs;
        if (fromMs + act.forMs > stage.question.lengthMs) break;
        moveDoor(stage, true, fromMs);
        moveDoor(stage, false, fromMs + act.forMs);
      }
      stage.nowMs = Math.max(atMs, stage.movedMs);
      return;
    case 'reopen':
      moveDoor(stage, true, atMs);
      moveDoor(stage, false, atMs);
      moveDoor(stage, true, stage.movedMs + act.forMs);
      stage.nowMs = stage.movedMs;
      return;
    case 'reset':
      if (stage.resetsMs.length >= adversity.resets || stage.resetsMs.at(-1) === atMs) return;
      stage.resetsMs.push(atMs);
      stage.seen = null;
      return;
    case 'outage':
      addSpan(stage, stage.outages, {
        most: adversity.outages,
        apartMs: adversity.outagesApartMs,
        fromMs: atMs,
        ...act,
      });
      return;
    case 'powerCut':
      addSpan(stage, stage.powerCuts, {
        most: adversity.powerLosses,
        apartMs: 0,
        fromMs: atMs,
        ...act,
      });
      return;
    case 'misread':
      addMisread(stage, act, atMs);
      return;
  }
}

function isOpen({ door }: Stage): boolean {
  return door.at(-1)?.[1] === never;
}

/** At least one millisecond lies between two moves of the door. */
function moveDoor(stage: Stage, open: boolean, wantedMs: number): void {
  if (isOpen(stage) === open) return;
  const atMs = Math.max(wantedMs, stage.movedMs + 1);
  const last = stage.door.at(-1);
  if (open) stage.door.push([atMs, never]);
  else if (last !== undefined) last[1] = atMs;
  stage.movedMs = atMs;
  stage.seen = null;
}

/** Spanes stay apart: two that met would be one that is longer than allowed. */
function addSpan(
  stage: Stage,
  to: Span[],
  {
    most,
    apartMs,
    fromMs,
    forMs,
  }: {
    readonly most: number;
    readonly apartMs: number;
    readonly fromMs: number;
    readonly forMs: number;
  },
): void {
  const freeFromMs = (to.at(-1)?.[1] ?? Number.NEGATIVE_INFINITY) + Math.max(1, apartMs);
  if (to.length >= most || fromMs < freeFromMs) return;
  to.push([fromMs, fromMs + forMs]);
  stage.seen = null;
}

function addMisread(stage: Stage, act: Act & { readonly kind: 'misread' }, atMs: number): void {
  const { misreads, question } = stage;
  const freeFromMs = (misreads.at(-1)?.toMs ?? -1) + 1;
  if (misreads.length >= question.adversity.misreads || atMs < freeFromMs) return;
  stage.seen = null;
  misreads.push({
    fromMs: trueMs(atMs),
    toMs: trueMs(atMs + act.forMs),
    reads:
      act.reads === 'shut'
        ? { kind: 'stuck', at: 'shut' }
        : { kind: 'chattering', openShare: 0.5, slotMs },
  });
}

/** The instant that a wait leads to; it may lie before the last stroke. */
function placed(stage: Stage, wait: Wait): number {
  switch (wait.kind) {
    case 'length':
      return stage.nowMs + wait.ms;
    case 'moment': {
      const wakes = wakesFrom(stage, wait.checks);
      const wake = wakes[wait.checks] ?? wakes.at(-1);
      return wake === undefined ? stage.nowMs + 1 : momentOf(wake, wait.moment) + wait.byMs;
    }
    case 'cooldown': {
      const delivery = traceUntil(stage, stage.nowMs + 1).alerts.findLast(
        ({ deliveredMs }) => deliveredMs !== null && deliveredMs <= stage.nowMs,
      );
      const { alertCooldownMs } = stage.question.watch;
      return (delivery?.deliveredMs ?? stage.nowMs) + alertCooldownMs + wait.byMs;
    }
    case 'heartbeat':
      return nextHeartbeatMs(stage) + wait.byMs;
    case 'attempt':
      return nextAttemptMs(stage, wait.at) + wait.byMs;
    case 'quiet': {
      const leftMs = Math.max(0, stage.question.lengthMs - stage.nowMs - leastQuietMs);
      return stage.nowMs + leastQuietMs + logShare(leftMs, wait.share);
    }
    case 'turn':
      return (
        (wait.turn.of === 'clock' ? clockTurnMs(stage, wait) : wakesTurnMs(stage, wait)) + wait.byMs
      );
  }
}

type TurnWait = Extract<Wait, { readonly kind: 'turn' }>;

/** When the device's clock comes round, if its error is one for all sleeps. */
function clockTurnMs(stage: Stage, { turn, since, share }: TurnWait): number {
  const { question, timing, nowMs } = stage;
  const ppm = timing.clockError.kind === 'fixed' ? timing.clockError.ppm : 0;
  const stretch = 1 + ppm / 1_000_000;
  const onMs = since === 'now' ? nowMs : poweredOnMs(stage);
  const starts = since === 'now' ? 0 : (question.clockStartsMs ?? 0);
  const counted = starts + (nowMs - onMs) / stretch;
  const most = starts + (question.lengthMs - onMs) / stretch;
  const reads = turnAfter(turn, { counted, most, share });
  return Math.round(onMs + (reads - starts) * stretch);
}

/** About when a counter of wakes comes round, if the device is left alone until then. */
function wakesTurnMs(stage: Stage, { turn, since, share }: TurnWait): number {
  const { question, timing, nowMs } = stage;
  const { checkMs, bootMs } = rhythmOf(question.watch, timing);
  const counted =
    since === 'now' ? 0 : wakesUntil(stage, nowMs) - wakesUntil(stage, poweredOnMs(stage));
  const most = counted + (question.lengthMs - nowMs) / checkMs;
  const more = turnAfter(turn, { counted, most, share }) - counted;
  const [next] = wakesFrom(stage, 0);
  return Math.round((next?.checkMs ?? nowMs + bootMs) + (more - 1) * checkMs);
}

/** When the power last came back. */
function poweredOnMs({ powerCuts, nowMs }: Stage): number {
  return powerCuts.findLast(([, backMs]) => backMs <= nowMs)?.[1] ?? 0;
}

/** How often the device has woken by an instant. */
function wakesUntil({ question, timing, ...stage }: Stage, untilMs: number): number {
  if (untilMs < 1) return 0;
  const world = worldOf(
    { ...trialOf({ question, timing, ...stage }), lengthMs: untilMs },
    question.contact,
  );
  const experiment = { program: question.program, timing, world, seed: trialSeed };
  const { wakes } = simulate(experiment, { record: 'none' }).tally;
  return wakes['power-on'] + wakes.reset + wakes.timer + wakes.contact;
}

/** When the device tries its next heartbeat, if nothing more happens. */
function nextHeartbeatMs(stage: Stage): number {
  const { nowMs, question, timing } = stage;
  const intervalMs = question.watch.heartbeatIntervalMs ?? 0;
  const aheadMs = intervalMs + 2 * longestPeriodMs(question.watch, timing);
  const { wakes } = traceUntil(stage, nowMs + aheadMs);
  const starts = wakes.flatMap(({ heartbeatSend }) => heartbeatSend?.startMs ?? []);
  return starts.find((startMs) => startMs > nowMs) ?? nowMs + intervalMs;
}

/** When the device's next attempt to send an alert starts or ends, if nothing more happens; without one, when the next wake is over. */
function nextAttemptMs(stage: Stage, at: 'start' | 'end'): number {
  const { nowMs, question, timing } = stage;
  const { watch } = question;
  const aheadMs = (watch.escalationThreshold.outOf + 2) * longestPeriodMs(watch, timing);
  for (const { alertSend, repeats, periodMs } of traceUntil(stage, nowMs + aheadMs).wakes) {
    if (alertSend === null) continue;
    const firstMs = at === 'start' ? alertSend.startMs : alertSend.endMs;
    const before = repeats === 0 ? 0 : Math.floor((nowMs - firstMs) / periodMs) + 1;
    const nextMs = firstMs + Math.min(repeats, Math.max(0, before)) * periodMs;
    if (nextMs > nowMs) return nextMs;
  }
  return wakesFrom(stage, 0)[0]?.sentMs ?? nowMs + 1;
}

interface Wake {
  readonly wakeMs: number;
  readonly checkMs: number;
  readonly sentMs: number;
  readonly asleepMs: number;
}

function momentOf(wake: Wake, moment: Moment): number {
  switch (moment) {
    case 'check':
      return wake.checkMs;
    case 'wake':
      return wake.wakeMs;
    case 'sent':
      return wake.sentMs;
    case 'asleep':
      return wake.asleepMs;
  }
}

/** The coming wakes: at least `checks` and one more, unless the device has stopped waking. */
function wakesFrom(stage: Stage, checks: number): readonly Wake[] {
  const { nowMs, question, timing } = stage;
  const cut = stage.powerCuts.at(-1)?.[1] ?? 0;
  const spanMs = (checks + 2) * longestPeriodMs(question.watch, timing);
  const trace = traceUntil(stage, Math.max(nowMs, cut) + spanMs + rangeMsOf(timing.bootTime).most);
  return trace.wakes
    .flatMap((record) => unfolded(record, nowMs, checks + 1))
    .filter(({ asleepMs }) => asleepMs > nowMs);
}

function traceUntil(stage: Stage, wantedMs: number): Trace {
  const { question, timing, nowMs, seen } = stage;
  const untilMs = Math.min(wantedMs, question.lengthMs);
  if (seen !== null && seen.untilMs >= untilMs) return seen.trace;
  const world = worldOf({ ...trialOf(stage), lengthMs: untilMs }, question.contact);
  const experiment = { program: question.program, timing, world, seed: trialSeed };
  const trace = simulate(experiment, { record: [[nowMs, untilMs]] });
  stage.seen = { trace, untilMs };
  return trace;
}

/** The wakes of a record that end after `afterMs`, no more of them than are wanted. */
function unfolded(record: WakeRecord, afterMs: number, wanted: number): readonly Wake[] {
  const { check, repeats, periodMs } = record;
  if (check === null) return [];
  const sentMs = sendOfWake(record)?.endMs ?? check.atMs;
  const before = repeats === 0 ? 0 : Math.max(0, Math.floor((afterMs - sentMs) / periodMs));
  const wakes: Wake[] = [];
  for (let index = before; index <= Math.min(repeats, before + wanted); index += 1) {
    const byMs = index * periodMs;
    wakes.push({
      wakeMs: record.wakeMs + byMs,
      checkMs: check.atMs + byMs,
      sentMs: sentMs + byMs,
      asleepMs: (record.sleep?.fromMs ?? sentMs) + byMs,
    });
  }
  return wakes;
}
