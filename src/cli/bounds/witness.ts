// A witness of a bound as a scenario file, with what `replay` must find in its `expect:`.
import { greatestOf, invariant, sentence, trueMs } from '../../base/index.js';
import type { BoundName, Witness } from '../../bounds/index.js';
import {
  clockErrorsOf,
  mostInTurn,
  type RangeMs,
  type ResetMemory,
  unknownResets,
} from '../../model/index.js';
import {
  type Expectations,
  emptyScenario,
  parseScenario,
  type Scenario,
  type ScenarioOpening,
  scenarioText,
  type Timeline,
  timelineOf,
  type WatchFile,
} from '../../scenarios/index.js';
import type { Verdict } from '../../verdict/index.js';
import type { VaryingMs, World } from '../../world/index.js';
import type { LoadedWatch } from '../inputs/load-watch.js';
import { replayOne } from '../replay/one.js';

/** File names, and what each scenario shows. */
const shows: Readonly<Record<BoundName, readonly [file: string, name: string]>> = {
  'alwaysReportedFromMs.atRest': [
    'longest-missed-at-rest',
    'The longest opening that goes unreported, at rest',
  ],
  'alwaysReportedFromMs.anyState': [
    'longest-missed-any-state',
    'The longest opening that goes unreported, from any state',
  ],
  'alwaysDecidedFromMs.atRest': [
    'longest-undecided-at-rest',
    'The longest opening in which no alert is decided, at rest',
  ],
  'alwaysDecidedFromMs.anyState': [
    'longest-undecided-any-state',
    'The longest opening in which no alert is decided, from any state',
  ],
  neverAlarmedUpToMs: ['shortest-alarm', 'The shortest opening that raises an alert'],
  'worstDelayMs.atRest': ['latest-alert-at-rest', 'The latest alert, at rest'],
  'worstDelayMs.anyState': ['latest-alert-any-state', 'The latest alert, from any state'],
  bestDelayMs: ['soonest-alert', 'The soonest alert'],
  unreportable: ['never-reported', 'Left open and never reported'],
  aliasing: ['aliasing', 'Brief openings that look like one left open'],
};

/** A bounce of one millisecond reads as none: its one reading is the new one. */
const shortestBounceMs = 1;

export interface WitnessFile {
  /** Name within the folder of witnesses. */
  readonly name: string;
  readonly text: string;
}

/**
 * @param again how to replay it, as a command line.
 * @returns null where the contact's bounce or the end of the charge, which bounds leave out, changes what happens, and where
 * the run has more wakes than a scenario can list.
 */
export function witnessFile(
  witness: Witness,
  watch: LoadedWatch,
  again: (file: string) => string,
): WitnessFile | null {
  const [file] = shows[witness.bound];
  const name = `${file}.yaml`;
  const scenario = scenarioOf(witness, watch.watchFile);
  if (isTooLong(scenario)) return null;
  const found = replayed(scenario, { witness, watch, name });
  if (found === null) return null;
  const whole = { ...scenario, expect: expectationsOf(found) };
  const comment = [sentence(witness.sentence), `Shows ${witness.bound}. To see it: ${again(name)}`];
  return { name, text: scenarioText(whole, comment) };
}

/** Whether it lists more times than a scenario may. */
function isTooLong({ environment: { bootTime, connectTime, clockError } }: Scenario): boolean {
  const counts = [bootTime, connectTime].map((time) =>
    time?.kind === 'inTurn' ? time.ms.length : 0,
  );
  if (clockError?.kind === 'inTurn') counts.push(clockError.ppm.length);
  return greatestOf(counts) > mostInTurn;
}

function scenarioOf(witness: Witness, { judge, timing: ranges, reset }: WatchFile): Scenario {
  const { world, timing, contactFaults } = witness.experiment;
  const [, name] = shows[witness.bound];
  const { fromMs, toMs } = world.openings;
  const empty = emptyScenario(name, trueMs(lengthOf(witness, judge.leaveOpenAfterMs)));
  return {
    ...empty,
    powerOnAtMs: world.powerOnAtMs,
    door: Array.from(fromMs, (from, index): ScenarioOpening => {
      const own = index === witness.opening && fromMs.length > 1;
      return {
        fromMs: trueMs(from),
        toMs: toMs[index] ?? Number.POSITIVE_INFINITY,
        gapUm: null,
        approach: 'closing',
        note: own ? 'the opening that this scenario is about' : null,
        source: { file: name },
      };
    }),
    networkDown: world.networkDown,
    powerLost: world.powerLost,
    ...(world.batteryLow === undefined ? {} : { batteryLow: world.batteryLow }),
    resetsMs: world.resetsMs,
    resetKinds: (world.resetEffects ?? []).map(({ kind }) => kind),
    contactFaults,
    // Only what differs from the watch file is written.
    environment: {
      bootTime: isOnly(timing.bootTime, ranges.bootTime) ? null : timing.bootTime,
      connectTime: isOnly(timing.connectTime, ranges.connectTime) ? null : timing.connectTime,
      clockError: isSteady(ranges) ? null : timing.clockError,
      reset: resetsAssumed(world, reset),
    },
  };
}

