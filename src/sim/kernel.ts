// The event loop of one device. It goes from wake to wake, and over a stretch in which wakes repeat themselves in
// one division. Order at one instant: the door, contact and network have already changed; then power loss, then
// reset, then the end of a send, then the check, then the timer, then the edge.

import { cellAt, invariant } from '../base/index.js';
import { effectBit, effectCell, inputCode, nextState, wokenState } from '../machine/index.js';
import { mostWakesOfRun } from '../model/index.js';
import { firstAfter, readsOpenAt } from '../world/index.js';
import { answersAlert, hasCome, hears, hearsHeartbeat, type Person } from './answers.js';
import type { Around } from './around.js';
import { isWarned } from './charge.js';
import {
  backFrom,
  drainsAsleep,
  drainsAtBoot,
  drainsHeld,
  isEmptyNext,
  lookAfterWake,
  lookAtCharge,
  looksAtBattery,
  quietUntilMs,
} from './drain.js';
import type { Experiment } from './experiment.js';
import { type Journal, openJournal, type WakeDraft } from './journal.js';
import {
  checkCode,
  checksBefore,
  effectsBesideSleep,
  likeChecks,
  quietWakes,
} from './quiet-wakes.js';
import {
  openRun,
  type Run,
  readingAt,
  type Sleep,
  type SteadySleep,
  setDue,
  sleepOf,
  slept,
  steadySleepOf,
} from './run-state.js';
import { type Sent, send } from './send.js';
import { countsAgain, foundState, slipsRepeat, takenCode } from './slips.js';
import type { SleepRecord, Trace } from './trace.js';

export interface SimulateOptions {
  /** Which wakes the trace keeps: all (the default), none, those in spans of true time, or those with their neighbours. */
  readonly record?: 'all' | 'none' | readonly (readonly [fromMs: number, toMs: number])[] | Around;
}

const timer = inputCode.wake.timer;

/**
 * Runs the device of an experiment through its world. Pure: the same experiment gives the same trace.
 * @throws InvariantError on a fault of dozewatch itself.
 */
export function simulate(experiment: Experiment, options: SimulateOptions = {}): Trace {
  const run = openRun(experiment);
  const journal = openJournal(run, options.record ?? 'all');
  const quiet = journal.keeps || run.armed !== 'none' || run.slips !== null ? null : run.steady;
  for (let wakes = 0, runs = true; runs; wakes += 1) {
    invariant(wakes < mostWakesOfRun, 'a run has an end', { wakes });
    if (quiet !== null && run.cause === timer) quietWakes(run, quiet);
    if (run.wakeMs < run.limitMs) {
      lookAtCharge(run);
      runs = oneWake(run, journal);
    } else runs = takeFault(run);
  }
  return journal.close();
}

/** One wake with its sleep, and the equal wakes that follow it. False when the run is over. */
function oneWake(run: Run, journal: Journal): boolean {
  const { table, edges, cause, wakeMs, slips } = run;
  const before = run.state;
  const found = slips === null ? before : foundState(run, slips);
  run.state =
    found === before
      ? wokenState(table, before, cause)
      : nextState(table, found, inputCode.wake['power-on']);
  run.tally.wakes[cause] += 1;
  const checkMs = wakeMs + run.boot.next();
  if (cause !== timer) lookAfterWake(run);
  drainsAtBoot(run, checkMs);
  if (checkMs >= run.limitMs) return cutShort(run, journal, { before, checkMs });
  run.tally.bootMs += checkMs - wakeMs;
  run.tally.checks += 1;
  while ((edges[run.edge] ?? Number.POSITIVE_INFINITY) <= checkMs) run.edge += 1;
  if ((run.edge & 1) === 0) run.tally.shutBootMs += checkMs - wakeMs;
  looksAtBattery(run, checkMs);
  const code = checkCode(run, run.edge, checkMs);
  const taken = slips === null ? code : takenCode(run, slips, { code, atMs: checkMs });
  const effects = effectCell(table, run.state, taken);
  run.state = nextState(table, run.state, taken);
  if ((code & inputCode.checkReadsOpen) !== 0) run.tally.openChecks += 1;

  if ((effects & effectsBesideSleep) !== 0) {
    return act(run, journal, { before, cause, wakeMs, checkMs, code, effects });
  }
  const steady = run.steady === null ? null : steadySleepOf(run.steady, effects);
  const sleep = steady ?? sleepOf(run, effects, checkMs);
  const rests =
    slips === null || (slips.rest === before && (code & inputCode.checkReadsOpen) === 0);
  const again = run.state === before && cause === timer && rests;
  const repeats =
    again && steady !== null ? repeatsOf(run, journal, { checkMs, code, sleep: steady }) : 0;
  const periodMs = repeats > 0 ? checkMs - wakeMs + sleep.lengthMs : 0;
  if (journal.keeps) {
    const draft: WakeDraft = { before, cause, wakeMs, checkMs, code, effects };
    journal.add(draft, { sent: null, sleep: sleepRecord(sleep, checkMs), repeats, periodMs });
  }
  return fallAsleep(run, checkMs + repeats * periodMs, sleep);
}

