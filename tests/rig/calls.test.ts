// The calls for what a board has besides a contact: a store, the wall clock, kinds of reset, a send in two parts, a watchdog.
import { describe, expect, it } from 'vitest';
import type { Ask, RigRun } from '../../src/rig/index.js';
import type { Experiment } from '../../src/sim/index.js';
import { spansOf, type World } from '../../src/world/index.js';
import { dayOfADoor, textOnTheRig } from './on-the-rig.js';

const ask = { wakes: true, limitSeconds: 20 };
const hourMs = 3_600_000;

/** What a firmware does on a day, with some of its world or of its times replaced. */
async function runOf(
  text: string,
  world: Partial<World> = {},
  on: { readonly ask?: Partial<Ask>; readonly timing?: Partial<Experiment['timing']> } = {},
): Promise<RigRun> {
  const rig = await textOnTheRig(text);
  const day = dayOfADoor();
  const experiment = {
    ...day,
    timing: { ...day.timing, ...on.timing },
    world: { ...day.world, ...world },
  };
  return rig.run(experiment, { ...ask, ...on.ask });
}

const linesOf = ({ printed, failure }: RigRun): readonly string[] => {
  expect(failure).toBeNull();
  return printed.trim().split('\n');
};

describe('the store', () => {
  const counts = `
    void dw_wake(dw_cause c) {
      uint32_t count;
      dw_store_read(8, &count, sizeof count);
      printf("%d %u %llu\\n", (int)c, count, (unsigned long long)dw_clock_ms());
      count += 1;
      dw_store_write(8, &count, sizeof count);
      dw_contact_is_open(); dw_sleep_ms(4 * 3600000);
    }`;

  it('is 0xff at first, and survives sleep, reset and power loss', async () => {
    const run = await runOf(counts, {
      resetsMs: Float64Array.of(hourMs),
      powerLost: spansOf([[2 * hourMs, 3 * hourMs]]),
    });
    const found = linesOf(run).map((line) => line.split(' ').slice(0, 2).join(' '));
    expect(found.slice(0, 4)).toEqual(['0 4294967295', '1 0', '0 1', '2 2']);
    // Each run begins with an empty one.
    const rig = await textOnTheRig(counts);
    const once = rig.run(dayOfADoor(), ask).printed;
    expect(rig.run(dayOfADoor(), ask).printed).toBe(once);
  });

  it('takes 5 ms for each page that a write touches, and none for what is out of range', async () => {
    const run = await runOf(`
      static uint64_t took(uint32_t offset, uint32_t bytes) {
        static uint8_t from[5000];
        uint64_t before = dw_clock_ms();
        int done = dw_store_write(offset, from, bytes);
        return 1000 * (uint64_t)done + dw_clock_ms() - before;
      }
      void dw_wake(dw_cause c) {
        uint8_t to[8]; (void)c;
        printf("%d %d %d %d %d %d %d\\n", (int)took(0, 1), (int)took(255, 2), (int)took(0, 4096), (int)took(4090, 6),
               (int)took(4090, 7), (int)took(7, 0), dw_store_read(4096, to, 1));
        dw_contact_is_open(); dw_sleep_ms(86400000);
      }`);
    expect(linesOf(run)).toEqual(['1005 1010 1080 1005 0 1000 0']);
  });

  it('keeps some of the leading new bytes of the page that a power loss tears, and all of those before', async () => {
    const text = `
      static uint8_t new_bytes[600], held[600];
      void dw_wake(dw_cause c) {
        int same = 0; (void)c;
        dw_store_read(100, held, sizeof held);
        while (same < 600 && held[same] == 7) same++;
        for (int i = same; i < 600; i++) if (held[i] != 0xff) abort();
        printf("%d\\n", same);
        if (same == 0) { memset(new_bytes, 7, sizeof new_bytes); dw_store_write(100, new_bytes, sizeof new_bytes); }
        dw_contact_is_open(); dw_sleep_ms(86400000);
      }`;
    const rig = await textOnTheRig(text);
    const day = dayOfADoor();
    const held = (world: Partial<World>): readonly string[] =>
      linesOf(rig.run({ ...day, world: { ...day.world, ...world } }, ask));
    const kept = new Set<number>();
    for (let ms = 1; ms <= 10; ms += 1) {
      // The write begins at 400 ms: pages of 156, 256 and 188 bytes.
      const powerLost = spansOf([[400 + ms, 5_000]]);
      const [, second = ''] = held({ powerLost });
      const count = Number(second);
      const whole = ms <= 5 ? 0 : 156;
      expect(count).toBeGreaterThanOrEqual(whole);
      expect(count).toBeLessThanOrEqual(ms <= 5 ? 156 : 156 + 256);
      kept.add(count);
    }
    expect(kept.size).toBeGreaterThan(3);
    const reset = held({ resetsMs: Float64Array.of(403) });
    expect(reset).toEqual(['0', '156']);
  });
});