/** Where the watch file does not say that they do: resets of a witness that clear memory. */
function resetsAssumed(world: World, said: ResetMemory): ResetMemory {
  const assumed = { ...unknownResets };
  for (const { kind, clears } of world.resetEffects ?? []) {
    if (clears && said[kind] === null) assumed[kind] = 'clears';
  }
  return assumed;
}

/** Whether a time is the only one that the watch file leaves. */
function isOnly(time: VaryingMs, { least, most }: RangeMs): boolean {
  return time.kind === 'fixed' && time.ms === least && least === most;
}

/** Whether the watch file leaves only one clock error. */
function isSteady({ clockError }: WatchFile['timing']): boolean {
  const { least, most } = clockErrorsOf(clockError);
  return least === most;
}

/** An opening that never ends is a leave-open only in a timeline that lasts long enough. */
function lengthOf({ experiment, opening }: Witness, leaveOpenAfterMs: number): number {
  const { lengthMs, openings } = experiment.world;
  if (openings.toMs[opening] !== Number.POSITIVE_INFINITY) return lengthMs;
  const countsMs = (openings.fromMs[opening] ?? 0) + leaveOpenAfterMs;
  return Math.max(lengthMs, Math.ceil((countsMs + 1) / 60_000) * 60_000);
}

/** What a replay of the written scenario finds, compared with its bound. */
function replayed(
  scenario: Scenario,
  on: { readonly witness: Witness; readonly watch: LoadedWatch; readonly name: string },
): Verdict | null {
  const { witness, watch, name } = on;
  const { bound } = witness;
  const timeline = readBack(scenario, watch.watchFile, name);
  const { verdict, trace } = replayOne(timeline, watch);
  const { fromMs, delayMs } = verdict.openings.at(witness.opening);
  const first = verdict.alerts.find(({ opening }) => opening === witness.opening);
  const decidedMs = first === undefined ? null : first.decidedMs - fromMs;
  const shown =
    decidedMs === witness.decidedAfterMs &&
    (delayMs === witness.deliveredAfterMs || !isOfDelivery(bound));
  const bounceMs = watch.watchFile.contact?.bounceMs ?? 0;
  if (!shown && (bounceMs > shortestBounceMs || trace.flat.length > 0)) return null;
  invariant(shown, 'a witness shows its bound when it is replayed', {
    bound,
    got: [decidedMs, delayMs],
    claimed: [witness.decidedAfterMs, witness.deliveredAfterMs],
  });
  return verdict;
}

/** Whether a witness shows when an alert is delivered, or that none is. */
function isOfDelivery(bound: BoundName): boolean {
  return (
    bound.startsWith('alwaysReportedFromMs') ||
    bound.startsWith('worstDelayMs') ||
    bound === 'bestDelayMs'
  );
}

/** What we write we can read: anything else is an internal error. */
function readBack(scenario: Scenario, watchFile: WatchFile, name: string): Timeline {
  const read = parseScenario(scenarioText(scenario), name);
  invariant(read.ok, 'a witness is written so that it can be read', { name, read });
  const timeline = timelineOf(read.value, watchFile);
  invariant(timeline.ok, 'a witness is a timeline', { name, timeline });
  return timeline.value;
}

function expectationsOf({ summary }: Verdict): Expectations {
  const { worstDelayMs } = summary;
  const worst = worstDelayMs === null ? null : trueMs(worstDelayMs);
  return {
    counts: (['leaveOpens', 'reported', 'late', 'missed', 'alerts', 'falseAlarms'] as const).map(
      (name) => ({ name, least: summary[name], most: summary[name] }),
    ),
    worstDelayAtMostMs: worst,
    worstDelayAtLeastMs: worst,
  };
}
