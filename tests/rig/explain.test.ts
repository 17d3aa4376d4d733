// Why a firmware missed an opening or sent an alert for nothing, in one sentence, from what can be seen of it.
import { describe, expect, it } from 'vitest';
import { trueMs } from '../../src/base/index.js';
import { explainRun } from '../../src/rig/index.js';
import { idealContactEdges, spansOf } from '../../src/world/index.js';
import { dayOfADoor, textOnTheRig } from './on-the-rig.js';

const ask = { wakes: true, limitSeconds: 20 };

/** Of a day with the door open from the first hour to the second. */
async function missedBy(body: string): Promise<string> {
  const rig = await textOnTheRig(
    `static void sleep_on(void) { dw_sleep_ms(180000); }\nvoid dw_wake(dw_cause c) { ${body} sleep_on(); }`,
  );
  const experiment = dayOfADoor();
  return explainRun(rig.run(experiment, ask), experiment.world.openings).opening(0);
}

describe('an opening that was missed', () => {
  it.each([
    [
      'slept through for ever',
      'if (c == DW_TIMER) dw_sleep_ms(UINT64_MAX);',
      'the firmware slept through it: at +3 min 1 s it went to sleep for 213503982334 d 13 h 59 min',
    ],
    [
      'held through',
      'if (c == DW_TIMER) dw_idle_until_reset();',
      'the firmware stayed awake and did nothing while it was open, waiting for a reset',
    ],
    [
      'waited through, awake',
      'while (dw_contact_is_open()) dw_delay_ms(1000);',
      'the firmware stayed awake for 59 min 52 s of it without a break, read the contact 3593 times in that wake and sent no alert',
    ],
    [
      'not looked at',
      'if (c == DW_RESET) sleep_on();',
      'the firmware did not check the contact while it was open',
    ],
    [
      'read only after a send',
      'dw_send_heartbeat("well"); (void)dw_contact_is_open();',
      'the firmware read the contact 20 times while it was open, but only after a send in the same wake',
    ],
    [
      'seen and not told',
      'dw_contact_is_open();',
      'the firmware checked the contact 20 times while it was open, read it open each time and sent no alert',
    ],
    [
      'seen once and not told',
      'dw_contact_is_open(); if (c == DW_TIMER && dw_clock_ms() > 3600000) dw_sleep_ms(3600000);',
      'the firmware checked the contact once while it was open, read it open and sent no alert',
    ],
  ])('because it was %s', async (_, body, sentence) => {
    expect(await missedBy(body)).toContain(sentence);
  });
});

describe('the reason for a firmware', () => {
  /** The first opening, from the first hour to the second, with faults. */
  async function reason(body: string, faults: Partial<ReturnType<typeof dayOfADoor>['world']>) {
    const rig = await textOnTheRig(
      `static void sleep_on(void) { dw_sleep_ms(180000); }\nvoid dw_wake(dw_cause c) { (void)c; ${body} sleep_on(); }`,
    );
    const day = dayOfADoor();
    const experiment = { ...day, world: { ...day.world, ...faults } };
    return explainRun(
      rig.run(experiment, ask),
      experiment.world.openings,
      experiment.world,
    ).opening(0);
  }

  it('without power names the power', async () => {
    const powerLost = spansOf([[3_000_000, 8_000_000]]);
    expect(await reason('dw_contact_is_open();', { powerLost })).toBe(
      'the device had no power while it was open',
    );
    expect(await reason('', { powerOnAtMs: trueMs(8_000_000) })).toBe(
      'the device had no power while it was open',
    );
  });

  it('does not call a sleep or a hold whole that something ended', async () => {
    const seen =
      'the firmware checked the contact once while it was open, read it open and sent no alert';
    const forever = 'dw_contact_is_open(); if (c != DW_TIMER) dw_sleep_ms(UINT64_MAX);';
    const resetsMs = Float64Array.from([5_000_000]);
    expect(await reason('dw_contact_is_open(); dw_sleep_ms(UINT64_MAX);', { resetsMs })).toBe(seen);
    expect(await reason('dw_contact_is_open(); dw_idle_until_reset();', { resetsMs })).toBe(seen);
    const powerLost = spansOf([[5_000_000, 9_000_000]]);
    expect(await reason(forever, { powerLost })).toBe(
      'the firmware did not check the contact while it was open',
    );
  });

  it('counts the attempts of an alert that was decided before it opened', async () => {
    const body =
      'static DW_RETAINED int sent; dw_contact_is_open(); if (!sent) sent = dw_send_alert("a");';
    const waits = await reason(body, { networkDown: spansOf([[0, 9_000_000]]) });
    expect(waits).toMatch(
      /sent no new alert; one decided 1 h before the door opened was still waiting to be delivered \(\d+ attempts failed while it was open\)$/u,
    );
    const comes = await reason(body, { networkDown: spansOf([[0, 4_000_000]]) });
    expect(comes).toMatch(
      /sent no new alert; one decided 1 h before the door opened was delivered \d+ min( \d+ s)? after it opened \(\d+ attempts failed while it was open\)$/u,
    );
  });

  it('tells an attempt that a reset cut off from one that failed', async () => {
    const once =
      'if (c == DW_TIMER && dw_clock_ms() > 3700000 && dw_contact_is_open()) dw_send_alert("a");';
    expect(await reason(once, {})).toBe(
      'an alert was decided 3 min 9 s after the door opened and delivered 4 s later',
    );
    const resetsMs = Float64Array.from([3_600_000 + 190_000]);
    expect(await reason(once, { resetsMs })).toBe(
      'an alert was decided 3 min 9 s after the door opened and delivered 3 min 6 s later (before that 1 attempt cut off by a reset)',
    );
  });
});

describe('an alert that is never delivered', () => {
  it('is told with its attempts and its end', async () => {
    const rig = await textOnTheRig(`
      DW_RETAINED static int tries;
      void dw_wake(dw_cause c) { (void)c; if (dw_contact_is_open() && tries < 2) { tries++; dw_send_alert("a"); } dw_sleep_ms(180000); }`);
    const experiment = dayOfADoor();
    const openings = spansOf([[3_600_000, 3_900_000]]);
    const world = {
      ...experiment.world,
      openings,
      contact: idealContactEdges(openings),
      networkDown: spansOf([[0, 80_000_000]]),
    };
    const why = explainRun(rig.run({ ...experiment, world }, ask), openings);
    expect(why.alert(0)).toBe(
      'the firmware sent it 8.4 s after the door opened, when it had read it open once; not delivered (2 attempts failed)',
    );
    expect(why.opening(0)).toBe(
      'an alert was decided 8.4 s after the door opened; not delivered (2 attempts failed)',
    );
  });
});
