// Firmware of several files, and with words of 32 bits: what wraps on a device wraps here.
import { spawnSync } from 'node:child_process';
import { mkdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { ownFolder, runHere } from '../cli/run-here.js';

const environment = { PATH: process.env['PATH'] ?? '' };

/** Why programs with words of 32 bits cannot be tried here; null: they can. */
function whyNotNarrow(): string | null {
  const folder = ownFolder();
  writeFileSync(path.join(folder, 'a.c'), 'int main(void) { return 42; }\n');
  const links = spawnSync('cc', ['-m32', 'a.c', '-o', 'a'], { cwd: folder }).status === 0;
  if (!links) return 'this compiler has no 32-bit libraries: install gcc-multilib';
  const ran = spawnSync(path.join(folder, 'a'));
  return ran.status === 42 ? null : 'the operating system of this machine runs no 32-bit programs';
}

/** Its last alert is an instant in an `unsigned long`: after 49.7 days of 32 bits it lies ahead. */
function folderOfFirmware(): string {
  const folder = ownFolder();
  const write = (name: string, text: string): void => {
    writeFileSync(path.join(folder, name), text);
  };
  mkdirSync(path.join(folder, 'include'));
  write('include/hatch.h', '#include "dozewatch_rig.h"\nint hatch_is_open(void);\n');
  write(
    'hatch.c',
    '#include "hatch.h"\nint hatch_is_open(void) { return dw_contact_is_open(); }\n',
  );
  write(
    'main.c',
    `#include "hatch.h"
DW_RETAINED static unsigned long last_ms = 0;
DW_RETAINED static uint64_t wide = 0;
DW_RETAINED static int count = 0, had = 0;
void dw_wake(dw_cause cause) {
  unsigned long now = (unsigned long)dw_clock_ms();
  count = hatch_is_open() ? count + 1 : 0;
  if (count >= 2 && (!had || now > last_ms + 600000ul) && dw_send_alert("open")) { last_ms = now; had = 1; }
  dw_sleep_ms(CHECK_MS + (cause == DW_TIMER ? wide : 0));
}
`,
  );
  write(
    'late.yaml',
    'name: late\nlength: 60d\ndoor: [{ at: +49d, for: 20m }, { at: +50d, for: 20m }]\n',
  );
  return folder;
}

const words = ['rig', 'main.c', 'hatch.c', 'late.yaml', '-I', 'include', '-D', 'CHECK_MS=120000u'];

describe('firmware of several files', () => {
  it('is compiled with its folders and macros, and a long in it is named', async () => {
    const { status, stderr } = await runHere(folderOfFirmware(), words, { environment });
    expect(status).toBe(0);
    expect(stderr).toMatch(/last_ms, now: .*long-is-wider/su);
    expect(stderr).not.toContain('wide:');
  });

  it('misses what a counter of 32 bits misses, with words of that size', async ({ skip }) => {
    const why = whyNotNarrow();
    if (why !== null) skip(why);
    const run = await runHere(folderOfFirmware(), [...words, '--word-size', '32', '--json'], {
      environment,
    });
    expect(run.status).toBe(1);
    expect(JSON.parse(run.stdout)).toMatchObject({ replays: [{ summary: { missed: 1 } }] });
  });

  it('is refused with words of 32 bits where such programs cannot be built or run', async ({
    skip,
  }) => {
    if (whyNotNarrow() === null) skip('they run here');
    const run = await runHere(folderOfFirmware(), [...words, '--word-size', '32'], { environment });
    expect(run.status).toBe(2);
    expect(run.stderr).toMatch(/does-not-compile|word-size-unrunnable/u);
  });
});
