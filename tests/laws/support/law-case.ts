// One case of the laws across commands: a watch file and a scenario as text, and what they say once they are read.
import {
  type BoundsQuestion,
  questionOf,
  searched,
  searchesFor,
  TooManyStatesError,
} from '../../../src/bounds/index.js';
import { compileTable, watchLogic } from '../../../src/machine/index.js';
import {
  parseScenario,
  parseWatchFile,
  type Scenario,
  type WatchFile,
} from '../../../src/scenarios/index.js';
import type { Program } from '../../../src/sim/index.js';
import { scenarioTextOf } from './scenario-texts.js';
import { type Effort, watchTextOf } from './watch-texts.js';

export interface LawCase {
  readonly seed: string;
  readonly index: number;
  readonly watchText: string;
  readonly scenarioText: string;
  readonly watchFile: WatchFile;
  readonly scenario: Scenario;
  readonly program: Program;
}

/** What a law finds wrong, a sentence each; none: it holds. */
export type Broken = readonly string[];

/** The case of an index. @throws Error when its files are refused: the generator writes only what is in order. */
export function lawCase(seed: string, index: number, effort: Effort): LawCase {
  return readCase({
    seed,
    index,
    watchText: watchTextOf(seed, index, effort),
    scenarioText: scenarioTextOf(seed, index),
  });
}

export function readCase(
  given: Pick<LawCase, 'seed' | 'index' | 'watchText' | 'scenarioText'>,
): LawCase {
  const watch = parseWatchFile(given.watchText, 'watch.yaml');
  if (!watch.ok) throw new Error(refused('watch.yaml', given.watchText, watch.errors));
  const scenario = parseScenario(given.scenarioText, 'scenario.yaml');
  if (!scenario.ok) throw new Error(refused('scenario.yaml', given.scenarioText, scenario.errors));
  return {
    ...given,
    watchFile: watch.value,
    scenario: scenario.value,
    // Many laws run nothing, and a table takes longer to compile than a file to read.
    get program() {
      return programOf(watch.value);
    },
  };
}

function refused(name: string, text: string, errors: readonly unknown[]): string {
  return `${name} is refused: ${JSON.stringify(errors)}\n${text}`;
}

const tables = new Map<string, Program['table']>();

/** Programs with tables that are compiled once for each logic. */
export function programOf({ watch }: WatchFile): Program {
  const { escalationThreshold, clearThreshold, cooldownEndsWhenShut, afterAlert } = watch;
  const { retryAttempts, unsentWhenShut, heartbeats } = watch;
  const key = JSON.stringify([
    [escalationThreshold.open, escalationThreshold.outOf, clearThreshold, cooldownEndsWhenShut],
    [afterAlert, retryAttempts, unsentWhenShut, heartbeats],
  ]);
  const table = tables.get(key) ?? compileTable(watchLogic(watch));
  tables.set(key, table);
  return { watch, table };
}

/** What bounds are asked of a case. */
export function questionIn({
  watchFile,
  program: { table },
}: Pick<LawCase, 'watchFile' | 'program'>): BoundsQuestion {
  return questionOf(watchFile, { table, ownLogic: false });
}

/** States of one search: a case that needs more claims nothing here, and is for the soak. */
const mostNodes = 20_000;

export type SearchName = keyof typeof searchesFor;

/** One search of a case; null where it outgrew its limit. */
export function foundFor(question: BoundsQuestion, name: SearchName, most = mostNodes) {
  return searchedFor(question, name, most)?.result ?? null;
}

/** The same with the model that was searched. */
export function searchedFor(question: BoundsQuestion, name: SearchName, most = mostNodes) {
  try {
    return searched(question, { ...searchesFor[name], mostNodes: most });
  } catch (error) {
    if (!(error instanceof TooManyStatesError)) throw error;
    return null;
  }
}
