// Mistakes that show late, or only at some hours: counters that wrap, times of too few bits, what is done once a week.
import { dayMs, hourMs, numberText, roughDurationText, weekMs } from '../../base/index.js';
import type { WatchSettings } from '../../machine/index.js';
import type { SlipFacts, TimeSlips } from '../../sim/index.js';
import type { Mutant } from '../mutant.js';

/** Deaf from the second to the fourth hour of each day. */
const quietFromMs = 2 * hourMs;
const quietUntilMs = 4 * hourMs;

/** What a watch makes of a cooldown that is over, by the time since it was. */
function deafAfterCooldown(
  { alertCooldownMs }: WatchSettings,
  isDeaf: (sinceEndMs: number, now: SlipFacts) => boolean,
): TimeSlips {
  return {
    deaf(now) {
      const sinceEndMs = (now.sinceDeliveryMs ?? -1) - alertCooldownMs;
      return now.sinceDeliveryMs !== null && sinceEndMs >= 0 && isDeaf(sinceEndMs, now);
    },
  };
}

/** It forgets everything at each wake whose number is a multiple. */
function forgetsEvery(count: number): TimeSlips {
  return { forgets: ({ wakes }) => wakes % count === 0 };
}

function lastsWakes(count: number): (watch: WatchSettings) => number {
  return ({ checkIntervalMs }) => count * checkIntervalMs;
}

/** The first wake is that of the power-on; the others follow a sleep and a boot each. */
function atWake(count: number): NonNullable<Mutant['when']> {
  return ({ checkIntervalMs }, { bootTime }) => {
    const bootMs = (bootTime.least + bootTime.most) / 2;
    const afterMs = (count - 1) * (checkIntervalMs + bootMs);
    return `wake no. ${numberText(count)}, about ${roughDurationText(afterMs)} after power-on if the door is shut until then`;
  };
}

export const lateMutants: readonly Mutant[] = [
  {
    name: 'quiet-hours',
    scene: 'left-open-late',
    mistake:
      'it takes no notice of the door from the 2nd to the 4th hour of each day since power-on',
    slips: () => ({
      deaf: ({ clockMs }) => clockMs % dayMs >= quietFromMs && clockMs % dayMs < quietUntilMs,
    }),
    showsAfterMs: () => quietFromMs,
    when: () => `${roughDurationText(quietFromMs)} after power-on`,
  },
  {
    name: 'weekly-housekeeping',
    scene: 'open-across',
    mistake:
      'it clears all of its memory once a week, an undelivered alert and the cooldown included',
    slips: () => ({
      forgets: ({ clockMs, clockBeforeMs }) =>
        Math.floor(clockMs / weekMs) > Math.floor(clockBeforeMs / weekMs),
    }),
    showsAfterMs: () => weekMs,
    when: () => `${roughDurationText(weekMs)} after power-on`,
  },
  {
    name: 'wakes-in-8-bits',
    scene: 'open-across',
    mistake:
      'its count of wakes wraps at 8 bits, and it takes the 0 for a power-on and forgets all',
    slips: () => forgetsEvery(2 ** 8),
    showsAfterMs: lastsWakes(2 ** 8),
    when: atWake(2 ** 8),
  },
  {
    name: 'wakes-in-15-bits',
    scene: 'left-open-late',
    mistake:
      'its count of wakes turns negative after 32,767, and then it takes no notice of the door',
    slips: () => ({ deaf: ({ wakes }) => wakes % 2 ** 16 >= 2 ** 15 }),
    showsAfterMs: lastsWakes(2 ** 15),
    when: atWake(2 ** 15),
  },
  {
    name: 'wakes-in-16-bits',
    scene: 'open-across',
    mistake:
      'its count of wakes wraps at 16 bits, and it takes the 0 for a power-on and forgets all',
    slips: () => forgetsEvery(2 ** 16),
    showsAfterMs: lastsWakes(2 ** 16),
    when: atWake(2 ** 16),
  },
  {
    name: 'clock-in-32-bits',
    scene: 'open-after-wrap',
    mistake:
      'it compares milliseconds in 32 bits: after 49.7 days the last cooldown still seems to run',
    slips: (watch) =>
      deafAfterCooldown(watch, (sinceEndMs, { clockMs }) => {
        return clockMs % 2 ** 32 < (clockMs - sinceEndMs) % 2 ** 32;
      }),
    showsAfterMs: () => 2 ** 32,
    when: () => `${roughDurationText(2 ** 32, 'at most')} after power-on`,
  },
  {
    name: 'signed-remaining-time',
    scene: 'open-weeks-apart',
    mistake:
      'it keeps the time left of the cooldown in 32 bits with sign: deaf 24.9 days after an alert',
    slips: (watch) => deafAfterCooldown(watch, (sinceEndMs) => sinceEndMs % 2 ** 32 > 2 ** 31),
    showsAfterMs: () => 2 ** 31,
  },
];
