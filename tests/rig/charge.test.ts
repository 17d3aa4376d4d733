// A firmware drains the supply as the machine does, and so does one that waits awake.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { deviceMs } from '../../src/base/index.js';
import { drainedRun } from '../../src/rig/index.js';
import { defaultWatchFile } from '../../src/scenarios/index.js';
import { compileWatch, type Experiment, simulate } from '../../src/sim/index.js';
import type { World } from '../../src/world/index.js';
import { supplyWith } from '../battery/supplies.js';
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
