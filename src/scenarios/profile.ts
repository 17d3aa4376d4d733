import { InvariantError } from '../base/index.js';
import type { TimelineStart, UsageProfile } from './types.js';

/** Openings that a profile draws. */
export interface DrawnOpening {
  readonly fromMs: number;
  readonly toMs: number;
  readonly leaveOpen: boolean;
}

export function generateDoor(
  _profile: UsageProfile,
  _span: { readonly start: TimelineStart; readonly lengthMs: number },
  _seed: string,
): readonly DrawnOpening[] {
  throw new InvariantError('not built yet', {});
}
