// A drill done at a real door, as it were: any device within its ranges, any person within the tolerance.
import { randomStream, trueMs } from '../../src/base/index.js';
import { questionOf } from '../../src/bounds/index.js';
import { loadLeastCover } from '../../src/cli/drill/least-cover.js';
import {
  type Action,
  type Drill,
  type DrillQuestion,
  drillOf,
  type Step,
  type StepKind,
  wrongs,
} from '../../src/drill/index.js';
import { parseWatchFile, type WatchFile } from '../../src/scenarios/index.js';
import { type Program, simulate } from '../../src/sim/index.js';
import {
  deviceTiming,
  idealContactEdges,
  type Spans,
  spansOf,
  type World,
} from '../../src/world/index.js';

export const toleranceMs = 2_000;

export const leastCover = await loadLeastCover();

export function watchOf(text: string): WatchFile {
  const result = parseWatchFile(text, 'watch.yaml');
  if (!result.ok) throw new Error(JSON.stringify(result.errors));
  return { ...result.value, reset: { button: 'keeps', watchdog: null, software: null } };
}

export function drillFor(
  watchFile: WatchFile,
  short = false,
  without: readonly StepKind[] = [],
): Drill {
  return endOf(drillOf(questionFor(watchFile, short, without), leastCover));
}

export function questionFor(
  watchFile: WatchFile,
  short = false,
  without: readonly StepKind[] = [],
): DrillQuestion {
  return { ...questionOf(watchFile), toleranceMs, short, without: new Set(without) };
}

/** What steps come to. */
export function endOf<Result>(steps: Generator<unknown, Result>): Result {
  for (;;) {
    const step = steps.next();
    if (step.done === true) return step.value;
  }
}

interface Done {
  readonly step: Step;
  readonly seed: string;
}

/** Whether a device does in a step what the drill says it must, with everything that may vary drawn. */
export function passes(program: Program, file: WatchFile, { step, seed }: Done): boolean {
  return wrongs(step, notedOf(program, file, { step, seed })).length === 0;
}

/** When somebody notes the messages of a device in a step, with everything that may vary drawn. */
export function notedOf(
  program: Program,
  { timing }: WatchFile,
  { step, seed }: Done,
): readonly number[] {
  const stream = randomStream(seed, 'hands');
  const actions = step.actions.map(({ deed, atMs }) => ({
    deed,
    atMs: atMs + stream.whole(-step.toleranceMs, step.toleranceMs),
  }));
  const trace = simulate({
    program,
    timing: deviceTiming({}, timing),
    world: worldOf(actions, step.endsMs),
    seed,
  });
  return trace.alerts.flatMap(({ deliveredMs }) =>
    deliveredMs === null ? [] : [deliveredMs + stream.whole(-toleranceMs, toleranceMs)],
  );
}

function worldOf(actions: readonly Action[], endsMs: number): World {
  const pairs: Record<string, [number, number][]> = { door: [], network: [], power: [] };
  const resets: number[] = [];
  const begin = (name: string, atMs: number): void => {
    pairs[name]?.push([atMs, Number.POSITIVE_INFINITY]);
  };
  const end = (name: string, atMs: number): void => {
    const last = pairs[name]?.at(-1);
    if (last !== undefined) last[1] = atMs;
  };
  for (const { deed, atMs } of actions) {
    if (deed === 'open') begin('door', atMs);
    if (deed === 'shut') end('door', atMs);
    if (deed === 'network-off') begin('network', atMs);
    if (deed === 'network-on') end('network', atMs);
    if (deed === 'power-off') begin('power', atMs);
    if (deed === 'power-on') end('power', atMs);
    if (deed === 'reset') resets.push(atMs);
  }
  const spans = (name: string): Spans => spansOf(pairs[name] ?? []);
  return {
    lengthMs: trueMs(endsMs),
    openings: spans('door'),
    contact: idealContactEdges(spans('door')),
    networkDown: spans('network'),
    powerLost: spans('power'),
    resetsMs: Float64Array.from(resets),
    powerOnAtMs: trueMs(0),
  };
}