/** The number of wakes after this check that are just like it; it counts them, too. */
function repeatsOf(
  run: Run,
  journal: Journal,
  check: { readonly checkMs: number; readonly code: number; readonly sleep: SteadySleep },
): number {
  const { checkMs, code, sleep } = check;
  let untilMs = run.edges[run.edge] ?? Number.POSITIVE_INFINITY;
  // What is written down also tells the truth of each check.
  if (journal.keeps) untilMs = Math.min(untilMs, nextMoveMs(run, checkMs));
  const repeats = Math.min(
    likeChecks(run, sleep, { checkMs, code, untilMs: quietUntilMs(run) }),
    checksBefore(untilMs, checkMs, sleep.periodMs),
  );
  run.tally.checks += repeats;
  run.tally.wakes[timer] += repeats;
  const bootMs = repeats * (sleep.periodMs - sleep.lengthMs);
  run.tally.bootMs += bootMs;
  if ((code & inputCode.checkReadsOpen) !== 0) run.tally.openChecks += repeats;
  else run.tally.shutBootMs += bootMs;
  slept(run, sleep, repeats);
  if (run.slips !== null) slipsRepeat(run, run.slips, { repeats, checkMs, sleep });
  return repeats;
}

/** When the door next opens or shuts. */
function nextMoveMs({ openings }: Run, afterMs: number): number {
  const opens = openings.fromMs[firstAfter(openings.fromMs, afterMs)];
  const shuts = openings.toMs[firstAfter(openings.toMs, afterMs)];
  return Math.min(opens ?? Number.POSITIVE_INFINITY, shuts ?? Number.POSITIVE_INFINITY);
}

function sleepRecord({ interval, lengthMs }: Sleep, fromMs: number): SleepRecord {
  return { interval, fromMs, lengthMs };
}

/** Sends, drops or holds: whatever a check leads to besides sleep. */
function act(run: Run, journal: Journal, draft: WakeDraft): boolean {
  const { effects, checkMs } = draft;
  journal.alertEffects(effects, checkMs);
  const sent = send(run, effects, checkMs);
  if (sent !== null) {
    journal.sent(sent);
    if (sent.withLowBattery && sent.record.outcome === 'delivered' && run.charge !== null) {
      isWarned(run.charge, sent.record.endMs);
    }
    if (run.person !== null && sent.record.outcome === 'delivered') heard(run, run.person, sent);
  }
  const endMs = sent?.record.endMs ?? checkMs;
  const whatNext = sent?.effects ?? effects;
  if ((whatNext & effectBit.sleepMask) === 0) {
    // Cut off, or awake until a reset.
    journal.add(draft, { sent, sleep: null, repeats: 0, periodMs: 0 });
    if ((whatNext & effectBit.hold) !== 0) {
      drainsHeld(run, endMs);
      run.tally.heldMs += run.limitMs - endMs;
    }
    return takeFault(run);
  }
  const sleep = sleepOf(run, whatNext, endMs);
  if (journal.keeps) {
    journal.add(draft, { sent, sleep: sleepRecord(sleep, endMs), repeats: 0, periodMs: 0 });
  }
  return fallAsleep(run, endMs, sleep);
}

