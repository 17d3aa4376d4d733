// Firmware that counts in whole seconds agrees with the machine within a second, and the report says so.
import { writeFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { ownFolder, runHere } from '../cli/run-here.js';

const environment = { PATH: process.env['PATH'] ?? '' };

/** It sleeps up to whole seconds of its clock, and sends with half a second of delay. */
const inSeconds = `#include "dozewatch_rig.h"
DW_RETAINED static uint8_t open_checks = 0;
DW_RETAINED static uint8_t has_sent = 0;
void dw_wake(dw_cause cause)
{
    (void)cause;
    if (!dw_contact_is_open()) { open_checks = 0; has_sent = 0; }
    else if (open_checks < 2) open_checks += 1;
    if (open_checks == 2 && !has_sent) { dw_delay_ms(500); has_sent = (uint8_t)dw_send_alert("open"); }
    dw_sleep_ms(120000u - dw_clock_ms() % 1000u);
}
`;

function folderOf(watch: string): string {
  const folder = ownFolder();
  writeFileSync(path.join(folder, 'f.c'), inSeconds);
  writeFileSync(path.join(folder, 'watch.yaml'), watch);
  writeFileSync(
    path.join(folder, 'day.yaml'),
    'name: a day\nlength: 12h\ndoor: [{ at: +1h, for: 20m }, { at: +5h, for: 20m }]\n',
  );
  return folder;
}

const watch =
  'watch: { checkInterval: 2m, recheckInterval: 2m, alertCooldown: 30m }\njudge: { leaveOpenAfter: 5m }\n';

describe('the tolerance', () => {
  it('is what makes a firmware in whole seconds agree with the machine', async () => {
    const folder = folderOf(watch);
    const words = ['rig', 'f.c', 'day.yaml', '--conform', '-c', 'watch.yaml'];
    const exact = await runHere(folder, words, { environment });
    expect(exact.status).toBe(1);
    expect(exact.stdout).toContain('--tolerance 1s');
    expect(exact.stdout).toContain(
      'Next: dozewatch rig f.c day.yaml -c watch.yaml --trace wakes.ndjson',
    );
    const tolerant = await runHere(folder, [...words, '--tolerance', '1s'], { environment });
    expect(tolerant).toMatchObject({ status: 0 });
    const less = await runHere(folder, [...words, '--tolerance', '399ms'], { environment });
    expect(less.status).toBe(1);
    expect(less.stdout).not.toMatch(/--tolerance 1s[^.]*accepts/su);
  });

  it('puts off a deadline', async () => {
    // The alert of the first opening arrives 4.5 s after the check that decides it.
    const folder = folderOf(watch);
    const words = ['rig', 'f.c', 'day.yaml', '-c', 'watch.yaml', '--json'];
    const { stdout } = await runHere(folder, words, { environment });
    const { worstDelayMs } = JSON.parse(stdout).replays[0].summary;
    writeFileSync(
      path.join(folder, 'watch.yaml'),
      watch.replace(
        'leaveOpenAfter: 5m',
        `leaveOpenAfter: 5m, reportWithin: ${String(worstDelayMs - 700)}ms`,
      ),
    );
    const late = await runHere(folder, words.slice(0, -1), { environment });
    expect(late.status).toBe(1);
    expect(late.stdout).toMatch(/--tolerance 1s, .*accepts\s+it/su);
    // The machine of the watch file is later still.
    expect(late.stdout).toContain('not from this firmware.\nNext: dozewatch bounds -c watch.yaml');
    const put = await runHere(folder, [...words.slice(0, -1), '--tolerance', '700ms'], {
      environment,
    });
    expect(put.status).toBe(0);
    const less = await runHere(folder, [...words.slice(0, -1), '--tolerance', '699ms'], {
      environment,
    });
    expect(less.status).toBe(1);
  });
});
