// Why a drill takes long: the setting that its long steps wait for, and what would not show without them.
import { describe, expect, it } from 'vitest';
import { drillFor, watchOf } from './at-the-door.js';

const watch = (rest: string): string =>
  `watch: { checkInterval: 2m, recheckInterval: 1m, escalationThreshold: 2, clearThreshold: 1, retry: { interval: 2m, attempts: 2 }, ${rest} }\n`;

describe('what makes a drill long', () => {
  it('is a heartbeat, for the mistakes that a drill without waits for one does not notice', () => {
    const file = watchOf(watch('alertCooldown: 10m, heartbeatInterval: 6h'));
    const drill = drillFor(file, true);
    const [longest] = drill.long;
    expect(longest).toMatchObject({ setting: 'heartbeatInterval', settingMs: 21_600_000 });
    expect(longest?.lastMs).toBeGreaterThan(21_600_000);
    expect(longest?.steps).toContain(drill.steps.length);
    const without = drillFor(file, true, ['heartbeat']);
    expect(without.totalMs).toBeLessThan(drill.totalMs - 21_600_000);
    expect(without.long.map(({ setting }) => setting)).not.toContain('heartbeatInterval');
    const lost = without.faults.untold.filter((name) => drill.faults.told.includes(name));
    expect(lost).toEqual(['heartbeat-clears-count']);
    expect(longest?.only.mistakes).toEqual(lost);
  });

  it('is the cooldown, or the checks, where steps wait for these', () => {
    const cooling = drillFor(watchOf(watch('alertCooldown: 5h')), true);
    expect(cooling.long[0]).toMatchObject({ setting: 'alertCooldown', settingMs: 18_000_000 });
    expect(cooling.long[0]?.only.mistakes).toContain('cooldown-never-over');
    const plain = drillFor(watchOf(watch('alertCooldown: 0s')), true);
    expect(plain.long.map(({ setting }) => setting)).not.toContain('alertCooldown');
    for (const { long, steps } of [cooling, plain]) {
      const listed = long.flatMap((one) => one.steps).sort((a, b) => a - b);
      expect(listed).toEqual(steps.map((_, index) => index + 1));
      const sum = steps.reduce((total, { endsMs }) => total + endsMs, 0);
      expect(long.reduce((total, { lastMs }) => total + lastMs, 0)).toBe(sum);
    }
  });
});
