// One timeline through one watch: run, judged and compared with what it expects. Wakes are not recorded here;
// to get them, run the same experiment again: it gives the same wakes.

import { type Diagnostic } from '../../base/index.js';
import { type Use, useOf } from '../../battery/index.js';
import {
  experimentOf,
  type Timeline,
  type UnmetExpectation,
  unmetExpectations,
} from '../../scenarios/index.js';
import {
  type AlertRecord,
  type Experiment,
  type SimulateOptions,
  simulate,
  type Trace,
} from '../../sim/index.js';
import {
  type Explanation,
  explain,
  judge,
  type Summary,
  type Verdict,
  type Wanted,
} from '../../verdict/index.js';
import type { FirmwareView } from '../../wording/index.js';
import { type World, withResetsClearing } from '../../world/index.js';
import type { LoadedWatch } from '../inputs/load-watch.js';
import { traceLines } from './trace-lines.js';

export interface Replay {
  readonly timeline: Timeline;
  readonly experiment: Experiment;
  readonly verdict: Verdict;
  readonly alerts: readonly AlertRecord[];
  /** Wakes of the run, recorded or not. */
  readonly wakes: number;
  /** What it means to a battery. */
  readonly use: Use;
  /** Null: the timeline expects nothing of its own. */
  readonly unmet: readonly UnmetExpectation[] | null;
  /** What ran: null for the machine of the watch file, else the owner's firmware. */
  readonly firmware: FirmwareView | null;
  /** The result of the run, without its wakes. */
  readonly trace: Trace;
  /** The trace with all its wakes, or those in some spans at least. */
  readonly traced: (record?: SimulateOptions['record']) => Trace;
  /** The reasons for what went wrong: for at most `limit` openings and as many alerts. */
  readonly explained: (limit: number, wanted?: Wanted) => readonly Explanation[];
  /** Every wake as a line of NDJSON. */
  readonly lines: () => Iterable<string>;
}

export function replayOne(timeline: Timeline, watch: LoadedWatch): Replay {
  const experiment = experimentOf(timeline, watch);
  const run = (over: World): Trace => simulate({ ...experiment, world: over }, { record: 'none' });
  const judged = judgedRun(timeline, watch, run);
  const asked = watch.watchFile.judge;
  return {
    ...judged,
    experiment,
    firmware: null,
    traced: (record = 'all') => simulate(experiment, { record }),
    explained: (limit, wanted) =>
      explain({ experiment, verdict: judged.verdict, asked, limit, wanted }),
    lines: () => traceLines({ experiment, timeline, wakes: judged.wakes }),
  };
}

/**
 * What follows from a run, whatever ran the device. Where nothing says what some resets do, it is run again with memory
 * cleared, and a remark says if that changes the outcome.
 */
export function judgedRun(
  given: Timeline,
  { watchFile }: LoadedWatch,
  run: (world: World) => Trace,
): Pick<Replay, 'timeline' | 'verdict' | 'trace' | 'alerts' | 'wakes' | 'use' | 'unmet'> {
  const { world, expect, logged } = given;
  const trace = run(world);
  const judged = (of: Trace): Verdict => judge(world.openings, of, watchFile.judge, logged?.unseen);
  const verdict = judged(trace);
  const cleared = withResetsClearing(world);
  const other = cleared === null ? null : judged(run(cleared)).summary;
  const decides = other === null ? [] : resetsDecide(verdict.summary, other, given.file);
  const timeline = { ...given, remarks: [...given.remarks, ...decides] };
  const wakes = Object.values(trace.tally.wakes).reduce((sum, count) => sum + count, 0);
  const unmet = expect === null ? null : unmetExpectations(expect, verdict.summary);
  return { timeline, verdict, trace, alerts: trace.alerts, wakes, use: useOf(trace, world), unmet };
}

/** The remark that a verdict depends on what nothing says: whether resets keep memory. Empty: it does not. */
function resetsDecide(kept: Summary, cleared: Summary, file: string): readonly Diagnostic[] {
  const words: Readonly<Record<string, string>> = {
    missed: 'missed',
    late: 'late',
    falseAlarms: 'false alarms',
    repeats: 'repeated alerts',
    alerts: 'alerts',
  };
  const differ = (['missed', 'late', 'falseAlarms', 'repeats', 'alerts'] as const).filter(
    (name) => kept[name] !== cleared[name],
  );
  const [first] = differ;
  if (first === undefined) return [];
  const what = `${words[first] ?? first}: ${String(cleared[first])} instead of ${String(kept[first])}`;
  const message = `if resets clear retained memory, the outcome is different: ${what}`;
  const hint = 'set device.reset in the watch file';
  return [{ code: 'reset-decides', severity: 'warning', source: { file }, message, hint }];
}
