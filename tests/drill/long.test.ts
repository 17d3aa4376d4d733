// Why a drill takes long: the setting that its long steps wait for, and what would not show without them.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { longWords } from '../../src/cli/drill/words.js';
import { longToName } from '../../src/drill/index.js';
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

  it('is named for the longest step and all that last longer than the typical one, which explains most of the time', () => {
    fc.assert(
      fc.property(drawn, (text) => {
        const drill = drillFor(watchOf(text), true);
        const { steps, long } = drill;
        const named = longToName(drill);
        const numbers = new Set(named.flatMap((one) => one.steps));
        expect(numbers).toContain(steps.length);
        const typicalMs = steps[Math.ceil(steps.length / 2) - 1]?.endsMs ?? 0;
        for (const [index, { endsMs }] of steps.entries()) {
          if (endsMs > typicalMs) expect(numbers).toContain(index + 1);
        }
        const ofNamed = named.reduce((sum, { lastMs }) => sum + lastMs, 0);
        const ofAll = steps.reduce((sum, { endsMs }) => sum + endsMs, 0);
        expect(2 * ofNamed).toBeGreaterThanOrEqual(ofAll);
        // Settings take no longer than their steps last, in order.
        for (const { setting, takes, lastMs } of long) {
          const ms = takes.map(({ takesMs }) => takesMs);
          expect(takes[0]?.takesMs).toBe(takes.find((one) => one.setting === setting)?.takesMs);
          expect(ms).toEqual(ms.toSorted((a, b) => b - a));
          expect(ms.reduce((sum, takesMs) => sum + takesMs, 0)).toBeLessThanOrEqual(lastMs);
        }
        const words = longWords({ ...drill, totalMs: 3 * hourMs + drill.totalMs });
        const settings = named.map(({ setting }) => setting);
        expect(words).toHaveLength(settings.length);
        for (const [index, setting] of settings.entries()) {
          expect(words[index]).toContain(
            ` because of ${named[index]?.takes[0]?.setting ?? setting}: `,
          );
        }
      }),
      { numRuns: 8, seed: 1 },
    );
  }, 120_000);

  it('is named together with others, where it takes less than half of the time of its steps', () => {
    const drill = drillFor(watchOf(watch('alertCooldown: 0s')), true);
    const [step] = drill.steps;
    if (step === undefined) throw new Error('a drill has steps');
    const only = { mistakes: [], bounds: [], transitions: 0 };
    const cooldown = { setting: 'alertCooldown', settingMs: 600_000 } as const;
    const check = { setting: 'checkInterval', settingMs: 60_000 } as const;
    const retry = { setting: 'retry.interval', settingMs: 20_000 } as const;
    const mixed = [
      { ...check, takesMs: 3_000_000 },
      { ...retry, takesMs: 2_000_000 },
      { ...cooldown, takesMs: 1_000_000 },
    ];
    const words = longWords({
      ...drill,
      steps: [600_000, 8_000_000, 9_000_000].map((endsMs) => ({ ...step, endsMs })),
      totalMs: 17_780_000,
      long: [
        { ...check, steps: [3], lastMs: 9_000_000, takes: mixed, only },
        {
          ...cooldown,
          steps: [2],
          lastMs: 8_000_000,
          takes: [{ ...cooldown, takesMs: 7_000_000 }],
          only,
        },
        { ...retry, steps: [1], lastMs: 600_000, takes: [{ ...retry, takesMs: 400_000 }], only },
      ],
    });
    expect(words).toEqual([
      'step 3, the longest, lasts 2 h 30 min because of checkInterval: 1m and retry.interval: 20s',
      'step 2 lasts 2 h 13 min 20 s because of alertCooldown: 10m',
    ]);
  });
});

const hourMs = 3_600_000;

/** Watches whose steps wait for this or that. */
const drawn = fc
  .record({
    check: fc.constantFrom('1m', '3m', '10m'),
    recheck: fc.constantFrom('20s', '1m'),
    retry: fc.constantFrom('20s', '1m'),
    attempts: fc.constantFrom(1, 2),
    cooldown: fc.constantFrom('0s', '7m', '2h'),
    beat: fc.constantFrom('off', '14m', '6h'),
  })
  .map(
    (of) =>
      `watch: { checkInterval: ${of.check}, recheckInterval: ${of.recheck}, escalationThreshold: 2, retry: { interval: ${of.retry}, attempts: ${String(of.attempts)} }, alertCooldown: ${of.cooldown}, heartbeatInterval: ${of.beat} }\n`,
  );
