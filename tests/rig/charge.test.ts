// A firmware drains the supply as the machine does, and so does one that waits awake.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { deviceMs, trueMs } from '../../src/base/index.js';
import { drainedRun } from '../../src/rig/index.js';
import { defaultWatchFile } from '../../src/scenarios/index.js';
import { compileWatch, type Experiment, simulate } from '../../src/sim/index.js';
import { idealContactEdges, noSpans, spansOf, type World } from '../../src/world/index.js';
import { supplyWith, undrained } from '../battery/supplies.js';
import { experiments, scales } from '../support/arbitraries.js';
import { onCharge } from '../support/supply-arbitraries.js';
import { assertUntil } from '../support/until-seen.js';
import { dayOfADoor, onTheRig, textOnTheRig } from './on-the-rig.js';

const usual = defaultWatchFile().watch;
const { table } = compileWatch(usual);
const ask = { wakes: true, limitSeconds: 20 };
const hourMs = 3_600_000;

describe('the supply of a firmware', () => {
  it('ends to the millisecond where it does for the machine, and is charged alike', async () => {
    const watch = {
      ...usual,
      checkIntervalMs: deviceMs(7),
      recheckIntervalMs: deviceMs(7),
      retryIntervalMs: deviceMs(3),
      alertCooldownMs: deviceMs(29),
    };
    const rig = await onTheRig('default-watch.c', 'cc -DCHECK_MS=7 -DRETRY_MS=3 -DCOOLDOWN_MS=29');
    const [instants = expect.fail('there is a scale')] = scales;
    let flats = 0;
    assertUntil(
      fc.property(
        experiments(instants, 6, fc.constant(usual)).chain((drawn) => onCharge(drawn, instants)),
        (drawn) => {
          for (const one of drawn) {
            const experiment: Experiment = { ...one, program: { watch, table } };
            const over = (world: World) => rig.run({ ...experiment, world }, ask);
            const { trace } = drainedRun(over(experiment.world), experiment, over);
            const machine = simulate(experiment);
            expect(trace.flat).toEqual(machine.flat);
            expect(trace.alerts.length).toBe(machine.alerts.length);
            flats += machine.flat.length;
          }
        },
      ),
      { numRuns: 40 },
      () => flats > 100,
    );
  });

  const dearSend = 'connect: { charge: 200mAh }, failedAttempt: { charge: 0mC }';
  const dearFailure = 'connect: { charge: 0mC }, failedAttempt: { charge: 200mAh }';
  // Power-on at 0, a wake each 120.4 s: the second open check, which decides the alert.
  const sendMs = 31 * 120_400 + 400;
  it.each([
    { draws: dearSend, network: 'down', sendEmpties: false },
    { draws: dearFailure, network: 'down', sendEmpties: true },
    { draws: dearSend, network: 'up', sendEmpties: true },
    { draws: dearFailure, network: 'up', sendEmpties: false },
  ])(
    'pays for a send that is cut off what it would have taken, with the network $network: $draws',
    async ({ draws, network, sendEmpties }) => {
      const rig = await onTheRig('default-watch.c');
      const supply = supplyWith(`{ capacity: 80mAh, sleepCurrent: 0mA, ${draws} }`);
      const day = dayOfADoor();
      // The device takes 4 s to connect. What cuts it off comes first, and the network may be back later.
      const networkDown = network === 'down' ? spansOf([[sendMs - 1, sendMs + 10_000]]) : noSpans;
      for (const cut of ['reset', 'loss'] as const) {
        const atMs = sendMs + 1_000;
        const world = {
          ...day.world,
          lengthMs: trueMs(atMs + 60_000),
          networkDown,
          resetsMs: cut === 'reset' ? Float64Array.of(atMs) : new Float64Array(0),
          powerLost: cut === 'loss' ? spansOf([[atMs, atMs + 30_000]]) : noSpans,
        };
        const experiment = { ...day, world, charge: { supply, charging: { everyMs: null } } };
        const over = (other: World) => rig.run({ ...experiment, world: other }, ask);
        const { trace } = drainedRun(over(world), experiment, over);
        const flat = sendEmpties ? [{ fromMs: sendMs + 1, toMs: world.lengthMs }] : [];
        expect(trace.flat).toEqual(flat);
        expect(simulate(experiment).flat).toEqual(flat);
      }
    },
  );

  it.each([
    { opensMs: 300, flat: [] },
    // 3.3 A from the wake to a check that would have read shut: 0.1 mAh last for 109.1 ms.
    { opensMs: 401, flat: [{ fromMs: 110, toMs: 60_000 }] },
  ])(
    'pays for a pull-up up to a check that a reset prevents by what it would have read: open from $opensMs ms on',
    async ({ opensMs, flat }) => {
      const rig = await onTheRig('default-watch.c');
      const contactBias = { resistanceOhm: 1, voltageMv: 3_300, powered: 'check-only' as const };
      const capacityNah = 100_000;
      const supply = { ...undrained(capacityNah), contactBias };
      const day = dayOfADoor(60_000);
      const openings = spansOf([[opensMs, 60_000]]);
      const contact = idealContactEdges(openings);
      const world = { ...day.world, openings, contact, resetsMs: Float64Array.of(200) };
      const experiment = { ...day, world, charge: { supply, charging: { everyMs: null } } };
      const over = (other: World) => rig.run({ ...experiment, world: other }, ask);
      expect(drainedRun(over(world), experiment, over).trace.flat).toEqual(flat);
      expect(simulate(experiment).flat).toEqual(flat);
    },
  );

  it('goes on waiting awake for the network until it is used up', async () => {
    const rig = await textOnTheRig(`
void dw_wake(dw_cause cause) {
    (void)cause;
    if (dw_contact_is_open()) for (;;) dw_delay_ms(60000);
    dw_sleep_ms(120000);
}`);
    // Awake it draws 40 mA: of 80 mAh two hours are left, less what the first hour took.
    const supply = supplyWith('{ capacity: 80mAh, sleepCurrent: 0mA, boot: { current: 40mA } }');
    const charge = { supply, charging: { everyMs: null } };
    const experiment = { ...dayOfADoor(), charge };
    const over = (world: World) => rig.run({ ...experiment, world }, ask);
    const { trace } = drainedRun(over(experiment.world), experiment, over);
    const [flat] = trace.flat;
    // The 31st wake finds it open, after 31 boots of 400 ms.
    const openMs = 30 * 120_400;
    expect(flat).toEqual({ fromMs: openMs + 2 * hourMs - 30 * 400, toMs: 24 * hourMs });
  });
});
