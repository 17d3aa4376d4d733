// Every phase of a replay: from which power-on on, and how far it may go.
import { trueMs } from '../../base/index.js';
import { mostPhaseExamples, mostPhaseExampleWakes, mostPhaseSteps } from '../../model/index.js';
import { type EveryPhase, everyPhase } from '../../phase/index.js';
import { simulate } from '../../sim/index.js';
import { judge } from '../../verdict/index.js';
import type { AlarmedPhase, PhasesView } from '../../wording/index.js';
import type { LoadedWatch } from '../inputs/load-watch.js';
import { optionWords, watchWords } from '../layout/next-line.js';
import type { Replay } from './one.js';
import { replayTakes } from './options.js';

/**
 * Every phase, from the power-on of the timeline on; a log that gives none is judged as if the device had been running before.
 * @returns null beyond `mostSteps`.
 */
export function everyPhaseOf(
  { experiment, timeline }: Replay,
  { watchFile }: LoadedWatch,
  mostSteps?: number,
): EveryPhase | null {
  const { logged } = timeline;
  const wasRunning = logged?.powerOnIsAssumed === true;
  return everyPhase(experiment, watchFile.judge, {
    wasRunning,
    unavailable: logged?.unseen,
    mostSteps,
  });
}

/** Options of other commands that mean something else to a replay, or that only show its answer otherwise. */
const ofOthers = ['config', 'noConfig', 'logic', 'seed', 'json', 'all', 'chart', 'everyPhase'];

/** The command that judges every phase of a timeline, as it was read. @param options what was typed. */
export function everyPhaseWords(
  input: string,
  name: string | null,
  options: Readonly<Record<string, unknown>>,
): readonly string[] {
  return [
    ...['replay', input, ...watchWords(name, options)],
    ...[...optionWords(options, ofOthers, replayTakes), '--every-phase'],
  ];
}

/** @param areJudged the command line wants every phase. */
export function phasesOf(
  replay: Replay,
  watch: LoadedWatch,
  areJudged: boolean,
): PhasesView | null {
  if (replay.firmware !== null) return null;
  if (areJudged) {
    const every = everyPhaseOf(replay, watch);
    const alarmed = every === null ? null : alarmedPhase(replay, watch, every);
    return alarmed === null ? { areJudged, every } : { areJudged, every, alarmed };
  }
  if (replay.timeline.logged?.powerOnIsAssumed !== true) return null;
  return { areJudged, every: everyPhaseOf(replay, watch, mostPhaseSteps) };
}

/** The golden ratio: each try falls into one of the widest gaps that the others left. */
const spread = 0.618_033_988_749_895;

/** Runs phases one by one until one raises a false alarm. Null: none is needed, or none was found. */
function alarmedPhase(
  { experiment, timeline, verdict, wakes }: Replay,
  { watchFile }: LoadedWatch,
  { summary }: EveryPhase,
): AlarmedPhase | null {
  if (summary.expectedFalseAlarms === 0 || verdict.summary.falseAlarms > 0) return null;
  const { world } = experiment;
  const { phaseLengthMs } = summary;
  const fromMs = timeline.logged?.powerOnIsAssumed === true ? 0 : world.powerOnAtMs;
  const affordable = Math.floor(mostPhaseExampleWakes / Math.max(1, wakes));
  const tries = Math.min(mostPhaseExamples, Math.max(1, affordable));
  for (let index = 1; index <= tries; index += 1) {
    const powerOnAtMs = trueMs(fromMs + Math.floor(((index * spread) % 1) * phaseLengthMs));
    if (powerOnAtMs >= world.lengthMs) continue;
    const trace = simulate({ ...experiment, world: { ...world, powerOnAtMs } }, { record: 'none' });
    const { alerts } = judge(world.openings, trace, watchFile.judge, timeline.logged?.unseen);
    const alarm = alerts.find(({ kind }) => kind === 'false');
    if (alarm !== undefined) return { powerOnAtMs, opening: alarm.opening };
  }
  return null;
}