/** Somebody hears of the device: by a heartbeat, or by an alert after which it waits for them. */
function heard(run: Run, person: Person, { kind, record, effects }: Sent): void {
  if (kind === 'heartbeat') hearsHeartbeat(person, record.endMs, run.charge);
  else if (kind === 'alert' && (effects & effectBit.hold) !== 0) {
    answersAlert(person, record.endMs, run.charge);
  }
  setDue(run);
}

/** Sleeps until the timer, an armed contact edge or a fault; sets up the next wake. False when the run is over. */
function fallAsleep(run: Run, fromMs: number, sleep: Sleep): boolean {
  run.wakeMs = fromMs + sleep.lengthMs;
  run.cause = timer;
  const woken = run.armed !== 'none' && wakeByEdge(run, fromMs);
  drainsAsleep(run, fromMs);
  if (run.limitMs <= run.wakeMs) return takeFault(run);
  if (!woken) slept(run, sleep, 1);
  return true;
}

/** An armed edge after falling asleep and before the timer wakes the device at once: says whether there is one. */
function wakeByEdge(run: Run, asleepFromMs: number): boolean {
  const { edges } = run;
  while ((edges[run.edge] ?? Number.POSITIVE_INFINITY) <= asleepFromMs) run.edge += 1;
  const toOpen = (run.edge & 1) === 0;
  const armed = run.armed === 'all' || toOpen ? run.edge : run.edge + 1;
  const edgeMs = edges[armed];
  if (edgeMs === undefined || edgeMs >= run.wakeMs) return false;
  run.wakeMs = edgeMs;
  run.cause = inputCode.wake.contact;
  return true;
}

/** The wake ends before its check: by a fault, or with the timeline. */
function cutShort(
  run: Run,
  journal: Journal,
  { before, checkMs }: { readonly before: number; readonly checkMs: number },
): boolean {
  const bootMs = run.limitMs - run.wakeMs;
  run.tally.bootMs += bootMs;
  const wouldReadShut = !readsOpenAt(run.edges, checkMs);
  if (wouldReadShut) run.tally.shutBootMs += bootMs;
  const { cause, wakeMs } = run;
  journal.addInterrupted({ before, cause, wakeMs, wouldReadShut });
  return takeFault(run);
}

/** The next fault strikes, somebody comes, or the charge ends; sets up the wake after it. False when the run is over. */
function takeFault(run: Run): boolean {
  const isFlat = isEmptyNext(run);
  const atMs = run.limitMs;
  if (atMs >= run.lengthMs) return false;
  const isFault = !isFlat && run.faultMs <= atMs;
  let backMs = isFault ? cellAt(run.faults.backMs, run.fault) : atMs;
  const isOff = isFlat || backMs > atMs;
  const clears = isFault ? run.faults.clears[run.fault] === 1 : run.person?.answers.clears;
  if (isOff || clears === true) {
    run.state = nextState(run.table, run.state, inputCode.powerLost);
    if (isOff) backMs = backFrom(run, { atMs, powerBackMs: backMs, isFlat });
    // Time stamps are retained memory: no cooldown runs any more, and heartbeats count from this boot.
    run.cooldownEnd = Number.NEGATIVE_INFINITY;
    run.heartbeatEnd = readingAt(run, backMs) + run.heartbeatTimer;
    if (run.lowBatteryEnd !== Number.POSITIVE_INFINITY) {
      run.lowBatteryEnd = Number.NEGATIVE_INFINITY;
    }
    if (run.slips !== null) countsAgain(run.slips, readingAt(run, backMs));
    run.onMemoryLost(atMs);
  }
  if (isOff) run.tally.offMs += Math.min(backMs, run.lengthMs) - atMs;
  run.wakeMs = backMs;
  run.cause = isOff ? inputCode.wake['power-on'] : inputCode.wake.reset;
  while (run.faultMs <= backMs && run.faultMs < run.lengthMs) nextFault(run);
  if (run.person !== null) {
    const isCharged = isOff && run.charge?.charges.at(-1)?.atMs === backMs;
    if (isCharged) hears(run.person, backMs, run.charge);
    hasCome(run.person, Math.min(backMs, run.lengthMs - 1), run.charge);
  }
  setDue(run);
  return backMs < run.lengthMs;
}

/** Goes on to the fault after this one. */
function nextFault(run: Run): void {
  run.fault += 1;
  run.faultMs = cellAt(run.faults.atMs, run.fault);
}
