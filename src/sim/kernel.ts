// The event loop of one device. It jumps from wake to wake, and over every stretch in which wakes repeat
// themselves: n equal wakes are one division. Order at one instant: the door, contact and network have already
// changed; then power loss, then reset, then the end of a send, then the check, then the timer, then the edge.
import { invariant } from '../base/index.js';
import { effectBit, inputCode, inputCodes } from '../machine/index.js';
import type { Experiment } from './experiment.js';
import { type Journal, openJournal, type WakeDraft } from './journal.js';
import { openRun, type Run } from './run-state.js';
import { type Sent, send } from './send.js';
import type { Trace } from './trace.js';

export interface SimulateOptions {
  /** Which wakes the trace keeps: all (the default), none, or those in spans of true time. */
  readonly record?: 'all' | 'none' | readonly (readonly [fromMs: number, toMs: number])[];
}

/** More wakes than any sensible run has: reaching it means that the loop does not advance. */
const mostWakes = 4_000_000_000;

const effectsThatTakeTime = effectBit.attemptAlert | effectBit.attemptHeartbeat;
const effectsBesideSleep =
  effectsThatTakeTime | effectBit.decideAlert | effectBit.dropAlert | effectBit.hold;

/**
 * Runs the device of an experiment through its world. Pure: the same experiment gives the same trace.
 * @throws InvariantError on a fault of dozewatch itself.
 */
export function simulate(experiment: Experiment, options: SimulateOptions = {}): Trace {
  const run = openRun(experiment);
  const journal = openJournal(run, options.record ?? 'all');
  if (run.wakeMs < run.lengthMs) {
    for (let wakes = 0; oneWake(run, journal); wakes += 1) {
      invariant(wakes < mostWakes, 'a run has an end', { wakes });
    }
  }
  return journal.close();
}

/** One wake with its sleep, and the equal wakes that follow it. False when the run is over. */
function oneWake(run: Run, journal: Journal): boolean {
  const { table, edges } = run;
  const before = run.state;
  const { cause, wakeMs } = run;
  run.state = table.next[before * inputCodes + cause] ?? 0;
  invariant(run.state >= 0, 'the device can wake', { before, cause, wakeMs });
  run.tally.wakes[cause] = (run.tally.wakes[cause] ?? 0) + 1;
  const checkMs = wakeMs + (run.bootSteadyMs ?? run.boot.next());
  if (run.faultMs <= checkMs || checkMs >= run.lengthMs) {
    return cutShort(run, journal, before);
  }
  run.tally.bootMs += checkMs - wakeMs;
  run.tally.checks += 1;
  while ((edges[run.edge] ?? Number.POSITIVE_INFINITY) <= checkMs) run.edge += 1;
  const code = checkCode(run, checkMs);
  const cell = run.state * inputCodes + code;
  const effects = table.effects[cell] ?? 0;
  run.state = table.next[cell] ?? 0;
  if ((code & inputCode.checkReadsOpen) !== 0) run.tally.openChecks += 1;

  if ((effects & effectsBesideSleep) !== 0) {
    return act(run, journal, { before, cause, wakeMs, checkMs, code, effects });
  }
  const sleepMs = sleepOf(run, effects, checkMs);
  let repeats = 0;
  let periodMs = 0;
  if (run.state === before && cause === timer && run.steadyPeriod) {
    periodMs = sleepMs + (run.bootSteadyMs ?? 0);
    repeats = Math.ceil((horizonMs(run, checkMs, code) - checkMs) / periodMs) - 1;
    run.tally.checks += repeats;
    run.tally.wakes[timer] = (run.tally.wakes[timer] ?? 0) + repeats;
    run.tally.bootMs += repeats * (run.bootSteadyMs ?? 0);
    if ((code & inputCode.checkReadsOpen) !== 0) run.tally.openChecks += repeats;
  }
  if (journal.keeps) {
    const draft: WakeDraft = { before, cause, wakeMs, checkMs, code, effects };
    journal.add(draft, { sent: null, sleepFromMs: checkMs, sleepMs, repeats, periodMs });
  }
  return fallAsleep(run, checkMs + repeats * periodMs, sleepMs);
}

const timer = inputCode.wake.timer;

/** The facts of a check as its column in the table. */
function checkCode(run: Run, checkMs: number): number {
  let code: number = inputCode.check + (run.edge & 1);
  const reading = run.clock.reading(checkMs);
  if (reading - run.deliveredReading >= run.cooldownTimer) code += inputCode.checkCooldownOver;
  if (reading - run.heartbeatReading >= run.heartbeatTimer) code += inputCode.checkHeartbeatDue;
  return code;
}

