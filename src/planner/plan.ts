// From what is set to all that follows from it at once: watch, week, verdict, bounds, battery. What a step of a slider
// leaves as it was is not worked out again.
import { type Diagnostic, trueMs } from '../base/index.js';
import { type BatteryAnswer, batteryAnswer, useOf } from '../battery/index.js';
import {
  type BoundsQuestion,
  type DetectionBounds,
  detectionBounds,
  TooManyStatesError,
} from '../bounds/index.js';
import { type Scene, sceneOf } from '../chart/index.js';
import type { WatchSettings } from '../machine/index.js';
import {
  openDoorLog,
  overlaidWatchText,
  parseScenario,
  parseWatchFile,
  type Scenario,
  type ScenarioOpening,
  scenarioText,
  type Timeline,
  timelineOf,
  timelineOfLog,
  type WatchFile,
  type WatchOverride,
} from '../scenarios/index.js';
import { compileWatch, type Program, simulate } from '../sim/index.js';
import { explain, judge } from '../verdict/index.js';
import { valueOf } from './fields.js';
import type { PlannerState } from './state.js';

export interface Plan {
  readonly watchFile: WatchFile;
  readonly scene: Scene;
  readonly question: BoundsQuestion;
  /** Null: the search outgrew its limit. */
  readonly bounds: DetectionBounds | null;
  readonly battery: BatteryAnswer | null;
  readonly watchText: () => string;
  /** Null for a door log. */
  readonly scenarioText: (() => string) | null;
  readonly warnings: readonly Diagnostic[];
}

export type Planned =
  | { readonly ok: true; readonly plan: Plan }
  /** `source.file` of an error is the key of its field, or the name of its file. */
  | { readonly ok: false; readonly errors: readonly Diagnostic[] };

const watchName = 'watch.yaml';
const mostExplained = 20;
/** A reason costs a run of its own: a contact with more edges than this gets few. */
const mostExplainedEdges = 4_000;

/** Plans, one after the other; what two in a row share is worked out once. */
export function planning(): (state: PlannerState) => Planned {
  const known: Known = { tableOf: lastOf(tableFor), scenarioOf: lastOf(scenarioFor) };
  return (state) => planOf(state, known);
}

interface Known {
  readonly tableOf: (watch: WatchSettings) => Program['table'];
  readonly scenarioOf: (source: PlannerState['source']) => ReturnType<typeof parseScenario>;
}

/** A function that remembers its last answer, by the text of the key. */
function lastOf<In, Out>({ key, work }: Work<In, Out>): (input: In) => Out {
  let last: { readonly key: string; readonly out: Out } | null = null;
  return (input) => {
    const text = key(input);
    if (last?.key !== text) last = { key: text, out: work(input) };
    return last.out;
  };
}

interface Work<In, Out> {
  readonly key: (input: In) => string;
  readonly work: (input: In) => Out;
}

const tableFor: Work<WatchSettings, Program['table']> = {
  // The logic reads these and nothing else: lengths of sleeps do not shape the table.
  key: (watch) =>
    JSON.stringify([
      watch.escalationThreshold,
      watch.clearThreshold,
      watch.cooldownEndsWhenShut,
      watch.afterAlert,
      watch.retryAttempts,
      watch.unsentWhenShut,
      watch.heartbeats,
    ]),
  work: (watch) => compileWatch(watch).table,
};

const scenarioFor: Work<PlannerState['source'], ReturnType<typeof parseScenario>> = {
  key: ({ name, text }) => `${name}\n${text}`,
  work: ({ name, text }) => parseScenario(text, name),
};

