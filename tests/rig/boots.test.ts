// What a boot does to memory: constructors run at each wake, and retained memory that nothing sets holds garbage at power-on.
import { writeFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { spansOf } from '../../src/world/index.js';
import { ownFolder, runHere } from '../cli/run-here.js';
import { dayOfADoor, textOnTheRig } from './on-the-rig.js';

const ask = { wakes: true, limitSeconds: 20 };
const hourMs = 3_600_000;

/** Lines that a C++ firmware prints in a day with a wake every six hours. */
async function printedBy(text: string): Promise<readonly string[]> {
  const rig = await textOnTheRig(text, 'one test', 'firmware.cpp');
  const run = rig.run(dayOfADoor(), ask);
  expect(run.failure).toBeNull();
  return run.printed.trim().split('\n');
}

describe('constructors', () => {
  it('of retained objects run at each wake, and constant initial values apply at power-on only', async () => {
    const lines = await printedBy(`
      static int start() { volatile int zero = 0; return zero; }
      struct Built { int checks; Built() : checks(start()) {} };
      struct Constant { int checks = 0; };
      DW_RETAINED static Built built;
      DW_RETAINED static Constant constant;
      void dw_wake(dw_cause) {
        built.checks++; constant.checks++;
        printf("%d %d\\n", built.checks, constant.checks);
        dw_contact_is_open(); dw_sleep_ms(6 * 3600000);
      }`);
    expect(lines).toEqual(['1 1', '1 2', '1 3', '1 4']);
  });

  it('see what is retained, as those do that look for a mark before they clear', async () => {
    const lines = await printedBy(`
      DW_RETAINED static volatile uint32_t mark = 0;
      DW_RETAINED static volatile int checks = 77;
      struct State { State() { if (mark != 0x51a7u) { mark = 0x51a7u; checks = 0; } } };
      static State state;
      void dw_wake(dw_cause) { checks = checks + 1; printf("%d\\n", checks); dw_contact_is_open(); dw_sleep_ms(6 * 3600000); }`);
    expect(lines).toEqual(['1', '2', '3', '4']);
  });

  it('may take memory, which is that of the wake', async () => {
    const lines = await printedBy(`
      #include <vector>
      #include <string>
      static std::vector<int> table(1000, 7);
      static std::string place = "the drying room of the seed bank";
      void dw_wake(dw_cause) {
        table.push_back(1); place += '.';
        printf("%d %d %d\\n", (int)table.size(), table[999], (int)place.size());
        dw_contact_is_open(); dw_sleep_ms(6 * 3600000);
      }`);
    expect(lines).toEqual(Array.from({ length: 4 }, () => '1001 7 33'));
  });

  it('of retained objects that keep their contents in the heap are warned of, by name', async () => {
    const folder = ownFolder();
    writeFileSync(
      path.join(folder, 'state.cpp'),
      `#include "dozewatch_rig.h"
#include <string>
#include <vector>
struct Log { int count; std::vector<int> instants; };
DW_RETAINED std::string place;
DW_RETAINED Log kept;
DW_RETAINED int plain_number = 0;
void dw_wake(dw_cause) { place += 'x'; kept.instants.push_back(++plain_number); dw_contact_is_open(); dw_sleep_ms(120000); }
`,
    );
    writeFileSync(path.join(folder, 'day.yaml'), 'name: a day\nlength: 1d\ndoor: []\n');
    const environment = { PATH: process.env['PATH'] ?? '' };
    const { stderr, stdout } = await runHere(folder, ['rig', 'state.cpp', 'day.yaml'], {
      environment,
    });
    expect(stderr).toMatch(/place: .*std::string.*retains-heap/su);
    expect(stderr).toMatch(/kept: .*std::vector/su);
    expect(stderr).not.toContain('plain_number');
    expect(stdout).toMatch(/word size +(?:64|32) bits/u);
  });
});

describe('a finding', () => {
  it('names what a constructor changed in the wake that decided it', async () => {
    const folder = ownFolder();
    writeFileSync(
      path.join(folder, 'state.cpp'),
      `#include "dozewatch_rig.h"
static int start() { volatile int zero = 0; return zero; }
struct Store { int open_checks; Store() : open_checks(start()) {} };
DW_RETAINED static Store store;
DW_RETAINED static int lit = 0;
void dw_wake(dw_cause) {
  store.open_checks = dw_contact_is_open() ? store.open_checks + 1 : 0;
  lit += 1;
  if (store.open_checks >= 2) dw_send_alert("open");
  dw_sleep_ms(120000);
}
`,
    );
    writeFileSync(
      path.join(folder, 'day.yaml'),
      'name: a day\nlength: 1d\ndoor: [{ at: +2h, for: 1h }]\n',
    );
    const environment = { PATH: process.env['PATH'] ?? '' };
    const { stdout } = await runHere(folder, ['rig', 'state.cpp', 'day.yaml'], { environment });
    expect(stdout).toContain(
      'A constructor ran in that wake, ahead of dw_wake, and changed store.open_checks (1 -> 0).',
    );
  });
});

describe('retained memory that nothing sets', () => {
  const text = `
    DW_RETAINED_NOINIT static uint32_t mark, checks;
    DW_RETAINED static uint32_t set = 5;
    void dw_wake(dw_cause c) {
      printf("%d %08x %u\\n", (int)c, mark, set);
      mark = 0x51a7u; checks++; set++;
      dw_contact_is_open(); dw_sleep_ms(3 * 3600000);
    }`;

  /** Of each wake: its cause, the mark and the set variable. */
  async function wakesOf(noinitKeepsMs: number, seed = '1'): Promise<readonly string[]> {
    const rig = await textOnTheRig(text);
    const experiment = dayOfADoor();
    const world = {
      ...experiment.world,
      resetsMs: Float64Array.of(4 * hourMs),
      powerLost: spansOf([
        [8 * hourMs, 8 * hourMs + 2_000],
        [12 * hourMs, 13 * hourMs],
      ]),
    };
    const { printed } = rig.run({ ...experiment, world, seed }, { ...ask, noinitKeepsMs });
    return printed.trim().split('\n');
  }

  it('holds garbage at power-on, and is kept over sleep and reset', async () => {
    const [first = '', ...rest] = await wakesOf(0);
    expect(first).toMatch(/^0 (?!000051a7)/u);
    expect(rest.slice(0, 3)).toEqual(['2 000051a7 6', '1 000051a7 7', '2 000051a7 8']);
    const again = rest.filter((line) => line.startsWith('0'));
    expect(again).toHaveLength(2);
    for (const line of again) expect(line).toMatch(/^0 (?!000051a7)\w{8} 5$/u);
    expect(await wakesOf(0)).toEqual([first, ...rest]);
  });

  it('is kept over a power loss that is shorter than what it survives', async () => {
    const wakes = await wakesOf(2_001);
    const again = wakes.slice(1).filter((line) => line.startsWith('0'));
    expect(again[0]).toBe('0 000051a7 5');
    expect(again[1]).not.toContain('51a7');
    const short = await wakesOf(2_000);
    expect(short.slice(1).find((line) => line.startsWith('0'))).not.toContain('51a7');
  });

  it('is at times all zeros or all ones', async () => {
    const marks = new Set<string>();
    const rig = await textOnTheRig(text);
    const experiment = dayOfADoor(7 * 24 * hourMs);
    const powerLost = spansOf(
      Array.from({ length: 60 }, (_, index) => [
        index * 2 * hourMs + 1_000,
        index * 2 * hourMs + 2_000 + index,
      ]),
    );
    const { printed } = rig.run({ ...experiment, world: { ...experiment.world, powerLost } }, ask);
    for (const line of printed.split('\n')) marks.add(line.split(' ')[1] ?? '');
    expect(marks).toContain('00000000');
    expect(marks).toContain('ffffffff');
    expect(marks.size).toBeGreaterThan(10);
  });
});