describe('the wall clock', () => {
  const text = `
    void dw_wake(dw_cause c) {
      long long before = (long long)dw_wall_clock_ms();
      if (c == DW_TIMER && before < 0) dw_join(0);
      printf("%lld %lld\\n", before, (long long)dw_wall_clock_ms());
      dw_contact_is_open(); dw_sleep_ms(3600000);
    }`;
  const startMs = Date.UTC(2026, 4, 8, 6);

  it('is known after a success of joining, and lost with the power', async () => {
    const powerLost = spansOf([[5 * hourMs, 6 * hourMs]]);
    const lines = linesOf(await runOf(text, { powerLost }, { ask: { wallStartsMs: startMs } }));
    const joinedMs = startMs + 400 + hourMs + 400 + 4_000;
    expect(lines[0]).toBe('-1 -1');
    expect(lines[1]).toBe(`-1 ${String(joinedMs)}`);
    expect(lines[2]).toMatch(new RegExp(`^${String(joinedMs + hourMs + 400)} `, 'u'));
    expect(lines.filter((line) => line.startsWith('-1'))).toHaveLength(4);
  });

  it('is unknown without a network, and in a timeline without a start', async () => {
    const networkDown = spansOf([[0, 24 * hourMs]]);
    const down = await runOf(text, { networkDown }, { ask: { wallStartsMs: startMs } });
    expect(new Set(linesOf(down))).toEqual(new Set(['-1 -1']));
    expect(new Set(linesOf(await runOf(text)))).toEqual(new Set(['-1 -1']));
  });
});

describe('the kind of a reset', () => {
  it('is what the timeline says, and that of the watchdog', async () => {
    const run = await runOf(
      `void dw_wake(dw_cause c) {
         if (c == DW_RESET) printf("%d\\n", (int)dw_why_reset());
         if (c == DW_RESET && dw_why_reset() == DW_RESET_SOFTWARE) { dw_watchdog_start(1000); dw_delay_ms(5000); }
         dw_contact_is_open(); dw_sleep_ms(3600000);
       }`,
      {
        resetsMs: Float64Array.of(hourMs, 2 * hourMs, 3 * hourMs),
        resetEffects: (['button', 'watchdog', 'software'] as const).map((kind) => ({
          kind,
          clears: false,
        })),
      },
    );
    expect(linesOf(run)).toEqual(['0', '1', '2', '1']);
  });
});