function planOf(state: PlannerState, known: Known): Planned {
  const overrides = overridesOf(state);
  const watch = parseWatchFile(state.watchText, watchName, overrides);
  if (!watch.ok) return { ok: false, errors: watch.errors };
  const watchFile = watch.value;
  const source = timelineFrom(state, watchFile, known);
  if (!source.ok) return source;
  const { timeline } = source;
  const program = { watch: watchFile.watch, table: known.tableOf(watchFile.watch) };
  const { scenario } = source;
  const scene = sceneFor(timeline, watchFile, program);
  const {
    watch: settings,
    timing,
    judge: asked,
    contact,
    sealGapUm,
    environment,
    supply,
  } = watchFile;
  const question = { program, timing, judge: asked, contact, sealGapUm, environment };
  const use = { file: timeline.file, name: timeline.name, use: useOf(scene.trace, timeline.world) };
  return {
    ok: true,
    plan: {
      watchFile,
      scene,
      question,
      bounds: boundsFor(question),
      battery:
        supply === null
          ? null
          : batteryAnswer({ watch: settings, timing, supply, timelines: [use], measured: null }),
      watchText: () => overlaidWatchText(state.watchText, watchName, { overrides, comment: [] }),
      scenarioText: scenario === null ? null : () => scenarioText(scenario),
      warnings: [...watch.warnings, ...timeline.remarks],
    },
  };
}

function overridesOf({ set }: PlannerState): readonly WatchOverride[] {
  return Object.entries(set)
    .filter(([, written]) => written.trim() !== '')
    .map(([key, written]) => ({
      path: key.split('.'),
      value: valueOf(written.trim()),
      text: written,
      source: key,
    }));
}

function boundsFor(question: BoundsQuestion): DetectionBounds | null {
  try {
    return detectionBounds(question);
  } catch (error) {
    if (error instanceof TooManyStatesError) return null;
    throw error;
  }
}

function sceneFor(timeline: Timeline, watchFile: WatchFile, program: Program): Scene {
  const { timing, world, seed } = timeline;
  const experiment = { program, timing, world, seed };
  const trace = simulate(experiment, { record: 'all' });
  const verdict = judge(world.openings, trace, watchFile.judge);
  const limit = world.contact.length > mostExplainedEdges ? 3 : mostExplained;
  const explanations = explain({ experiment, verdict, asked: watchFile.judge, limit });
  return sceneOf({ timeline, trace, verdict, watchFile }, explanations);
}

type From =
  | { readonly ok: true; readonly timeline: Timeline; readonly scenario: Scenario | null }
  | { readonly ok: false; readonly errors: readonly Diagnostic[] };

function timelineFrom(state: PlannerState, watchFile: WatchFile, known: Known): From {
  const { kind, name, text } = state.source;
  if (kind === 'log') {
    const reader = openDoorLog({ file: name });
    reader.push(text);
    const log = reader.finish();
    if (!log.ok) return log;
    const timeline = timelineOfLog(log.value, watchFile, { name, file: name });
    return timeline.ok ? { ok: true, timeline: timeline.value, scenario: null } : timeline;
  }
  const parsed = known.scenarioOf(state.source);
  if (!parsed.ok) return parsed;
  const scenario = withDrawn(parsed.value, state.drawn);
  const timeline = timelineOf(scenario, watchFile);
  return timeline.ok ? { ok: true, timeline: timeline.value, scenario } : timeline;
}

/** The scenario with what was drawn by hand; a later stroke gives way to what is there. */
function withDrawn(scenario: Scenario, drawn: PlannerState['drawn']): Scenario {
  const door: ScenarioOpening[] = [...scenario.door];
  for (const [fromMs, wantedMs] of drawn) {
    const toMs = Math.min(wantedMs, scenario.lengthMs);
    if (fromMs >= toMs || door.some((one) => one.fromMs < toMs && fromMs < one.toMs)) continue;
    door.push({
      fromMs: trueMs(fromMs),
      toMs: toMs === scenario.lengthMs ? Number.POSITIVE_INFINITY : toMs,
      gapUm: null,
      approach: 'closing',
      note: 'drawn',
      source: { file: scenario.file },
    });
  }
  return { ...scenario, door: door.sort((a, b) => a.fromMs - b.fromMs) };
}
