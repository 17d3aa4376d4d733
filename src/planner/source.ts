// The door that a plan is tried on: a scenario with what was drawn on it by hand, or a door log.
import { greatestOf, leastOf, ok, type Result, trueMs } from '../base/index.js';
import {
  type DoorLog,
  openDoorLog,
  parseScenario,
  type Scenario,
  type ScenarioOpening,
  type Timeline,
  timelineOf,
  timelineOfLog,
  type WatchFile,
} from '../scenarios/index.js';
import type { PlannerState } from './state.js';
import { type Usage, withUsage } from './usage.js';

export type Source =
  | { readonly kind: 'scenario'; readonly scenario: Scenario }
  | { readonly kind: 'log'; readonly log: DoorLog; readonly name: string };

type Drawn = PlannerState['drawn'];

export function readSource(source: PlannerState['source']): Result<Source> {
  const { kind, name, text, lenient = false, zone = '' } = source;
  if (kind === 'log') {
    const given = zone.trim() === '' ? {} : { zone: zone.trim() };
    const reader = openDoorLog({ file: name, lenient, ...given });
    reader.push(text);
    const log = reader.finish();
    return log.ok ? ok({ kind, log: log.value, name }, log.warnings) : log;
  }
  const parsed = parseScenario(text, name);
  return parsed.ok ? ok({ kind, scenario: parsed.value }, parsed.warnings) : parsed;
}

/** A source with what was drawn on it, used as is set; a log is as it is. */
export function doorOf(source: Source, drawn: Drawn, usage: Usage): Source {
  if (source.kind === 'log') return source;
  return { ...source, scenario: withDrawn(withUsage(source.scenario, usage), drawn) };
}

export function timelineFrom(source: Source, watchFile: WatchFile): Result<Timeline> {
  if (source.kind === 'scenario') return timelineOf(source.scenario, watchFile);
  const { log, name } = source;
  return timelineOfLog(log, watchFile, { name, file: name });
}

/** The scenario with what was drawn by hand; a stroke that overlaps or touches openings makes them one. */
function withDrawn(scenario: Scenario, drawn: Drawn): Scenario {
  let door: readonly ScenarioOpening[] = scenario.door;
  for (const [fromMs, wantedMs] of drawn) {
    const toMs = Math.min(wantedMs, scenario.lengthMs);
    if (fromMs >= toMs) continue;
    const isMet = (one: ScenarioOpening): boolean => one.fromMs <= toMs && fromMs <= one.toMs;
    const met = door.filter(isMet);
    const [first] = met;
    const endMs = Math.max(toMs, greatestOf(met.map((one) => one.toMs)));
    door = [
      ...door.filter((one) => !isMet(one)),
      {
        fromMs: trueMs(Math.min(fromMs, leastOf(met.map((one) => one.fromMs)))),
        toMs: endMs >= scenario.lengthMs ? Number.POSITIVE_INFINITY : endMs,
        gapUm: first?.gapUm ?? null,
        approach: first?.approach ?? 'closing',
        note: first?.note ?? 'drawn',
        source: { file: scenario.file },
      },
    ];
  }
  return { ...scenario, door: [...door].sort((a, b) => a.fromMs - b.fromMs) };
}