/** The first instant after a check at which a like check could find something else. */
function horizonMs(run: Run, checkMs: number, code: number): number {
  let horizon = Math.min(run.lengthMs, run.faultMs);
  const edgeMs = run.edges[run.edge];
  if (edgeMs !== undefined && edgeMs < horizon) horizon = edgeMs;
  if ((code & inputCode.checkCooldownOver) === 0) {
    horizon = Math.min(horizon, run.deliveredReading + run.cooldownTimer);
  }
  if ((code & inputCode.checkHeartbeatDue) === 0) {
    horizon = Math.min(horizon, run.heartbeatReading + run.heartbeatTimer);
  }
  invariant(horizon > checkMs, 'the horizon lies ahead', { horizon, checkMs });
  return horizon;
}

/** True time that the sleep named by `effects` lasts from `fromMs`. */
function sleepOf(run: Run, effects: number, fromMs: number): number {
  const which = (effects & effectBit.sleepMask) / effectBit.sleepCheck - 1;
  return (
    run.sleepSteadyMs?.[which] ??
    run.clock.sleepMs(run.sleepNominalMs[which] ?? run.cooldownNominalMs, fromMs)
  );
}

/** Sends, drops or holds: whatever a check leads to besides sleep. */
function act(run: Run, journal: Journal, draft: WakeDraft): boolean {
  let { effects } = draft;
  let sent: Sent | null = null;
  journal.alertEffects(effects, draft.checkMs);
  if ((effects & effectsThatTakeTime) !== 0) {
    sent = send(
      run,
      (effects & effectBit.attemptAlert) !== 0 ? 'alert' : 'heartbeat',
      draft.checkMs,
    );
    journal.sent(sent);
    if (sent.record.outcome === 'cutOff') {
      journal.add(draft, { sent, sleepFromMs: 0, sleepMs: null, repeats: 0, periodMs: 0 });
      return takeFault(run);
    }
    effects = sent.effects;
  }
  const endMs = sent === null ? draft.checkMs : sent.record.endMs;
  if ((effects & effectBit.hold) !== 0) {
    journal.add(draft, { sent, sleepFromMs: 0, sleepMs: null, repeats: 0, periodMs: 0 });
    run.tally.heldMs += Math.min(run.faultMs, run.lengthMs) - endMs;
    return takeFault(run);
  }
  const sleepMs = sleepOf(run, effects, endMs);
  journal.add(draft, { sent, sleepFromMs: endMs, sleepMs, repeats: 0, periodMs: 0 });
  return fallAsleep(run, endMs, sleepMs);
}

/** Sleeps until the timer, an armed contact edge or a fault; sets up the next wake. False when the run is over. */
function fallAsleep(run: Run, fromMs: number, sleepMs: number): boolean {
  run.wakeMs = fromMs + sleepMs;
  run.cause = timer;
  if (run.armed !== 'none') wakeByEdge(run, fromMs);
  if (run.faultMs <= run.wakeMs) return takeFault(run);
  if (run.cause === timer) run.clock.sleptThrough();
  return run.wakeMs < run.lengthMs;
}

/** An armed edge after falling asleep and before the timer wakes the device at once. */
function wakeByEdge(run: Run, asleepFromMs: number): void {
  const { edges } = run;
  while ((edges[run.edge] ?? Number.POSITIVE_INFINITY) <= asleepFromMs) run.edge += 1;
  const toOpen = (run.edge & 1) === 0;
  const armed = run.armed === 'all' || toOpen ? run.edge : run.edge + 1;
  const edgeMs = edges[armed];
  if (edgeMs === undefined || edgeMs >= run.wakeMs) return;
  run.wakeMs = edgeMs;
  run.cause = inputCode.wake.contact;
}

/** The wake ends before its check: by a fault, or with the timeline. */
function cutShort(run: Run, journal: Journal, before: number): boolean {
  run.tally.bootMs += Math.min(run.faultMs, run.lengthMs) - run.wakeMs;
  journal.addInterrupted(before, run.cause, run.wakeMs);
  return takeFault(run);
}

/** The next fault strikes; sets up the wake after it. False when the run is over. */
function takeFault(run: Run): boolean {
  const atMs = run.faultMs;
  if (atMs >= run.lengthMs) return false;
  const backMs = run.faults.backMs[run.fault] ?? Number.POSITIVE_INFINITY;
  run.fault += 1;
  run.faultMs = run.faults.atMs[run.fault] ?? Number.POSITIVE_INFINITY;
  run.wakeMs = backMs;
  run.cause = inputCode.wake.reset;
  if (backMs > atMs) {
    run.state = run.table.next[run.state * inputCodes + inputCode.powerLost] ?? 0;
    run.cause = inputCode.wake['power-on'];
    run.deliveredReading = Number.NEGATIVE_INFINITY;
    run.heartbeatReading = run.clock.reading(Math.min(backMs, run.lengthMs));
    run.tally.offMs += Math.min(backMs, run.lengthMs) - atMs;
    run.onPowerLost(atMs);
  }
  return backMs < run.lengthMs;
}
