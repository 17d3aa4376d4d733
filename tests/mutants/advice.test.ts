// The advice of `suite --against-mistakes`: who follows it word by word gets a scenario that notices the mistake.
import { describe, expect, it } from 'vitest';
import { mutantProgram, mutants, scenes } from '../../src/mutants/index.js';
import { starterWatchText } from '../../src/scenarios/index.js';
import { watchFileOf } from '../support/watch-question.js';
import { advised, Bench, expectedOf } from './advised.js';
import { shownBy, shownInTime, type WatchName, watchTexts } from './watches.js';

const texts = {
  ...watchTexts,
  starter: starterWatchText(),
  dryingRoom: `watch: { checkInterval: 4m, recheckInterval: 2m, escalationThreshold: 2, alertCooldown: 1h, retry: { interval: 1m, attempts: 3 }, heartbeatInterval: 1d }
device: { bootTime: 300ms..500ms, connectTime: 2s..8s, clockError: -1%..1% }
judge: { leaveOpenAfter: 8m }
`,
};

type Name = keyof typeof texts;

const benches = new Map<string, Bench>();

function benchOf(name: Name, resetsIt = false): Bench {
  const key = `${name} ${String(resetsIt)}`;
  const bench = benches.get(key) ?? new Bench(watchFileOf(texts[name]), resetsIt);
  benches.set(key, bench);
  return bench;
}

/** When somebody might open the door: between two checks. */
function openings(bench: Bench): readonly number[] {
  const { checkIntervalMs } = bench.watchFile.watch;
  return [0.2, 0.5, 0.8].map((share, index) => {
    const hourMs = 3_600_000 * (1 + index);
    const [checkMs = 0] = bench.checks(
      { lengthMs: hourMs + 2 * checkIntervalMs, door: [] },
      hourMs,
    );
    return Math.round(checkMs + share * checkIntervalMs);
  });
}

/** Whether some of the scenarios notices it, of each opening. Null: it makes no difference in this watch. */
function noticed(bench: Bench, name: string): readonly boolean[] | null {
  const { fault, program, alike } = mutantProgram(bench.program, bench.watchFile.timing, name);
  if (alike) return null;
  return openings(bench).map((fromMs) =>
    advised(bench, fault, fromMs).some(
      (script) =>
        expectedOf(fault.scene, bench.run(script, program).summary) !==
        expectedOf(fault.scene, bench.run(script).summary),
    ),
  );
}

const always = [true, true, true];
const names = mutants.map(({ name }) => name);
/** The watch of the catalogue's tests in which it shows. */
const watchOf = (name: string): WatchName => (shownBy[name] ?? shownInTime[name])?.[0] ?? 'plain';

describe('a scenario by the advice, with its door opened at several times between two checks', () => {
  it.each(names)('notices the mistake: %s', (name) => {
    expect(noticed(benchOf(watchOf(name)), name)).toEqual(always);
  });

  it.each(['starter', 'dryingRoom'] as const)(
    'notices every mistake in an everyday watch: %s',
    (watch) => {
      const found = names.map((name) => [name, noticed(benchOf(watch), name)] as const);
      const differing = found.filter(([, each]) => each !== null);
      expect(differing.length).toBeGreaterThan(30);
      expect(differing.filter(([, each]) => each?.includes(false) === true)).toEqual([]);
    },
  );

  it('notices every mistake in a watch that holds after its alert, with a reset just after it or without', () => {
    const missed = names.filter((name) => {
      const [without, withReset] = [false, true].map((resetsIt) =>
        noticed(benchOf('hold', resetsIt), name),
      );
      return (
        without !== null && without?.includes(false) === true && withReset?.includes(false) === true
      );
    });
    expect(missed).toEqual([]);
  });
});

describe('the time at which a mistake shows', () => {
  it('is given with each mistake whose scene needs it, and with no other', () => {
    const needs = mutants.filter(({ scene }) =>
      scenes[scene].has.includes('the time given with the mistake'),
    );
    expect(mutants.filter(({ when }) => when !== undefined)).toEqual(needs);
    expect(needs.length).toBeGreaterThan(5);
  });

  it('is that of the wake with the number, for the watch with its boot', () => {
    const bench = benchOf('dryingRoom');
    const { watch, timing } = bench.watchFile;
    const when = mutants.find(({ name }) => name === 'wakes-in-8-bits')?.when?.(watch, timing);
    expect(when).toBe(
      'wake no. 256, about 17 h 2 min after power-on if the door is shut until then',
    );
    const atMs = bench.checks({ lengthMs: 86_400_000, door: [] }, 0)[255] ?? 0;
    // The bench draws boots and a clock error of up to 1 %.
    expect(Math.abs(atMs / 60_000 - 1022)).toBeLessThan(11);
  });
});
