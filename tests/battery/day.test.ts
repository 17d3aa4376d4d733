// One day as a bar: whatever the device did, the area that is drawn is the charge that the run takes.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { nahOf, spend, useOf } from '../../src/battery/index.js';
import { costliestDay } from '../../src/chart/battery/day.js';
import { slotCharges } from '../../src/chart/battery/stretches.js';
import { chargeUsed } from '../../src/chart/vcd/charge.js';
import { parseScenario, timelineOf } from '../../src/scenarios/index.js';
import { compileWatch, simulate } from '../../src/sim/index.js';
import { experiments, scales } from '../support/arbitraries.js';
import { chargePlans, onCharge } from '../support/supply-arbitraries.js';
import { assertUntil } from '../support/until-seen.js';
import { watchFileWith } from './supplies.js';

const supplyText =
  '{ capacity: 1200mAh, sleepCurrent: 70uA, boot: { current: 31mA }, blink: { charge: 2uAh }, connect: { current: 59mA }, failedAttempt: { current: 59mA, time: 3s }, heartbeat: { charge: 5uAh }, selfDischarge: { perMonth: 2% }, contactBias: { resistance: 45kΩ, voltage: 3.3V } }';
const door = `
name: A hatch that is left open
start: 2026-05-08T06:00:00Z
length: 2d
door:
  - { at: "07:10", for: 45s }
  - { at: "07:30", for: 22m }
  - { at: +30h, for: 25m }
network: [{ down: "07:32", for: 1h }]
power: [{ lost: "09:00", for: 2m }]
`;

function run(watch = '') {
  const watchFile = watchFileWith(supplyText, watch);
  const scenario = parseScenario(door, 'hatch.yaml');
  if (!scenario.ok) throw new Error(JSON.stringify(scenario.errors));
  const timeline = timelineOf(scenario.value, watchFile, { seed: '1' });
  if (!timeline.ok || watchFile.supply === null) throw new Error('the timeline can be read');
  const { world, timing, start, name, seed } = timeline.value;
  const trace = simulate({ program: compileWatch(watchFile.watch), timing, world, seed });
  return { run: { trace, world, start, name }, supply: watchFile.supply };
}

describe('one day as a bar', () => {
  it.each([
    ['with a heartbeat', 'watch: { heartbeatInterval: 6h }\n'],
    ['awake until reset', 'watch: { afterAlert: hold-until-reset }\n'],
  ])('has as its area what the run takes, activity by activity: %s', (_, watch) => {
    const { run: device, supply } = run(watch);
    const { trace, world } = device;
    const edges = Array.from({ length: 98 }, (_slot, index) => (index * trace.lengthMs) / 97);
    const charges = slotCharges(device, supply, edges);
    const { parts } = spend(useOf(trace, world), supply);
    for (const { activity, chargePc } of parts) {
      const area = charges[activity].reduce((sum, pc) => sum + pc, 0);
      expect([activity, Math.round(area / 1e6)]).toEqual([
        activity,
        Math.round(Number(chargePc) / 1e6),
      ]);
    }
    expect(parts.filter(({ chargePc }) => chargePc > 0n).length).toBeGreaterThan(5);
  });

  it('has as its area what any run takes, sends and boots that are cut off and an empty battery included', () => {
    const [scale = expect.fail('there is a scale')] = scales;
    const seen = { sends: 0, boots: 0, flat: 0 };
    assertUntil(
      fc.property(
        fc
          .tuple(experiments(scale, 3), experiments(scale, 3))
          .chain(([endless, drawn]) =>
            fc.tuple(fc.constant(endless), onCharge(drawn, scale), chargePlans(scale)),
          ),
        ([endless, drained, plan]) => {
          for (const experiment of [...endless, ...drained]) {
            const { supply } = experiment.charge ?? plan;
            const trace = simulate(experiment);
            const { world } = experiment;
            const device = { trace, world, start: null, name: 'any' };
            const { parts, totalPc } = spend(useOf(trace, world), supply);
            const charges = slotCharges(device, supply, [0, trace.lengthMs]);
            for (const { activity, chargePc } of parts) {
              const area = charges[activity].reduce((sum, pc) => sum + pc, 0);
              const off = Math.abs(area - Number(chargePc));
              expect([activity, off <= 1 + 1e-9 * Number(chargePc)]).toEqual([activity, true]);
            }
            expect([...chargeUsed(trace, world, supply)].at(-1)?.usedNah).toBe(nahOf(totalPc));
            seen.sends += trace.alerts.flatMap(({ attempts }) =>
              attempts.filter(({ wouldFail }) => wouldFail === true),
            ).length;
            if (trace.flat.length > 0) seen.flat += 1;
            seen.boots += trace.wakes.filter(({ wouldReadShut }) => wouldReadShut === true).length;
          }
        },
      ),
      { numRuns: 20 },
      () => Math.min(seen.sends, seen.boots, seen.flat) > 30,
    );
  });

  it('shows the day that takes most, and of it the wake that takes most', () => {
    const { run: device, supply } = run();
    const day = costliestDay(device, supply);
    expect(day.name).toContain('Fri 8 May 2026');
    expect(day.layers.map(({ activity }) => activity)).toContain('failedAttempt');
    expect(day.closeUp?.steps.map(({ activity }) => activity)).toEqual(['boot', 'connect']);
  });
});
