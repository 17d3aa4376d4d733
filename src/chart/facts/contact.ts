// What the contact reads, where that is another story than what the door does: a gap in its hysteresis band, a
// stuck or a chattering contact.
import { type ContactEdges, firstAfter, readsOpenAt, type Spans } from '../../world/index.js';
import { spansIn, type Window } from './window.js';

/** The most edges that are looked at in one window: chatter beyond that is one solid bar anyhow. */
const mostEdges = 50_000;

/**
 * The stretches of a window in which the contact reads open, or null where they are just the openings.
 * @param grainMs what happens within less is drawn as one.
 */
export function contactReadings(
  world: { readonly contact: ContactEdges; readonly openings: Spans },
  window: Window,
  grainMs: number,
): Window[] | null {
  const readings = joined(readOpenSpans(world.contact, window), grainMs);
  const openings = joined(spansIn(world.openings, window), grainMs);
  const alike =
    readings.length === openings.length &&
    readings.every((reading, index) => isNear(reading, openings[index], grainMs));
  return alike ? null : readings;
}

function isNear(one: Window, other: Window | undefined, grainMs: number): boolean {
  if (other === undefined) return false;
  return (
    Math.abs(one.fromMs - other.fromMs) <= grainMs && Math.abs(one.toMs - other.toMs) <= grainMs
  );
}

function readOpenSpans(contact: ContactEdges, { fromMs, toMs }: Window): Window[] {
  const spans: Window[] = [];
  let openSince = readsOpenAt(contact, fromMs) ? fromMs : null;
  const first = firstAfter(contact, fromMs);
  for (let index = first; index < Math.min(contact.length, first + mostEdges); index += 1) {
    const edgeMs = contact[index] ?? toMs;
    if (edgeMs >= toMs) break;
    if (openSince === null) openSince = edgeMs;
    else {
      spans.push({ fromMs: openSince, toMs: edgeMs });
      openSince = null;
    }
  }
  if (openSince !== null) spans.push({ fromMs: openSince, toMs });
  return spans;
}

/** Spans with less than a grain between them become one. */
function joined(spans: readonly Window[], grainMs: number): Window[] {
  const result: Window[] = [];
  for (const { fromMs, toMs } of spans) {
    const last = result.at(-1);
    if (last !== undefined && fromMs - last.toMs < grainMs) {
      result[result.length - 1] = { fromMs: last.fromMs, toMs };
    } else {
      result.push({ fromMs, toMs });
    }
  }
  return result;
}
