// Usage profiles that come with dozewatch: invented, for trying things out.
import { trueMs } from '../../base/index.js';
import type { UsageProfile } from '../types.js';

/** A flower grower's cool store: busy before market, wedged open now and then for a trolley. */
const flowerStore: UsageProfile = {
  openingsPerHour: [0, 0, 0, 1, 4, 6, 4, 2, 1, 1, 1, 1, 0.5, 1, 1, 2, 3, 2, 0.5, 0, 0, 0, 0, 0],
  weekdayFactor: 1,
  weekendFactor: 0.4,
  duration: { kind: 'lognormal', medianMs: trueMs(25_000), sigma: 0.8 },
  leaveOpen: {
    share: 0.02,
    duration: { kind: 'lognormal', medianMs: trueMs(900_000), sigma: 0.6 },
  },
};

/** The hatch of a goose house: opened and shut by hand, twice a day and in between for eggs. */
const gooseHouse: UsageProfile = {
  openingsPerHour: [
    0, 0, 0, 0, 0, 0, 0.4, 1.2, 0.6, 0.1, 0.1, 0.1, 0.3, 0.1, 0.1, 0.1, 0.2, 0.5, 1, 0.8, 0.2, 0, 0,
    0,
  ],
  weekdayFactor: 1,
  weekendFactor: 1,
  duration: { kind: 'lognormal', medianMs: trueMs(40_000), sigma: 0.7 },
  leaveOpen: { share: 0.05, duration: { kind: 'exponential', meanMs: trueMs(3_600_000) } },
};

/** The drying room of a seed bank: few openings, in office hours, hardly ever left open. */
const seedBank: UsageProfile = {
  openingsPerHour: [
    0, 0, 0, 0, 0, 0, 0, 0, 0.5, 1, 1, 0.5, 0.2, 0.5, 1, 1, 0.5, 0.2, 0, 0, 0, 0, 0, 0,
  ],
  weekdayFactor: 1,
  weekendFactor: 0,
  duration: { kind: 'lognormal', medianMs: trueMs(12_000), sigma: 0.5 },
  leaveOpen: {
    share: 0.005,
    duration: { kind: 'lognormal', medianMs: trueMs(1_200_000), sigma: 0.9 },
  },
};

export const profileNames = ['flower-store', 'goose-house', 'seed-bank'] as const;

const profiles: Readonly<Record<(typeof profileNames)[number], UsageProfile>> = {
  'flower-store': flowerStore,
  'goose-house': gooseHouse,
  'seed-bank': seedBank,
};

export function profileNamed(name: (typeof profileNames)[number]): UsageProfile {
  return profiles[name];
}
