// Device-years for estimates: a door drawn from a profile, and network outages and power losses as they come.

import { randomStream, trueMs, yearMs } from '../../base/index.js';
import { mostContactEdges } from '../../model/index.js';
import {
  type ContactSettings,
  idealContactEdges,
  noSpans,
  type Spans,
  spansOf,
  type World,
  withBounce,
} from '../../world/index.js';
import type { Living } from '../living.js';
import type { UsageProfile } from '../types.js';
import { drawCount } from './draw.js';
import { drawExponential } from './visit-draws.js';
import { openingsAYear, yearDoors } from './year-doors.js';

/** Something that happens now and then, each time for a while: outages, power losses. */
export interface Mishaps {
  /** How many to expect in a year. */
  readonly perYear: number;
  /** How long one lasts on average; lengths are exponential. */
  readonly meanMs: number;
}

/** What decides the years of an estimate, besides their seed. */
export interface YearHabits {
  readonly profile: UsageProfile;
  /** Null: an ideal contact. Drawn doors stand wide open or shut, so that its gaps do not matter, only its bounce. */
  readonly contact: ContactSettings | null;
  readonly outages: Mishaps | null;
  readonly powerCuts: Mishaps | null;
  /** What people do; absent: nobody comes. */
  readonly living?: Living;
}

/** Draws the world of the year with this number. The same seed and number give the same world on any machine. */
export type YearWorlds = (seed: string, year: number) => World;

/** Whether bounce would make more edges in a year than memory should hold. */
export function bouncesTooMuch({ profile, contact }: YearHabits): boolean {
  const edges = 2 * openingsAYear(profile) * Math.max(1, contact?.bounceMs ?? 1);
  return edges > mostContactEdges / 2;
}

export function yearWorlds(habits: YearHabits): YearWorlds {
  const doorOf = yearDoors(habits.profile);
  const { contact } = habits;
  return (seed, year) => {
    const openings = doorOf(seed, year);
    const edges = idealContactEdges(openings);
    return {
      lengthMs: trueMs(yearMs),
      openings,
      contact: contact === null ? edges : withBounce(edges, contact.bounceMs),
      networkDown: mishapsOf(habits.outages, { seed, purpose: 'outages of a year', year }),
      powerLost: mishapsOf(habits.powerCuts, { seed, purpose: 'power losses of a year', year }),
      resetsMs: new Float64Array(0),
      powerOnAtMs: trueMs(0),
    };
  };
}

function mishapsOf(
  mishaps: Mishaps | null,
  of: { readonly seed: string; readonly purpose: string; readonly year: number },
): Spans {
  if (mishaps === null) return noSpans;
  const stream = randomStream(of.seed, of.purpose, of.year);
  const count = drawCount(mishaps.perYear, stream);
  return spansOf(
    Array.from({ length: count }, (): [number, number] => {
      const fromMs = stream.whole(0, yearMs - 1);
      const forMs = Math.max(1, Math.round(mishaps.meanMs * drawExponential(stream)));
      return [fromMs, fromMs + forMs];
    }),
  );
}
