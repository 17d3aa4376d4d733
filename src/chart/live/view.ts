// What of a timeline is looked at: from all of it down to a few milliseconds.
import type { Window } from '../facts/window.js';

/** No closer than this: below it, a millisecond is wider than a thumb. */
const leastSpanMs = 20;

/** A window of that length, moved to where the timeline is. */
function within(fromMs: number, spanMs: number, lengthMs: number): Window {
  const span = Math.min(Math.max(spanMs, leastSpanMs), Math.max(lengthMs, leastSpanMs));
  const from = Math.max(0, Math.min(fromMs, lengthMs - span));
  return { fromMs: from, toMs: from + span };
}

/** Longer by a factor, with `aboutMs` staying where it is seen. */
export function zoomed(
  { fromMs, toMs }: Window,
  on: { readonly aboutMs: number; readonly factor: number; readonly lengthMs: number },
): Window {
  const span = Math.min(Math.max((toMs - fromMs) * on.factor, leastSpanMs), on.lengthMs);
  const share = (on.aboutMs - fromMs) / (toMs - fromMs);
  return within(on.aboutMs - share * span, span, on.lengthMs);
}

export function panned({ fromMs, toMs }: Window, byMs: number, lengthMs: number): Window {
  return within(fromMs + byMs, toMs - fromMs, lengthMs);
}

/** With some room around it. */
export function around({ fromMs, toMs }: Window, lengthMs: number): Window {
  const room = Math.max((toMs - fromMs) * 0.2, leastSpanMs / 2);
  return within(fromMs - room, toMs - fromMs + 2 * room, lengthMs);
}
