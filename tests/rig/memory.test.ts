// What a firmware finds in its memory at each wake, and what it can do with its heap.
import { describe, expect, it } from 'vitest';
import { dayOfADoor, textOnTheRig } from './on-the-rig.js';

const ask = { wakes: true, limitSeconds: 20 };

describe('memory', () => {
  it('of every kind is pristine at each wake, and only what is retained carries over', async () => {
    const rig = await textOnTheRig(`
      DW_RETAINED static int retained = 5;
      static int data = 5, zero;
      void dw_wake(dw_cause cause) {
        int *heap = malloc(sizeof *heap);
        printf("%d %d %d %d %d %d\\n", cause, retained++, data++, zero++, *heap, rand() == 1804289383);
        *heap = 1;
        dw_sleep_ms(6 * 3600000);
      }`);
    const experiment = dayOfADoor();
    const world = {
      ...experiment.world,
      resetsMs: Float64Array.of(30_000_000),
      powerLost: { fromMs: Float64Array.of(60_000_000), toMs: Float64Array.of(60_000_001) },
    };
    const { printed } = rig.run({ ...experiment, world }, ask);
    // Power-on, timer, reset, timer, power-on again.
    const expected = ['0 5', '2 6', '1 7', '2 8', '0 5'].map((start) => `${start} 5 0 0 1`);
    expect(printed.trim().split('\n').slice(0, 5)).toEqual(expected);
  });

  it('of the heap can be taken, resized and given back at will', async () => {
    const rig = await textOnTheRig(`
      void dw_wake(dw_cause c) {
        char *many[200], *text = strdup("hatch");
        for (int i = 0; i < 200; i++) { many[i] = malloc(i); memset(many[i], i, i); }
        for (int i = 0; i < 200; i += 2) free(many[i]);
        for (int i = 1; i < 200; i += 2) { many[i] = realloc(many[i], 3 * i); many[i][3 * i - 1] = 1; if (many[i][i - 1] != (char)i) abort(); }
        int *zeros = calloc(50, sizeof *zeros);
        for (int i = 0; i < 50; i++) if (zeros[i] != 0) abort();
        if (realloc(zeros, (size_t)-1) != NULL || calloc((size_t)-1, 2) != NULL || strcmp(text, "hatch") != 0) abort();
        free(text);
        dw_contact_is_open(); (void)c; dw_sleep_ms(6 * 3600000);
      }`);
    expect(rig.run(dayOfADoor(), ask).failure).toBeNull();
  });

  it('of the heap is gone in the next wake, and a pointer that was retained is found out', async () => {
    const rig = await textOnTheRig(`
      typedef struct { int open_checks; } state;
      DW_RETAINED static state *kept = 0;
      void dw_wake(dw_cause c) {
        (void)c;
        if (kept == 0) kept = calloc(1, sizeof *kept);
        kept->open_checks = dw_contact_is_open() ? kept->open_checks + 1 : 0;
        dw_sleep_ms(120000);
      }`);
    const { failure } = rig.run(dayOfADoor(), ask);
    expect(failure).toMatchObject({ kind: 'stale-pointer', atMs: 120_800 });
  });

  it('lies at the same addresses in each run', async () => {
    const text = `
      static int data;
      DW_RETAINED static void *kept = &data;
      void dw_wake(dw_cause c) { (void)c; printf("%p %p\\n", kept, malloc(1)); dw_sleep_ms(6 * 3600000); }`;
    const [one, other] = [await textOnTheRig(text), await textOnTheRig(text)];
    const { printed } = one.run(dayOfADoor(), ask);
    expect(printed).toMatch(/^0x\w+ 0x\w+\n/u);
    expect(other.run(dayOfADoor(), ask).printed).toBe(printed);
  });

  it('that a sleep is counted in shows its overflow', async () => {
    const rig = await textOnTheRig(
      'void dw_wake(dw_cause c) { uint32_t hours = 2000; (void)c; dw_sleep_ms(hours * 3600 * 1000); }',
    );
    const { wakes } = rig.run(dayOfADoor(), ask).reply;
    expect(wakes[0]?.sleep?.nominalMs).toBe((2_000 * 3_600_000) % 2 ** 32);
  });
});
