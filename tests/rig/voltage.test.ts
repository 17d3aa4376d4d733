// A firmware that reads the battery's voltage finds it falling with the charge, and rising as somebody charges it.
import { describe, expect, it } from 'vitest';
import { deviceMs } from '../../src/base/index.js';
import { drainedRun } from '../../src/rig/index.js';
import { type Experiment, simulate } from '../../src/sim/index.js';
import type { World } from '../../src/world/index.js';
import { supplyWith } from '../battery/supplies.js';
import { programOf, watchWith } from '../support/experiments.js';
import { dayOfADoor, textOnTheRig } from './on-the-rig.js';

const ask = { wakes: true, limitSeconds: 20 };
const hourMs = 3_600_000;

/** From 4.1 V when full to 3 V when empty: 1.1 mV for each thousandth. Asleep it lasts 10 h. */
const supply = supplyWith(
  '{ capacity: 10mAh, sleepCurrent: 1mA, connect: { current: 40mA }, voltageCurve: [{ left: 0%, voltage: 3V }, { left: 100%, voltage: 4.1V }] }',
);

/** Warns once a check finds no more than this many millivolts, and not again before it was charged. */
const warnsAt = (mv: number): string => `
DW_RETAINED static int warned;
void dw_wake(dw_cause cause) {
    uint32_t mv = dw_battery_mv();
    (void)cause;
    (void)dw_contact_is_open();
    if (mv > ${String(mv)}) warned = 0;
    else if (!warned) warned = dw_send_low_battery("The battery is low");
    dw_sleep_ms(120000);
}`;

const watch = watchWith({
  checkIntervalMs: deviceMs(120_000),
  lowBattery: { level: { kind: 'voltage', voltageMv: 3_400 }, repeatMs: deviceMs(6 * hourMs) },
});

function experimentWith(afterWarningMs?: number): Experiment {
  const habit = afterWarningMs === undefined ? {} : { afterWarningMs };
  const charge = { supply, charging: { everyMs: null, ...habit } };
  const { world } = dayOfADoor();
  const quiet: World = {
    ...world,
    openings: { fromMs: new Float64Array(0), toMs: new Float64Array(0) },
    contact: new Float64Array(0),
  };
  return { ...dayOfADoor(), program: programOf(watch), world: quiet, charge };
}

describe('the voltage that a firmware reads', () => {
  it('comes to a level at the check at which the watch finds it there', async () => {
    const rig = await textOnTheRig(warnsAt(3_400));
    for (const afterWarningMs of [undefined, hourMs]) {
      const experiment = experimentWith(afterWarningMs);
      const over = (world: World) => rig.run({ ...experiment, world }, ask);
      const { trace } = drainedRun(over(experiment.world), experiment, over);
      const machine = simulate(experiment);
      expect(trace.lowBattery.length).toBeGreaterThan(0);
      expect(trace.lowBattery).toEqual(machine.lowBattery);
      expect(trace.flat).toEqual(machine.flat);
    }
  });

  it('brings somebody with a charge though the watch would have warned later', async () => {
    const rig = await textOnTheRig(warnsAt(3_800));
    const experiment = experimentWith(hourMs);
    const over = (world: World) => rig.run({ ...experiment, world }, ask);
    const { trace } = drainedRun(over(experiment.world), experiment, over);
    // A charge is warned of after 3/11 of 10 h, and charged an hour later: six times within a day.
    expect(trace.lowBattery.length).toBeGreaterThan(4);
    expect(trace.flat).toEqual([]);
  });

  it('stays as it is where nothing says how it depends on the charge', async () => {
    const rig = await textOnTheRig(warnsAt(2_999));
    const experiment = experimentWith();
    const plain = { ...supply, voltageCurve: null };
    const charge = { supply: plain, charging: { everyMs: null } };
    const over = (world: World) => rig.run({ ...experiment, world }, ask);
    const { trace } = drainedRun(over(experiment.world), { ...experiment, charge }, over);
    expect(trace.lowBattery).toEqual([]);
  });
});
