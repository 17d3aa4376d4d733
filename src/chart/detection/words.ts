// Shares and limits in words.
import { durationText, percentText, roundedDurationText } from '../../base/index.js';
import { valueAt } from '../../bounds/index.js';
import type { DetectionScene } from './scene.js';

export interface ReportedShare {
  /** `66.2 %`, `at least 94 %`; `not sure` where only the environment stands in the way. */
  readonly words: string;
  readonly sure: boolean;
}

/** How sure the alert is, for an opening as long as a leave-open at least is. */
export function reportedAtLeaveOpen({ bounds, watchFile }: DetectionScene): ReportedShare {
  const share = valueAt(bounds.detectionCurve, watchFile.judge.leaveOpenAfterMs);
  const least = bounds.detectionCurveMost === null ? '' : 'at least ';
  if (share < 1) return { words: `${least}${percentText(share, 'down')}`, sure: false };
  return bounds.holds.leaveOpenAfter.atRest === false
    ? { words: 'not sure', sure: false }
    : { words: '100 %', sure: true };
}

/** Whether the environment is one in which nothing goes wrong. */
export function isCalm({ watchFile }: DetectionScene): boolean {
  const { longestOutageMs, powerLosses, resets, longestChatterMs } = watchFile.environment;
  return longestOutageMs + powerLosses + resets + longestChatterMs === 0;
}

/** The picture in one sentence or two, for people who hear it. */
export function describe({ bounds, watchFile }: DetectionScene): string {
  const { alwaysReportedFromMs, neverAlarmedUpToMs, worstDelayMs, bestDelayMs } = bounds;
  const sure = alwaysReportedFromMs.atRest;
  const quiet =
    neverAlarmedUpToMs === null
      ? 'A single opening never raises an alert.'
      : neverAlarmedUpToMs === 0
        ? 'At rest, even the shortest opening can raise an alert'
        : `At rest, a single opening of up to ${roundedDurationText(neverAlarmedUpToMs, 'at least')} never raises an alert (several close together may)`;
  const from =
    neverAlarmedUpToMs === null
      ? ''
      : sure === null
        ? '; however long one lasts, it is not sure to be reported.'
        : `; one of ${roundedDurationText(sure, 'at most')} or more is always reported.`;
  const delay =
    bestDelayMs === null || worstDelayMs.atRest === null
      ? ''
      : ` The alert comes ${roundedDurationText(bestDelayMs, 'at least')} to ${roundedDurationText(worstDelayMs.atRest, 'at most')} after the opening began.`;
  const asked = ` Left open means ${durationText(watchFile.judge.leaveOpenAfterMs)} or longer.`;
  return `${quiet}${from}${delay}${asked}`;
}
