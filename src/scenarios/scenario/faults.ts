// Faults of the contact, from entries to spans in which it is stuck or chatters.

import type * as z from 'zod';
import { trueMs } from '../../base/index.js';
import { mostChatterDraws } from '../../model/index.js';
import type { ContactFault } from '../../world/index.js';
import type { Problem } from '../text/problem.js';
import type { faultItem } from './definition.js';
import { type Entry, noteOverlaps, type Reading, readStretch } from './entries.js';

type Given = z.output<typeof faultItem>;

const defaultOpenSharePpm = 500_000;
const defaultSlotMs = 200;

/** The faults, ascending; one that reaches past the end ends there. */
export function readFaults(
  reading: Reading,
  entries: readonly Entry<Given>[],
): readonly ContactFault[] {
  const faults = entries.flatMap(({ given, path }) => {
    const kind = kindProblem(given);
    if (kind !== null) {
      reading.errors.push(reading.document.diagnose(path, { ...kind, found: '' }));
      return [];
    }
    const stretch = readStretch(reading, given, { path, key: 'at' });
    if (stretch === null) return [];
    const { fromMs } = stretch;
    const toMs = Math.min(stretch.toMs, reading.lengthMs);
    const slotMs = trueMs(given.every ?? defaultSlotMs);
    if (given.stuck === undefined && (toMs - fromMs) / slotMs > mostChatterDraws) {
      const says = `would pick the reading of the contact more than ${String(mostChatterDraws)} times`;
      const hint = 'make every: longer, or the fault shorter';
      const problem: Problem = { code: 'chatter-too-long', says, hint };
      reading.errors.push(reading.document.diagnose(path, { ...problem, found: '' }));
      return [];
    }
    const reads: ContactFault['reads'] =
      given.stuck === undefined
        ? {
            kind: 'chattering',
            openShare: (given.openShare ?? defaultOpenSharePpm) / 1_000_000,
            slotMs,
          }
        : { kind: 'stuck', at: given.stuck };
    return [{ fromMs, toMs, path, reads }];
  });
  faults.sort((a, b) => a.fromMs - b.fromMs);
  noteOverlaps(reading, faults, 'fault');
  return faults.map(({ fromMs, toMs, reads }) => ({
    fromMs: trueMs(fromMs),
    toMs: trueMs(toMs),
    reads,
  }));
}

/** A fault is stuck or chattering, and only a chattering one is drawn. */
function kindProblem(given: Given): Problem | null {
  const { stuck, chattering, openShare, every } = given;
  if ((stuck === undefined) === (chattering !== true)) {
    const hint = 'write stuck: open, stuck: shut, or chattering: true';
    return { code: 'fault-unclear', says: 'must be either stuck or chattering', hint };
  }
  if (stuck !== undefined && (openShare !== undefined || every !== undefined)) {
    const hint = 'delete openShare and every, or write chattering: true instead of stuck';
    return { code: 'fault-unclear', says: 'is stuck, so openShare and every have no effect', hint };
  }
  return null;
}