describe('a send in two parts', () => {
  it('is that of dw_send_alert, to the millisecond', async () => {
    const body = (send: string): string => `
      DW_RETAINED static int sent = 0;
      void dw_wake(dw_cause c) {
        (void)c;
        if (dw_contact_is_open() && !sent) sent = ${send};
        dw_sleep_ms(120000);
      }`;
    const networkDown = spansOf([[0, 1.5 * hourMs]]);
    const whole = await runOf(body('dw_send_alert("open")'), { networkDown });
    const parts = await runOf(body('dw_join(0) && dw_transmit_alert("open")'), { networkDown });
    const delivered = ({ trace }: RigRun) => trace.alerts.map(({ deliveredMs }) => deliveredMs);
    expect(delivered(whole)).toHaveLength(1);
    expect(delivered(parts)).toEqual(delivered(whole));
    // It is decided when it begins to join for the first time, with the door open.
    expect(parts.trace.alerts[0]?.decidedMs).toBe(whole.trace.alerts[0]?.decidedMs);
    expect(parts.trace.alerts[0]?.attempts.length).toBe(whole.trace.alerts[0]?.attempts.length);
    expect(parts.reply.joins.at(-1)).toMatchObject({ joined: true });
    expect(parts.reply.joins[0]).toMatchObject({ joined: false });
  });

  it('waits for the network as long as it says, and stays joined until the wake ends', async () => {
    const networkDown = spansOf([
      [0, 30_000],
      [40_000, 50_000],
    ]);
    const run = await runOf(
      `static int ms(void) { return (int)dw_clock_ms(); }
       void dw_wake(dw_cause c) {
         dw_contact_is_open();
         if (c == DW_POWER_ON) {
           printf("%d %d\\n", dw_transmit_alert("a"), ms());
           printf("%d %d\\n", dw_join(10000), ms());
           printf("%d %d\\n", dw_join(60000), ms());
           printf("%d %d\\n", dw_transmit_alert("a"), ms());
           dw_delay_ms(12000);
           printf("%d %d\\n", dw_transmit_alert("a"), ms());
           printf("%d %d\\n", dw_join(0), ms());
           dw_delay_ms(10000);
           printf("%d %d\\n", dw_send_alert("a"), ms());
         }
         dw_sleep_ms(86400000);
       }`,
      { networkDown },
    );
    // In C the order in which arguments are worked out is open: the clock may be read before.
    const outcomes = linesOf(run).map((line) => line.split(' ')[0]);
    expect(outcomes).toEqual(['0', '0', '1', '1', '0', '1', '1']);
    const sends = run.reply.sends.map(({ startMs, endMs, outcome }) => [startMs, endMs, outcome]);
    expect(sends).toEqual([
      [400, 400, 'failed'],
      [30_000, 30_000, 'delivered'],
      [42_000, 42_000, 'failed'],
      [52_000, 52_000, 'delivered'],
    ]);
    expect(run.reply.joins).toMatchObject([
      { wake: 0, startMs: 400, endMs: 14_400, joined: false },
      { wake: 0, startMs: 14_400, endMs: 30_000, joined: true },
    ]);
  });
});

describe('the watchdog', () => {
  it('resets a device that is awake for longer than it allows, and keeps or clears what is retained', async () => {
    const text = `
      DW_RETAINED static int wakes = 0;
      void dw_wake(dw_cause c) {
        wakes++;
        printf("%d %d\\n", (int)c, wakes);
        if (c == DW_POWER_ON) { dw_watchdog_start(2000); dw_delay_ms(2000); dw_watchdog_feed(); dw_delay_ms(1500); dw_delay_ms(1500); }
        dw_contact_is_open(); dw_sleep_ms(43200000);
      }`;
    const kept = await runOf(text);
    expect(linesOf(kept)).toEqual(['0 1', '1 2', '2 3']);
    // It was fed at 2.4 s, and more than 2 s pass.
    expect(kept.reply.wakes[1]).toMatchObject({ cause: 'reset', wakeMs: 4_401 });
    const cleared = await runOf(text, {}, { ask: { watchdogClears: true } });
    expect(linesOf(cleared)).toEqual(['0 1', '1 1', '2 2']);
  });

  it('cuts a send, is off at each wake, and ends a wait without end and an endless loop', async () => {
    const run = await runOf(`
      void dw_wake(dw_cause c) {
        if (c == DW_POWER_ON) { dw_watchdog_start(1000); dw_send_alert("a"); }
        if (c == DW_RESET && dw_clock_ms() < 3000) { dw_watchdog_start(1000); dw_idle_until_reset(); }
        if (c == DW_RESET && dw_clock_ms() < 4000) { dw_watchdog_start(1000); for (volatile int x = 0;;) x++; }
        dw_delay_ms(5000);
        dw_contact_is_open(); dw_sleep_ms(43200000);
      }`);
    expect(run.failure).toBeNull();
    expect(run.reply.sends).toMatchObject([{ outcome: 'cutOff', endMs: 1_401 }]);
    const starts = run.reply.wakes.map(({ cause, wakeMs }) => [cause, wakeMs]);
    expect(starts.slice(0, 4)).toEqual([
      ['power-on', 0],
      ['reset', 1_401],
      ['reset', 2_802],
      ['reset', 4_203],
    ]);
  });

  it('does not go on for ever where it resets the device at once, nor where it hangs each time', async () => {
    const atOnce = 'void dw_wake(dw_cause c) { (void)c; dw_watchdog_start(1); dw_delay_ms(10); }';
    expect((await runOf(atOnce)).failure).toMatchObject({ kind: 'does-not-rest' });
    const hangs =
      'void dw_wake(dw_cause c) { (void)c; dw_watchdog_start(100000); for (volatile int x = 0;;) x++; }';
    expect((await runOf(hangs)).failure).toMatchObject({ kind: 'endless-loop' });
  });
});
