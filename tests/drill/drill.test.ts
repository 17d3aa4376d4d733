// What a drill promises: a sound device passes it whatever its clock and the person at the door do, and a faulty one fails.
import { describe, expect, it } from 'vitest';
import { itemAt } from '../../src/base/index.js';
import { type Mutant, mutantPrograms, mutants } from '../../src/mutants/index.js';
import { compileWatch } from '../../src/sim/index.js';
import { watchTexts } from '../mutants/watches.js';
import { drillFor, passes, toleranceMs, watchOf } from './at-the-door.js';

const { plain, window, cleared, beat, slow, hold, opening, strict } = watchTexts;
const ranges =
  'device: { bootTime: { min: 300ms, max: 500ms }, connectTime: { min: 2s, max: 8s }, clockError: { min: -2%, max: 2% } }\n';

/** Watches, and which of the mistakes that matter to them no drill can tell; docs/drill.md says why. */
const cases: Readonly<Record<string, readonly [text: string, untold: readonly string[]]>> = {
  ranged: [`${plain}${ranges}`, ['cooldown-from-attempt']],
  window: [window, []],
  cleared: [cleared, []],
  beat: [beat, []],
  slow: [slow, []],
  hold: [hold, []],
  opening: [opening, ['retry-in-milliseconds']],
  strict: [strict, ['alert-not-retained', 'alert-never-retried', 'retry-in-milliseconds']],
};

const draws = ['a'];
/** A mistake that does not wait for days, nor for the moment in which the device is awake. */
const canShow = ({ showsAfterMs, beyondHands }: Mutant): boolean =>
  showsAfterMs === undefined && beyondHands !== true;
const toldSomewhere = new Set<string>();

const plainFile = watchOf(plain);
const plainShort = drillFor(plainFile, true);

