// Retained memory along a window, as steps: which checks are remembered, and how many attempts have failed.
import type { Trace } from '../../sim/index.js';
import type { World } from '../../world/index.js';
import { wakesIn } from './wakes.js';
import { clipped, spansIn, type Window } from './window.js';

/** From one change of the remembered checks to the next. Stretches in which nothing is remembered are left out. */
export interface MemorySpan extends Window {
  /** The last checks from the first open one on, oldest first. */
  readonly checks: readonly ('open' | 'shut')[];
  /** Shut checks in a row at the end. */
  readonly shutRun: number;
  /** False where it began before the window. */
  readonly startsHere: boolean;
}

/** A change of memory: the checks, or the failed attempts, hold this value from then on. */
interface Step<Value> {
  readonly atMs: number;
  readonly value: Value;
}

type Remembered = Pick<MemorySpan, 'checks' | 'shutRun'>;

const nothing: Remembered = { checks: [], shutRun: 0 };

/** The bits of `recentChecks` from the first open check on, oldest first. */
function checksOf(recentChecks: number): ('open' | 'shut')[] {
  return recentChecks === 0
    ? []
    : recentChecks
        .toString(2)
        .split('')
        .map((bit) => (bit === '1' ? 'open' : 'shut'));
}

/** What is remembered of the last checks. */
export function memoryIn(
  trace: Pick<Trace, 'wakes'>,
  world: Pick<World, 'powerLost'>,
  window: Window,
): MemorySpan[] {
  const steps: Step<Remembered>[] = lossSteps(world, window, nothing);
  for (const { check, memoryAfter } of wakesIn(trace, window, 1)) {
    if (check === null) continue;
    const { recentChecks, shutRun } = memoryAfter;
    steps.push({ atMs: check.atMs, value: { checks: checksOf(recentChecks), shutRun } });
  }
  return stretches(steps, window)
    .filter(({ value }) => value.checks.length > 0)
    .map(({ value, startsHere, ...span }) => ({ ...span, ...value, startsHere }));
}

/** Stretches in which failed attempts are counted in memory, with their number. */
export function failuresIn(
  trace: Pick<Trace, 'wakes'>,
  world: Pick<World, 'powerLost'>,
  window: Window,
): (Window & { readonly failed: number })[] {
  const steps: Step<number>[] = lossSteps(world, window, 0);
  for (const { alertSend, memoryAfter } of wakesIn(trace, window, 1)) {
    if (alertSend === null || alertSend.outcome === 'cutOff') continue;
    steps.push({ atMs: alertSend.endMs, value: memoryAfter.failedAttempts });
  }
  return stretches(steps, window)
    .filter(({ value }) => value > 0)
    .map(({ value, fromMs, toMs }) => ({ fromMs, toMs, failed: value }));
}

/** Power loss takes everything with it. */
function lossSteps<Value>(
  { powerLost }: Pick<World, 'powerLost'>,
  window: Window,
  value: Value,
): Step<Value>[] {
  return spansIn(powerLost, window).map(({ fromMs }) => ({ atMs: fromMs, value }));
}

function stretches<Value>(
  steps: Step<Value>[],
  window: Window,
): (Window & { readonly value: Value; readonly startsHere: boolean })[] {
  // A loss of power at the instant of a check comes before the check, which then did not happen.
  const ordered = steps.sort((a, b) => a.atMs - b.atMs);
  const result: (Window & { value: Value; startsHere: boolean })[] = [];
  ordered.forEach(({ atMs, value }, index) => {
    const nextMs = ordered[index + 1]?.atMs ?? Number.POSITIVE_INFINITY;
    const part = clipped({ fromMs: atMs, toMs: nextMs }, window);
    if (part === null) return;
    const last = result.at(-1);
    if (last !== undefined && JSON.stringify(last.value) === JSON.stringify(value)) {
      result[result.length - 1] = { ...last, toMs: part.toMs };
    } else {
      result.push({ ...part, value, startsHere: atMs >= window.fromMs });
    }
  });
  return result;
}
