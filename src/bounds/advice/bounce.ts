// What the bounce of the contact takes from the bounds, and which requirements it leaves open, in plain words.
import {
  durationText,
  listText,
  roundedDurationText,
  roundedMs,
  writeDuration,
} from '../../base/index.js';
import type { Finding, Holds } from '../answer.js';
import { bounceMarginsOf, bounceOf, quietInSpiteOf } from '../bounce.js';
import type { Known, Start } from '../holds.js';
import type { BoundsQuestion } from '../question.js';

/** @param quietMs up to which length a contact that does not bounce raises no alert; Infinity: none does, undefined: not found. */
export function bounceLeftOut(
  question: BoundsQuestion,
  quietMs: number | undefined,
): Finding | null {
  const bounceMs = bounceOf(question);
  if (bounceMs === null) return null;
  const bounce = durationText(bounceMs);
  const late = Number.isFinite(bounceMarginsOf(question).lateMs.atRest)
    ? `sure from and the worst latency can be up to ${bounce} longer`
    : 'how much later an alert can come is not known';
  const quiet = quietMs === undefined ? '' : `, and ${quietClause(question, quietMs)}`;
  return {
    code: 'bounce-left-out',
    sentence: `the bounds are for a contact that does not bounce. Within ${bounce} after the door moves (contact.bounceTime) a check may read the wrong way: ${late}${quiet}`,
  };
}

function quietClause(question: BoundsQuestion, quietMs: number): string {
  const margins = bounceMarginsOf(question);
  const why =
    question.program.watch.wakeOn === 'timer'
      ? ''
      : ', since a bounce can wake the device for a second check at once';
  if (!Number.isFinite(margins.quietMs)) {
    return `up to which length it stays quiet is not known${why}`;
  }
  const shownMs = quietInSpiteOf(margins, quietMs);
  if (shownMs === 0) return `even the shortest opening may raise an alert${why}`;
  return Number.isFinite(shownMs)
    ? `the watch is sure to stay quiet only up to ${roundedDurationText(shownMs, 'at least')}${why}`
    : 'no single opening raises an alert';
}

/** Which requirements hold for a contact that does not bounce, and are not shown for this one; null: none of them. */
export function bounceAdvice(
  question: BoundsQuestion,
  known: Known,
  { holds, from }: { readonly holds: Holds; readonly from: Start },
): string | null {
  const bounceMs = bounceOf(question);
  const { judge } = question;
  if (bounceMs === null) return null;
  const open: readonly (keyof Holds)[] = [
    ...(isOpen(holds.leaveOpenAfter[from], known.alwaysReportedFromMs[from], judge.leaveOpenAfterMs)
      ? (['leaveOpenAfter'] as const)
      : []),
    ...(isOpen(holds.reportWithin[from], known.worstDelayMs[from], judge.reportWithinMs)
      ? (['reportWithin'] as const)
      : []),
    ...(from === 'atRest' &&
    isOpen(holds.quietUpTo.atRest, known.neverAlarmedUpToMs, judge.quietUpToMs)
      ? (['quietUpTo'] as const)
      : []),
  ];
  if (open.length === 0) return null;
  const bounce = durationText(bounceMs);
  const which = `${listText(open)} ${open.length === 1 ? 'is' : 'are'} met by a contact that does not bounce, but not shown for one that bounces for ${bounce}`;
  const quietMs = known.neverAlarmedUpToMs ?? Number.POSITIVE_INFINITY;
  const isQuietOpen = open.includes('quietUpTo');
  const why = isQuietOpen ? `: ${quietClause(question, quietMs)}` : '';
  const shownMs = roundedMs(quietInSpiteOf(bounceMarginsOf(question), quietMs), 'at least');
  const orElse =
    isQuietOpen && shownMs > 0 && Number.isFinite(shownMs)
      ? `, or set quietUpTo: ${writeDuration(shownMs)}`
      : '';
  return `${which}${why}. Filter the contact, so that it bounces for less than 2 ms, and lower contact.bounceTime${orElse}.`;
}

/** Whether a requirement is neither met nor failed although its bound is known. */
function isOpen(holds: boolean | null, bound: unknown, askedMs: number | null): boolean {
  return holds === null && bound !== undefined && askedMs !== null;
}