describe('a drill', () => {
  it.each(Object.entries(cases))(
    'of the %s watch is passed by it and by no faulty one',
    (_, [text, untold]) => {
      const file = watchOf(text);
      const sound = compileWatch(file.watch);
      const { steps, faults, states, transitions } = drillFor(file);
      for (const step of steps) {
        for (const seed of draws) {
          expect(passes(sound, file, { step, seed }), JSON.stringify({ step, seed })).toBe(true);
        }
      }
      expect(faults.untold).toEqual(untold);
      for (const { fault, program, alike } of mutantPrograms(sound, file.timing)) {
        if (alike || untold.includes(fault.name) || !canShow(fault)) continue;
        toldSomewhere.add(fault.name);
        const telling = steps.filter(({ tells }) => tells.includes(fault.name));
        expect(telling.length, fault.name).toBeGreaterThan(0);
        for (const seed of draws) {
          const failed = telling.some((step) => !passes(program, file, { step, seed }));
          expect(failed, `${fault.name} ${seed}`).toBe(true);
        }
      }
      expect(states.exercised).toBeGreaterThanOrEqual(states.total - 1);
      expect(transitions.exercised).toBeGreaterThanOrEqual(transitions.total - 5);
      expect(transitions.left).toHaveLength(transitions.total - transitions.exercised);
    },
  );

  it('tells every mistake of the catalogue for some watch', () => {
    const names = mutants.filter(canShow).map(({ name }) => name);
    const untold = names.filter((name) => !toldSomewhere.has(name));
    expect(untold).toEqual([]);
  });

  it('shows both sides of the bounds to the second, where nothing varies', () => {
    const { steps, proved } = plainShort;
    expect(proved).toEqual({ sureFromMs: 200_800, quietUpToMs: 20_400 });
    const quiet = steps.find(({ bounds }) => bounds.includes('longest-quiet'));
    // The checks come at 3 min 0.8 s and, after one that read open, at 3 min 21.2 s: 2 s away from each, and a second.
    expect(quiet?.actions).toEqual([
      { atMs: 177_000, deed: 'open' },
      { atMs: 197_000, deed: 'shut' },
    ]);
    expect(quiet?.windows).toEqual([]);
    const told = steps.find(({ bounds }) => bounds.includes('shortest-told'));
    expect(told?.windows).toEqual([{ fromMs: 203_000, toMs: 208_000 }]);
  });

  it('shows no opening without a message where one open check is enough', () => {
    const { steps, proved } = drillFor(watchOf(watchTexts.eager));
    expect(proved.quietUpToMs).toBe(0);
    for (const { bounds, windows } of steps) {
      expect(bounds.includes('longest-quiet') && windows.length > 0).toBe(false);
    }
    expect(steps.flatMap(({ bounds }) => bounds)).toContain('soonest');
  });

  it('shows a cooldown that counts from the decision by an outage over an alert, unless it leaves outages out', () => {
    const telling = plainShort.steps.filter(({ tells }) =>
      tells.includes('cooldown-from-decision'),
    );
    expect(telling.length).toBeGreaterThan(0);
    for (const { actions, windows } of telling) {
      const back = actions.find(({ deed }) => deed === 'network-on')?.atMs ?? 0;
      // The first message comes only when the network is back; the door was open long enough before.
      expect(windows[0]?.fromMs).toBeGreaterThan(back - toleranceMs);
    }
    const calm = drillFor(plainFile, true, ['network', 'reset']);
    expect(calm.without).toEqual(['reset', 'network']);
    const deeds = new Set(calm.steps.flatMap(({ actions }) => actions.map(({ deed }) => deed)));
    expect([...deeds].toSorted()).toEqual(['open', 'power-off', 'power-on', 'shut']);
    expect(calm.faults.untold).toContain('cooldown-from-decision');
  });

  it('asks for more exactness where nothing else tells a mistake, and only there', () => {
    const { steps, faults } = plainShort;
    expect(faults.untold).toEqual([]);
    const exact = steps.filter((step) => step.toleranceMs !== toleranceMs);
    expect(exact).toMatchObject([{ toleranceMs: 1_000, bounds: ['cooldown-running'] }]);
    expect(itemAt(exact, 0).tells).toContain('cooldown-from-attempt');
    // Delivered at 3 min 25.2 s, over at 13 min 25.2 s: less the boot and a second, as late as is quiet for sure.
    const reset = itemAt(exact, 0).actions.find(({ deed }) => deed === 'reset');
    expect(reset?.atMs).toBe(803_000);
    // A message may still be noted as roughly as any other.
    const [first] = itemAt(exact, 0).windows;
    expect(first).toEqual({ fromMs: 203_000, toMs: 208_000 });
  });

  it('has its steps in the order of their lengths, and states the whole', () => {
    const { steps, totalMs, setUpMs } = drillFor(watchOf(watchTexts.eager));
    const lengths = steps.map(({ endsMs }) => endsMs);
    expect(lengths).toEqual(lengths.toSorted((a, b) => a - b));
    expect(totalMs).toBe(lengths.reduce((sum, length) => sum + length + setUpMs, 0));
    expect(itemAt(lengths, 0)).toBeGreaterThan(0);
  });

  it('that is short takes less time, and tells the same mistakes', () => {
    const full = drillFor(plainFile);
    expect(plainShort.totalMs).toBeLessThan(full.totalMs);
    expect(plainShort.faults).toEqual(full.faults);
  });

  it('shows next to nothing where hardly any outcome is sure, and says so', () => {
    const seconds = 'watch: { checkInterval: 3s, recheckInterval: 3s, retry: { interval: 3s } }\n';
    const clock = 'device: { clockError: { min: -30%, max: 30% } }\n';
    const { steps, transitions, faults } = drillFor(watchOf(`${seconds}${clock}`));
    expect(steps).toHaveLength(1);
    expect(steps).toMatchObject([{ actions: [], windows: [] }]);
    expect(transitions.left.length).toBeGreaterThan(transitions.exercised);
    expect(faults.told).toEqual(['contact-reversed']);
  });
});
