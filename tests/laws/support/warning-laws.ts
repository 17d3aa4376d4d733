// No warning about settings is contradicted by bounds or by a replay.
import { type Diagnostic, deviceMs } from '../../../src/base/index.js';
import type { WatchSettings } from '../../../src/machine/index.js';
import { calmEnvironment } from '../../../src/model/index.js';
import { timelineOf, type WatchFile, watchWarnings } from '../../../src/scenarios/index.js';
import { simulate } from '../../../src/sim/index.js';
import { judge } from '../../../src/verdict/index.js';
import { type Broken, foundFor, type LawCase, programOf, questionIn } from './law-case.js';

/** Every warning of a case that a search or its scenario contradicts. */
export function warningLaw(one: LawCase): Broken {
  return watchWarnings(one.watchFile).flatMap((warning) => {
    const contradicted = contradiction(one, warning);
    return contradicted === null ? [] : [`${warning.message}: ${contradicted}`];
  });
}

function contradiction(one: LawCase, { code }: Diagnostic): string | null {
  switch (code) {
    case 'leave-open-too-short-at-rest':
      return tooShortToSee(one);
    case 'report-late-at-rest':
      return neverInTime(one);
    case 'threshold-same-as-smaller': {
      const { open, outOf } = one.watchFile.watch.escalationThreshold;
      const reach = open + (open - 1) * (one.watchFile.watch.clearThreshold - 1);
      return differs(one, { escalationThreshold: { open, outOf: Math.min(outOf, reach) } });
    }
    case 'recheck-without-effect':
      return differs(one, { recheckIntervalMs: one.watchFile.watch.checkIntervalMs });
    case 'no-cooldown-to-end':
      return differs(one, { cooldownEndsWhenShut: false });
    case 'retry-without-effect':
      return differs(one, { retryIntervalMs: one.watchFile.watch.checkIntervalMs });
    case 'cooldown-over-by-next-check':
      // After a reset it can.
      return one.scenario.resetsMs.length > 0
        ? null
        : differs(ofTheFile(one), { alertCooldownMs: deviceMs(0) });
    default:
      return null;
  }
}

/** What the soonest alert takes where nothing goes wrong. */
function soonest(one: LawCase) {
  return foundFor({ ...questionIn(one), environment: calmEnvironment }, 'quickest');
}

/** Nothing of that length is reported at rest: none up to it may raise an alert. */
function tooShortToSee(one: LawCase): string | null {
  const quietMs = soonest(one)?.decision?.openingMs;
  const { leaveOpenAfterMs } = one.watchFile.judge;
  return quietMs !== undefined && quietMs < leaveOpenAfterMs
    ? `an alert can come from ${String(quietMs + 1)} ms on`
    : null;
}

function neverInTime(one: LawCase): string | null {
  const bestMs = soonest(one)?.delivery?.openingMs;
  const { reportWithinMs } = one.watchFile.judge;
  return bestMs !== undefined && bestMs <= (reportWithinMs ?? 0)
    ? `the soonest takes ${String(bestMs)} ms`
    : null;
}

/** A warning about times of the device speaks of the device of the watch file, and not of another that a scenario names. */
function ofTheFile(one: LawCase): LawCase {
  const { environment } = one.scenario;
  const times = { bootTime: null, connectTime: null, clockError: null };
  return { ...one, scenario: { ...one.scenario, environment: { ...environment, ...times } } };
}

/** What "has no effect" claims: other settings do the same in the scenario. */
function differs(one: LawCase, changes: Partial<WatchSettings>): string | null {
  const changed: WatchFile = {
    ...one.watchFile,
    watch: { ...one.watchFile.watch, ...changes },
  };
  return alertsIn(one, one.watchFile) === alertsIn(one, changed)
    ? null
    : `with ${JSON.stringify(changes)} the alerts are others`;
}

function alertsIn({ scenario }: LawCase, watchFile: WatchFile): string {
  const timeline = timelineOf(scenario, watchFile);
  if (!timeline.ok) return JSON.stringify(timeline.errors);
  const { timing, world, seed } = timeline.value;
  const experiment = { program: programOf(watchFile), timing, world, seed };
  const trace = simulate(experiment, { record: 'none' });
  return JSON.stringify(judge(world.openings, trace, watchFile.judge).alerts);
}
