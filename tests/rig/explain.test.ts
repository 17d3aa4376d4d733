// Why a firmware missed an opening or sent an alert for nothing, in one sentence, from what can be seen of it.
import { describe, expect, it } from 'vitest';
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
  return explainRun(rig.run(experiment, ask), experiment.world.openings).opening(0, 'missed');
}

describe('an opening that was missed', () => {
  it.each([
    [
      'slept through for ever',
      'if (c == DW_TIMER) dw_sleep_ms(UINT64_MAX);',
      'the firmware slept through it: at +3 min 0.8 s it had gone to sleep for 213503982334 d 13 h 59 min',
    ],
    [
      'idled through',
      'if (c == DW_TIMER) dw_idle_until_reset();',
      'the firmware stayed idle until a reset in all of it',
    ],
    [
      'waited through, awake',
      'while (dw_contact_is_open()) dw_delay_ms(1000);',
      'the firmware was awake in it for 59 min 51.6 s on end, read the contact 3593 times in that wake, and sent nothing',
    ],
    [
      'not looked at',
      'if (c == DW_RESET) sleep_on();',
      'the firmware did not read the contact in it',
    ],
    [
      'seen and not told',
      'dw_contact_is_open();',
      'the firmware read the contact 20 times in it, open each time, and sent nothing',
    ],
    [
      'seen once and not told',
      'dw_contact_is_open(); if (c == DW_TIMER && dw_clock_ms() > 3600000) dw_sleep_ms(3600000);',
      'the firmware read the contact once in it, open, and sent nothing',
    ],
  ])('because it was %s', async (_, body, sentence) => {
    expect(await missedBy(body)).toContain(sentence);
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
      'the firmware sent it 8.4 s after the door opened, having read the contact open once in that opening; sent 2 times in vain',
    );
    expect(why.opening(0, 'missed')).toBe(
      'it was decided 8.4 s after the door opened, and sent 2 times in vain',
    );
  });
});
