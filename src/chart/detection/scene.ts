// What a picture of bounds is drawn from, and how far its axis of time reaches.
import { greatestOf } from '../../base/index.js';
import type { Bounds, Curve } from '../../bounds/index.js';
import type { WatchFile } from '../../scenarios/index.js';

export interface DetectionInput {
  readonly bounds: Bounds;
  readonly watchFile: WatchFile;
  /** The watch file as its owner named it. */
  readonly file: string;
  /** The curve before a change, to compare with. */
  readonly ghost?: Curve | undefined;
}

export interface DetectionScene extends DetectionInput {
  /** Both plots show durations from 0 to here. */
  readonly toMs: number;
}

/** A duration beyond this many times all the others is not worth shrinking the rest for: it is given in words at the edge. */
const farFactor = 2.5;
const margin = 1.12;

export function detectionScene(input: DetectionInput): DetectionScene {
  const { bounds, watchFile } = input;
  const { leaveOpenAfterMs, reportWithinMs, quietUpToMs } = watchFile.judge;
  const near = [
    leaveOpenAfterMs,
    quietUpToMs,
    bounds.neverAlarmedUpToMs,
    bounds.detectionCurve.at(-1)?.[0],
    bounds.delayDistribution.at(-1)?.[0],
  ];
  const nearMs = greatestOf(near.map((ms) => ms ?? 0));
  const far = [
    reportWithinMs,
    bounds.alwaysReportedFromMs.atRest,
    bounds.worstDelayMs.atRest,
    bounds.alwaysReportedFromMs.anyState,
    bounds.worstDelayMs.anyState,
  ].map((ms) => (ms !== null && ms <= farFactor * nearMs ? ms : 0));
  return { ...input, toMs: Math.ceil(Math.max(nearMs, greatestOf(far)) * margin) };
}
