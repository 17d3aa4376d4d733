// What the contact of a watch file reads on a door, with bounce and faults: the one recipe for scenarios and logs.

import { err, ok, type Result, type SourceRef } from '../base/index.js';
import { mostContactEdges } from '../model/index.js';
import {
  type ContactEdges,
  type ContactFault,
  type ContactSettings,
  contactEdgesOf,
  type DoorMove,
  idealContactEdges,
  type Spans,
  withBounce,
  withFaults,
} from '../world/index.js';

/** A door, and the faults of its contact. */
export interface ContactCourse {
  readonly openings: Spans;
  /** Null: the door is wide open or shut. */
  readonly moves: readonly DoorMove[] | null;
  readonly faults: readonly ContactFault[];
  /** Names the stream of a chattering contact. */
  readonly seed: string;
}

/** @returns the edges. Error: `too-many-edges`, when bounce or chatter would make more than memory should hold. */
export function contactEdges(
  course: ContactCourse,
  contact: ContactSettings | null,
  source: SourceRef,
): Result<ContactEdges> {
  const { openings, moves, faults, seed } = course;
  const edges =
    contact === null || moves === null
      ? idealContactEdges(openings)
      : contactEdgesOf(moves, contact);
  const bounces = contact === null || contact.bounceMs < 2 ? 1 : contact.bounceMs;
  const draws = faults.reduce((sum, { fromMs, toMs, reads }) => {
    return sum + (reads.kind === 'stuck' ? 2 : Math.ceil((toMs - fromMs) / reads.slotMs));
  }, 0);
  if (edges.length * bounces + draws > mostContactEdges) {
    return err({
      code: 'too-many-edges',
      severity: 'error',
      source,
      message: `the contact would change more than ${String(mostContactEdges)} times`,
      hint: 'shorten contact.bounceTime, or make every: of chattering faults longer',
    });
  }
  const bounced = contact === null ? edges : withBounce(edges, contact.bounceMs);
  return ok(withFaults(bounced, faults, seed));
}
