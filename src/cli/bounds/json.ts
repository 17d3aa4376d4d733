// What `bounds --json` prints.
import type { Bounds, Curve } from '../../bounds/index.js';
import { clockErrorsOf } from '../../model/index.js';
import type { BoundsView } from '../../wording/index.js';

export const boundsSchema = 'dozewatch/bounds/2';

export interface BoundsJsonInput extends BoundsView {
  /** The scenario written for each witness, in the bounds' order; null: not this one. Empty: none were. */
  readonly witnessFiles: readonly (string | null)[];
}

/** The bounds of one watch as plain data. */
export function boundsObject(input: BoundsJsonInput): object {
  const { bounds, watchName, usage } = input;
  const { gaps } = bounds;
  return {
    schema: boundsSchema,
    file: watchName,
    asked: askedObject(input),
    environment: environmentObject(input),
    ...(usage === undefined
      ? {}
      : {
          usage: {
            profile: usage.name,
            years: usage.years,
            falseAlarmsPerYear: usage.falseAlarmsPerYear,
          },
        }),
    exactness: exactnessObject(bounds),
    alwaysReportedFromMs: bounds.alwaysReportedFromMs,
    alwaysDecidedFromMs: bounds.alwaysDecidedFromMs,
    neverAlarmedUpToMs: bounds.neverAlarmedUpToMs,
    worstDelayMs: bounds.worstDelayMs,
    bestDelayMs: bounds.bestDelayMs,
    unreportable: bounds.unreportable,
    aliasing: bounds.aliasing,
    aliasingProof: bounds.aliasingProof,
    blindBandMm: bounds.blindBandMm,
    holdsForGapsOverMm: gaps === null || gaps.kind === 'assumed' ? null : gaps.overMm,
    assumesNoRestBetweenMm: gaps?.kind === 'assumed' ? [gaps.sealMm, gaps.opensAtLeastMm] : null,
    detectionCurve: points(bounds.detectionCurve),
    detectionCurveMost: pointsOrNull(bounds.detectionCurveMost),
    delayDistribution: points(bounds.delayDistribution),
    delayDistributionMost: pointsOrNull(bounds.delayDistributionMost),
    holds: bounds.holds,
    findings: bounds.findings,
    remedies: bounds.remedies.map(({ watch: _, ...remedy }) => remedy),
    advice: bounds.advice,
    witnesses: bounds.witnesses.map((witness, index) => ({
      bound: witness.bound,
      sentence: witness.sentence,
      decidedAfterMs: witness.decidedAfterMs,
      deliveredAfterMs: witness.deliveredAfterMs,
      file: input.witnessFiles[index] ?? null,
    })),
  };
}

/** The requirements; null: not stated. */
function askedObject({ watchFile, isJudged }: BoundsJsonInput): object {
  const { leaveOpenAfterMs, reportWithinMs, quietUpToMs } = watchFile.judge;
  return isJudged
    ? { leaveOpenAfterMs, reportWithinMs, quietUpToMs }
    : { leaveOpenAfterMs: null, reportWithinMs: null, quietUpToMs: null };
}

export function boundsJson(input: BoundsJsonInput): string {
  return `${JSON.stringify(boundsObject(input), null, 2)}\n`;
}

/** Several watches as a list. */
export function boundsListJson(inputs: readonly BoundsJsonInput[]): string {
  return `${JSON.stringify(inputs.map(boundsObject), null, 2)}\n`;
}

function environmentObject({ watchFile }: BoundsJsonInput): object {
  const {
    outages,
    outagesApartMs,
    longestOutageMs,
    powerLosses,
    longestPowerLossMs,
    resets,
    longestChatterMs,
  } = watchFile.environment;
  const { bootTime, connectTime, joinWaitMs, clockError } = watchFile.timing;
  return {
    outages: longestOutageMs === 0 ? 0 : outages,
    outagesApartMs: outages === 1 ? null : outagesApartMs,
    longestOutageMs,
    powerLosses,
    powerLossLastingMs: powerLosses === 0 ? null : longestPowerLossMs,
    resets,
    longestChatterMs,
    bootTimeMs: { least: bootTime.least, most: bootTime.most },
    connectTimeMs: { least: connectTime.least, most: connectTime.most },
    joinWaitMs,
    clockErrorPpm: clockErrorsOf(clockError),
  };
}

function exactnessObject({ safeLimits, unknown, states }: Bounds): object {
  const exact = safeLimits.length === 0 && unknown.length === 0;
  return { exact, gridMs: 1, states, safeLimits, unknown };
}

function points(curve: Curve): object[] {
  return curve.map(([durationMs, probability]) => ({ durationMs, probability }));
}

function pointsOrNull(curve: Curve | null): object[] | null {
  return curve === null ? null : points(curve);
}
