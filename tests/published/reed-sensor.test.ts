// The MS-214 reed sensor, by its maker's data sheet, with three magnets: operate 7–10 mm and release 9–11 mm; 8–10.5
// and 12–13; 25–29 and 32–33. The checks here are for the second pair.
import { describe, expect, it } from 'vitest';
import { trueMs, type Um, um } from '../../src/base/index.js';
import { simulate } from '../../src/sim/index.js';
import { contactEdgesOf, type DoorMove, openingsOf, wideOpenUm } from '../../src/world/index.js';
import { experimentOf } from '../support/experiments.js';
import { range } from '../support/range.js';

const operateGaps = range(80, 106).map((tenths) => um(tenths * 100));
const releaseGaps = range(120, 131).map((tenths) => um(tenths * 100));

/** Every sensor that the data sheet allows, as what it reads at a check after the door's last move. */
function readings(gaps: readonly Um[]): ReadonlySet<string | undefined> {
  const moves: DoorMove[] = gaps.map((gapUm, index) => ({
    atMs: trueMs(1_000 * (index + 1)),
    gapUm,
  }));
  const readAs = operateGaps.flatMap((operateGapUm) =>
    releaseGaps.map((releaseGapUm) => {
      const settings = { operateGapUm, releaseGapUm, bounceMs: trueMs(1) };
      const experiment = experimentOf({ lengthMs: 200_000 });
      const world = {
        ...experiment.world,
        openings: openingsOf(moves, um(2_000)),
        contact: contactEdgesOf(moves, settings),
      };
      return simulate({ ...experiment, world }).wakes.at(-1)?.check?.contact;
    }),
  );
  return new Set(readAs);
}

describe('a reed sensor with operate 8–10.5 mm and release 12–13 mm', () => {
  it('always reads shut when the door swings shut onto 7.5 mm', () => {
    expect(readings([wideOpenUm, um(7_500)])).toEqual(new Set(['shut']));
  });

  it('always reads open when the door swings shut and stops at 11 mm', () => {
    expect(readings([wideOpenUm, um(11_000)])).toEqual(new Set(['open']));
  });

  it('still reads shut when the door creeps from shut to 11 mm', () => {
    expect(readings([um(0), um(4_000), um(8_000), um(11_000)])).toEqual(new Set(['shut']));
  });

  it('may read either way when the door swings shut onto 9 mm, or creeps to 12.5 mm', () => {
    expect(readings([wideOpenUm, um(9_000)])).toEqual(new Set(['open', 'shut']));
    expect(readings([um(12_500)])).toEqual(new Set(['open', 'shut']));
  });
});
