// A year of a flower store's door: eight openings a day, one in fifty of them left open for a while.

import { ppm, randomStream, trueMs } from '../src/base/index.js';
import { type ChargePlan, type Requirements } from '../src/model/index.js';
import {
  type DeviceTiming,
  deviceTiming,
  idealContactEdges,
  noSpans,
  spansOf,
  type World,
} from '../src/world/index.js';
import { plainWatch } from '../tests/support/experiments.js';

const dayMs = 86_400_000;
const openingsADay = 8;
const daysAYear = 365;

export const yearWatch = plainWatch;

export const yearTiming: DeviceTiming = deviceTiming({
  bootTime: { kind: 'fixed', ms: trueMs(400) },
  connectTime: { kind: 'fixed', ms: trueMs(4_000) },
  clockError: { kind: 'fixed', ppm: ppm(0) },
});

export const yearAsked: Requirements = {
  leaveOpenAfterMs: trueMs(180_000),
  reportWithinMs: trueMs(600_000),
  quietUpToMs: null,
};

/** The same year for the same seed: brief openings of 5 to 60 s, leave-opens of 5 to 60 min. */
export function yearOfDoor(seed: string): World {
  const stream = randomStream(seed, 'year of a door');
  const slotMs = dayMs / openingsADay;
  const openings = spansOf(
    Array.from({ length: daysAYear * openingsADay }, (_, index) => {
      const fromMs = index * slotMs + stream.whole(0, slotMs / 2);
      const leftOpen = stream.whole(1, 50) === 1;
      const forMs = leftOpen ? stream.whole(300_000, 3_600_000) : stream.whole(5_000, 60_000);
      return [fromMs, fromMs + forMs] as const;
    }),
  );
  return {
    lengthMs: trueMs(daysAYear * dayMs),
    openings,
    contact: idealContactEdges(openings),
    networkDown: noSpans,
    powerLost: noSpans,
    resetsMs: new Float64Array(0),
    powerOnAtMs: trueMs(0),
  };
}

/** About 22 days on a charge, charged every three weeks. */
export const yearCharge: ChargePlan = {
  supply: {
    capacityNah: 400_000_000,
    usablePpm: 850_000,
    derating: null,
    selfDischarge: { firstDayPpm: 50_000, perMonthPpm: 20_000, protectionPerMonthPpm: 30_000 },
    sleepNa: 480_000,
    boot: { kind: 'current', currentNa: 31_000_000, timeMs: null },
    blink: { kind: 'charge', chargePc: 800_000_000 },
    connect: { kind: 'charge', chargePc: 13_300_000_000 },
    failedAttempt: { kind: 'charge', chargePc: 13_300_000_000 },
    hold: null,
    heartbeat: { kind: 'charge', chargePc: 13_300_000_000 },
    contactBias: { resistanceOhm: 45_000, voltageMv: 3_300, powered: 'always' },
    voltageCurve: null,
    preset: null,
  },
  charging: { everyMs: 21 * dayMs },
};
