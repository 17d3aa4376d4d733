// From what is set to all that follows from it at once: watch, week, verdict, bounds, battery. What a step of a slider
// leaves as it was is not worked out again.

import type { Diagnostic, Result } from '../base/index.js';
import { type BatteryAnswer, batteryAnswer, useOf } from '../battery/index.js';
import {
  type BoundsQuestion,
  type DetectionBounds,
  detectionBounds,
  type Known,
  type LengthBounds,
  lengthBoundsOf,
  questionOf,
  TooManyStatesError,
} from '../bounds/index.js';
import { type Scene, sceneOf } from '../chart/index.js';
import { logicKey, type WatchSettings } from '../machine/index.js';
import { mostPlannerEdges, mostPlannerReasons } from '../model/index.js';
import {
  overlaidWatchText,
  parseWatchFile,
  scenarioText,
  type Timeline,
  type UsageProfile,
  type WatchFile,
  watchTextSaying,
} from '../scenarios/index.js';
import { compileWatch, type Program, simulate } from '../sim/index.js';
import { explain, judge } from '../verdict/index.js';
import { type LengthBar, lengthBarOf } from '../wording/index.js';
import { lastOf, type Work } from './last-of.js';
import { overridesOf } from './settings.js';
import { doorOf, readSource, timelineFrom } from './source.js';
import { type PlannerState, watchNameOf } from './state.js';
import { profileOf, usageOf } from './usage.js';

export interface Plan {
  readonly watchFile: WatchFile;
  readonly scene: Scene;
  readonly question: BoundsQuestion;
  /** Null: the search outgrew its limit. */
  readonly bounds: DetectionBounds | null;
  /** What is proved of lengths, and its bar; null with the bounds. */
  readonly lengths: LengthBounds | null;
  readonly bar: LengthBar | null;
  readonly battery: BatteryAnswer | null;
  readonly watchText: () => string;
  /** Null for a door log. */
  readonly scenarioText: (() => string) | null;
  /** How the door is used in years of use; null: nobody knows the profile. */
  readonly profile: UsageProfile | null;
  readonly warnings: readonly Diagnostic[];
}

export type Planned =
  | { readonly ok: true; readonly plan: Plan }
  /** `source.file` of an error is the key of its field, or the name of its file. */
  | { readonly ok: false; readonly errors: readonly Diagnostic[] };

/** Plans, one after the other; what two in a row share is worked out once. */
export function planning(): (state: PlannerState) => Planned {
  const known: Shared = {
    tableOf: lastOf(tableFor),
    readSource: lastOf({ key: (source) => source, work: readSource }),
  };
  return (state) => planOf(state, known);
}

interface Shared {
  readonly tableOf: (watch: WatchSettings) => Program['table'];
  readonly readSource: typeof readSource;
}

const tableFor: Work<WatchSettings, Program['table']> = {
  // The logic reads these and nothing else: lengths of sleeps do not shape the table.
  key: logicKey,
  work: (watch) => compileWatch(watch).table,
};

function planOf(state: PlannerState, known: Shared): Planned {
  const overrides = overridesOf(state.set);
  const watch = parseWatchFile(state.watchText, watchNameOf(state), overrides);
  const usage = usageOf(state);
  if (!watch.ok || !usage.ok)
    return { ok: false, errors: [...errorsOf(watch), ...errorsOf(usage)] };
  const watchFile = watch.value;
  const read = known.readSource(state.source);
  if (!read.ok) return read;
  const source = doorOf(read.value, state.drawn, usage.value);
  const made = timelineFrom(source, watchFile);
  if (!made.ok) return made;
  const timeline = { ...made.value, remarks: [...read.warnings, ...made.value.remarks] };
  const program = { watch: watchFile.watch, table: known.tableOf(watchFile.watch) };
  const scene = sceneFor(timeline, watchFile, program);
  const { watch: settings, timing, supply } = watchFile;
  const question = questionOf(watchFile, { table: program.table, ownLogic: false });
  const bounds = boundsFor(question);
  const lengths = lengthBoundsOf(question, knownFrom(bounds));
  const use = { file: timeline.file, name: timeline.name, use: useOf(scene.trace, timeline.world) };
  return {
    ok: true,
    plan: {
      watchFile,
      scene,
      question,
      bounds,
      lengths,
      bar: lengths === null ? null : lengthBarOf(lengths, watchFile),
      battery:
        supply === null
          ? null
          : batteryAnswer({ watch: settings, timing, supply, timelines: [use], measured: null }),
      watchText: () =>
        state.watchText === null
          ? watchTextSaying(state.filledFrom, overrides)
          : overlaidWatchText(state.watchText, watchNameOf(state), { overrides, comment: [] }),
      scenarioText: source.kind === 'log' ? null : () => scenarioText(source.scenario),
      profile: profileOf(state, usage.value),
      warnings: [...watch.warnings, ...timeline.remarks],
    },
  };
}

function errorsOf(result: Result<unknown>): readonly Diagnostic[] {
  return result.ok ? [] : result.errors;
}

function boundsFor(question: BoundsQuestion): DetectionBounds | null {
  try {
    return detectionBounds(question);
  } catch (error) {
    if (error instanceof TooManyStatesError) return null;
    throw error;
  }
}

/** What the bounds say of the requirements; nothing if the search outgrew its limit. */
export function knownFrom(bounds: DetectionBounds | null): Known {
  if (bounds === null) {
    const nothing = { atRest: undefined, anyState: undefined };
    return { alwaysReportedFromMs: nothing, worstDelayMs: nothing, neverAlarmedUpToMs: undefined };
  }
  const { alwaysReportedFromMs, worstDelayMs, neverAlarmedUpToMs: quietMs } = bounds;
  const neverAlarmedUpToMs = quietMs === Number.POSITIVE_INFINITY ? null : quietMs;
  return { alwaysReportedFromMs, worstDelayMs, neverAlarmedUpToMs };
}

function sceneFor(timeline: Timeline, watchFile: WatchFile, program: Program): Scene {
  const { timing, world, seed } = timeline;
  const experiment = { program, timing, world, seed };
  const trace = simulate(experiment, { record: 'all' });
  const verdict = judge(world.openings, trace, watchFile.judge, timeline.logged?.unseen);
  const limit = world.contact.length > mostPlannerEdges ? 3 : mostPlannerReasons;
  const explanations = explain({ experiment, verdict, asked: watchFile.judge, limit });
  return sceneOf({ timeline, trace, verdict, watchFile }, explanations);
}
