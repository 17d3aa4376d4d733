// The leave-opens over all phases as rows of cells.
import { numberText, roundedDurationText } from '../base/index.js';
import type { EveryPhase } from '../phase/index.js';
import { dayAndTime } from './moments.js';
import type { Paint } from './paint.js';
import { leaveOpensAtPhases, shareText } from './phase-words.js';
import type { ReplayView } from './replay-view.js';

export interface PhaseColumn {
  readonly title: string;
  readonly align?: 'right';
}

function hasLimit({ watchFile }: ReplayView): boolean {
  return watchFile.judge.reportWithinMs !== null;
}

/** Whether a leave-open is unknown at some phases, because of a span without a state. */
function hasUnknown({ verdict }: ReplayView, every: EveryPhase): boolean {
  return leaveOpensAtPhases(every, verdict).some(
    (index) => every.openingAt(index).unknownShare > 0,
  );
}

export function phaseColumns(view: ReplayView, every: EveryPhase): readonly PhaseColumn[] {
  const align = 'right' as const;
  return [
    { title: 'no.', align },
    { title: 'opened' },
    { title: 'open for', align },
    { title: 'reported at', align },
    ...(hasLimit(view) ? [{ title: 'in time at', align }] : []),
    ...(hasUnknown(view, every) ? [{ title: 'unknown at', align }] : []),
    { title: 'detection latency' },
  ];
}

function unknownText(share: number, paint: Paint): string {
  if (share === 0) return 'no phase';
  return paint.doubtful(`${shareText(share, 'up')} of phases`);
}

/** The cells of a leave-open, one for each column. */
export function phaseCells(
  view: ReplayView,
  every: EveryPhase,
  { index, paint }: { readonly index: number; readonly paint: Paint },
): string[] {
  const { fromMs, durationMs } = view.verdict.openings.at(index);
  const { reportedShare, inTimeShare, unknownShare, leastDelayMs, greatestDelayMs } =
    every.openingAt(index);
  const share = (value: number | null): string => {
    const text = shareText(value ?? 0, 'down');
    return value === 1
      ? paint.good(`${text} phases`)
      : paint.bad(text === 'none' ? 'no phase' : `${text} of phases`);
  };
  return [
    numberText(index + 1),
    dayAndTime(view.moments(fromMs)),
    roundedDurationText(durationMs, 'at least'),
    share(reportedShare),
    ...(hasLimit(view) ? [share(inTimeShare)] : []),
    ...(hasUnknown(view, every) ? [unknownText(unknownShare, paint)] : []),
    leastDelayMs === null || greatestDelayMs === null
      ? 'none'
      : `${roundedDurationText(leastDelayMs, 'at least')} to ${roundedDurationText(greatestDelayMs, 'at most')}`,
  ];
}
