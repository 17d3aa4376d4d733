// Wakes that only look and sleep again, run in local variables. While the device finds the same each time, whole
// openings that come and go between two checks are stepped over.
import { effectBit, effectCell, inputCode, nextState } from '../machine/index.js';
import { nextBorder, within } from '../world/index.js';
import { quietUntilMs } from './drain.js';
import {
  type Run,
  readingAt,
  type Steady,
  type SteadySleep,
  slept,
  steadySleepOf,
} from './run-state.js';

/** What a check may lead to besides sleep and a blink. */
export const effectsBesideSleep =
  effectBit.attemptAlert |
  effectBit.attemptHeartbeat |
  effectBit.attemptLowBattery |
  effectBit.decideAlert |
  effectBit.dropAlert |
  effectBit.hold;

const timer = inputCode.wake.timer;
const never = Number.POSITIVE_INFINITY;

/** The facts of a check as its column in the table; `edge` is the index of the first contact edge after it. */
export function checkCode(run: Run, edge: number, checkMs: number): number {
  const reading = readingAt(run, checkMs);
  let code: number = inputCode.check + (edge & 1);
  if (reading >= run.cooldownEnd) code += inputCode.checkCooldownOver;
  if (reading >= run.heartbeatEnd) code += inputCode.checkHeartbeatDue;
  if (reading >= run.lowBatteryEnd && isLow(run, checkMs)) {
    code += inputCode.checkLowBatteryDue;
    run.lowBatteryDueMs = Math.min(run.lowBatteryDueMs, checkMs);
  }
  return code;
}

function isLow({ charge, batteryLow }: Run, checkMs: number): boolean {
  return charge?.isLow === true || within(batteryLow, checkMs);
}

/** How many further checks, each after a like sleep, find the clock as this one did and come before any limit. */
export function likeChecks(
  run: Run,
  sleep: SteadySleep,
  on: { readonly checkMs: number; readonly code: number; readonly untilMs: number },
): number {
  const { checkMs, code, untilMs } = on;
  let count = Math.max(0, checksBefore(untilMs, checkMs, sleep.periodMs));
  const reading = readingAt(run, checkMs);
  if ((code & inputCode.checkCooldownOver) === 0) {
    count = Math.min(count, checksBefore(run.cooldownEnd, reading, sleep.countedPeriodMs));
  }
  if ((code & inputCode.checkHeartbeatDue) === 0) {
    count = Math.min(count, checksBefore(run.heartbeatEnd, reading, sleep.countedPeriodMs));
  }
  if (run.lowBatteryEnd === never) return count;
  // Where the charge decides, no quiet wake goes beyond the look at it.
  count = Math.min(
    count,
    checksBefore(nextBorder(run.batteryLow, checkMs), checkMs, sleep.periodMs),
  );
  if (reading < run.lowBatteryEnd && isLow(run, checkMs)) {
    count = Math.min(count, checksBefore(run.lowBatteryEnd, reading, sleep.countedPeriodMs));
  }
  return Math.max(0, count);
}

/** How many instants after `fromMs`, one every `periodMs`, come before `endMs`. */
export function checksBefore(endMs: number, fromMs: number, periodMs: number): number {
  return Math.ceil((endMs - fromMs) / periodMs) - 1;
}

/**
 * Runs timer wakes of a steady device without armed edges, from the next one on. Stops before a wake that does
 * more than look and sleep, or asleep, with the next wake at or beyond the limit.
 */
export function quietWakes(run: Run, steady: Steady): void {
  const { edges, limitMs, tally, table } = run;
  const { bootMs } = steady;
  let { state, wakeMs, edge } = run;
  let checks = 0;
  let shutChecks = 0;
  const untilMs = quietUntilMs(run);
  while (wakeMs + bootMs < untilMs) {
    const checkMs = wakeMs + bootMs;
    let ahead = edge;
    while ((edges[ahead] ?? never) <= checkMs) ahead += 1;
    const code = checkCode(run, ahead, checkMs);
    const awake = nextState(table, state, timer);
    const effects = effectCell(table, awake, code);
    if ((effects & effectsBesideSleep) !== 0) break;
    edge = ahead;
    const sleep = steadySleepOf(steady, effects);
    const after = nextState(table, awake, code);
    let same = 0;
    if (after === state) {
      same = likeChecks(run, sleep, { checkMs, code, untilMs });
      for (;;) {
        const blind = checksBefore(edges[edge] ?? never, checkMs, sleep.periodMs);
        if (blind >= same) break;
        const seesMs = checkMs + (blind + 1) * sleep.periodMs;
        while ((edges[ahead] ?? never) <= seesMs) ahead += 1;
        if (((ahead - edge) & 1) === 1) {
          same = blind;
          break;
        }
        edge = ahead;
      }
      slept(run, sleep, same);
    }
    state = after;
    checks += 1 + same;
    if ((code & inputCode.checkReadsOpen) === 0) shutChecks += 1 + same;
    wakeMs = checkMs + same * sleep.periodMs + sleep.lengthMs;
    if (wakeMs >= limitMs) break;
    slept(run, sleep, 1);
  }
  run.state = state;
  run.wakeMs = wakeMs;
  run.edge = edge;
  tally.checks += checks;
  tally.wakes[timer] += checks;
  tally.bootMs += checks * bootMs;
  tally.openChecks += checks - shutChecks;
  tally.shutBootMs += shutChecks * bootMs;
}
