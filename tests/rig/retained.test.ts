// What a firmware retains, by name and type, read from the program that it is compiled into.
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { compileFirmware } from '../../src/cli/rig/compile-firmware.js';
import {
  partsOf,
  type Reading,
  readingOf,
  readingText,
  retainedVariables,
} from '../../src/rig/index.js';
import { sectionsOf } from '../../src/rig/retained/elf.js';
import { ioOf } from '../cli/run-here.js';

const environment = { PATH: process.env['PATH'] ?? '' };

const c = `#include "dozewatch_rig.h"
#include <stdbool.h>
typedef enum { CALM, UNEASY = 5, ALARMED = -1 } mood;
struct kept {
  mood now;
  uint8_t recent[6];
  bool unsent;
  unsigned tries : 3;
  int spare : 4;
  float volts;
  char place[8];
  int16_t grid[2][3];
  union { uint32_t whole; uint8_t first; };
  void *next;
  int8_t trend[3];
  signed char step;
  char marks[4];
  char name[6];
};
DW_RETAINED static struct kept kept = {
  UNEASY, {1, 1, 0, 0, 0, 0}, true, 5, -2, 2.5f, "hatch", {{1, 2, 3}, {4, 5, -6}}, {258}, 0,
  {1, 0, -1}, -7, {1, 0, 1, 1}, "d\\303\\270r" };
DW_RETAINED volatile uint32_t wakes = 4000000000u;
DW_RETAINED int64_t sent_at = INT64_MIN;
DW_RETAINED static mood last = ALARMED;
void dw_wake(dw_cause cause)
{
  DW_RETAINED static uint8_t runs_inside = 3;
  runs_inside += 1;
  wakes += kept.tries + (uint32_t)last + (uint32_t)sent_at;
  dw_sleep_ms(60000);
}
`;

const cpp = `#include "dozewatch_rig.h"
#include <array>
namespace {
struct Counter { int8_t value; };
DW_RETAINED std::array<uint8_t, 3> last{{4, 5, 5}};
class Memory : public Counter { public: bool sent; enum class Phase : uint8_t { Idle, Warned } phase; static int shared; };
DW_RETAINED Memory memory = {{-3}, true, Memory::Phase::Warned};
}
DW_RETAINED int Memory::shared = 7;
void dw_wake(dw_cause) { memory.value++; last[0]++; Memory::shared++; dw_sleep_ms(60000); }
`;

/** Initial values of what the program of a firmware retains; null where it does not tell. */
async function initially(name: string, text: string): Promise<Record<string, Reading> | null> {
  const folder = mkdtempSync(path.join(tmpdir(), 'dozewatch-test-'));
  writeFileSync(path.join(folder, name), text);
  const compiled = await compileFirmware(path.join(folder, name), ioOf(folder, { environment }));
  try {
    const variables = compiled.retained();
    const bytes = sectionsOf(readFileSync(compiled.program))?.get('dw_retained')?.bytes;
    if (bytes === undefined) throw new Error('nothing is retained');
    return (
      variables && Object.fromEntries(variables.map((one) => [one.name, readingOf(bytes, one)]))
    );
  } finally {
    compiled.remove();
    rmSync(folder, { recursive: true, force: true });
  }
}

// Programs of another format tell nothing, and are shown as bytes.
describe.skipIf(process.platform === 'darwin')('retained variables', () => {
  it('of C are read by name and type, static ones and those of functions included', async () => {
    expect(await initially('state.c', c)).toEqual({
      kept: {
        now: 'UNEASY',
        recent: [1, 1, 0, 0, 0, 0],
        unsent: true,
        tries: 5,
        spare: -2,
        volts: 2.5,
        place: 'hatch',
        grid: [
          [1, 2, 3],
          [4, 5, -6],
        ],
        whole: 258,
        first: 2,
        next: null,
        trend: [1, 0, -1],
        step: -7,
        marks: [1, 0, 1, 1],
        name: 'dør',
      },
      wakes: 4_000_000_000,
      sent_at: '-9223372036854775808',
      last: 'ALARMED',
      runs_inside: 3,
    });
  });

  it('of a program of 32 bits are read in the same way', ({ skip }) => {
    const folder = mkdtempSync(path.join(tmpdir(), 'dozewatch-test-'));
    try {
      const text = c.replace('#include <stdbool.h>', '#include <stdbool.h>\n#include <stdint.h>');
      writeFileSync(path.join(folder, 'state.c'), text);
      // Without the C library, which machines often lack for words of this size: nothing is run.
      const words =
        '-m32 -march=i686 -ffreestanding -nostdlib -nostartfiles -static -fno-pie -no-pie -g -gdwarf-4 -O1 -Wl,-e,dw_wake -Wl,--unresolved-symbols=ignore-all';
      const made = spawnSync(
        'cc',
        [...words.split(' '), `-I${path.resolve('assets/rig')}`, 'state.c', '-o', 'state'],
        { cwd: folder, encoding: 'utf8' },
      );
      if (made.status !== 0) skip('this compiler makes no programs of 32 bits');
      const program = readFileSync(path.join(folder, 'state'));
      const bytes = sectionsOf(program)?.get('dw_retained')?.bytes ?? expect.fail('it is there');
      const variables = retainedVariables(program) ?? expect.fail('they have names');
      const readings = variables.map((one): [string, Reading] => [one.name, readingOf(bytes, one)]);
      expect(Object.fromEntries(readings)).toMatchObject({
        kept: { now: 'UNEASY', place: 'hatch', next: null, volts: 2.5 },
        wakes: 4_000_000_000,
        sent_at: '-9223372036854775808',
        last: 'ALARMED',
      });
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  });

  it('of C++ are read with what their classes inherit', async () => {
    expect(await initially('state.cpp', cpp)).toEqual({
      memory: { value: -3, sent: true, phase: 'Warned' },
      shared: 7,
      last: [4, 5, 5],
    });
  });

  it('are unknown of what is no program, or is cut short', async () => {
    expect(retainedVariables(new Uint8Array(0))).toBeNull();
    expect(
      retainedVariables(
        Buffer.from('\u007fELF and no more of it, but long enough for a head'.repeat(3)),
      ),
    ).toBeNull();
    const folder = mkdtempSync(path.join(tmpdir(), 'dozewatch-test-'));
    writeFileSync(path.join(folder, 'state.c'), c);
    const compiled = await compileFirmware('state.c', ioOf(folder, { environment }));
    const program = readFileSync(compiled.program);
    compiled.remove();
    rmSync(folder, { recursive: true, force: true });
    for (let part = 1; part < 16; part += 1) {
      const cut = program.subarray(0, Math.floor((program.length * part) / 16));
      expect(() => retainedVariables(cut)).not.toThrow();
    }
  });

  it('have a line for each member, and runs of like items are counted', () => {
    const parts = partsOf('kept', { now: 'CALM', deep: { list: [1, 0, 0, 0] }, none: null });
    expect(parts.map(([name, reading]) => `${name} ${readingText(reading)}`)).toEqual([
      'kept.now CALM',
      'kept.deep.list [1, 0 × 3]',
      'kept.none null',
    ]);
  });
});
