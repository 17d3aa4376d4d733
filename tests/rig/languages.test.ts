// Firmware that is no file for this rig: in another language, for another platform, or built by a command of its owner.
import { spawnSync } from 'node:child_process';
import { cpSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { ownFolder, runHere } from '../cli/run-here.js';

const environment = { PATH: process.env['PATH'] ?? '', HOME: process.env['HOME'] ?? '' };
const example = path.resolve('assets/rig/example');

const watch = `watch:
  checkInterval: 2m
  recheckInterval: 2m
  escalationThreshold: 2
  alertCooldown: 30m
  retry: { interval: 1m, attempts: 5 }
judge: { leaveOpenAfter: 5m }
`;
/** With an outage over an alert, a reset and a power loss while it waits for one, and a door that shuts again. */
const day = `name: a day at the goose house
length: 1d
door: [{ at: +1h, for: 3h }, { at: +6h, for: 40s }, { at: +8h, for: 20m }, { at: +12h, for: 1h }]
network: [{ down: +8h, for: 10m }, { down: +12h, for: 30m }]
resets: [{ at: +12h10m, kind: button }]
power: [{ lost: +12h20m, for: 1m }]
`;

function folderOfExample(): string {
  const folder = ownFolder();
  cpSync(example, folder, { recursive: true });
  writeFileSync(path.join(folder, 'watch.yaml'), watch);
  writeFileSync(path.join(folder, 'day.yaml'), day);
  return folder;
}

const run = (folder: string, words: readonly string[]) =>
  runHere(folder, ['rig', ...words], { environment });

describe('a firmware in another language', () => {
  it.for([
    ['node', 'hatch.mjs'],
    ['python3', 'hatch.py'],
  ])(
    '%s decides like the machine of the watch file',
    async ([program = '', file = ''], { skip }) => {
      if (spawnSync(program, ['--version']).status !== 0) skip(`there is no ${program} here`);
      const folder = folderOfExample();
      const words = ['--process', `${program} ${file}`, 'day.yaml', '-c', 'watch.yaml'];
      const conform = await run(folder, [...words, '--conform']);
      expect(conform.stdout).toContain('no difference');
      expect(conform.status).toBe(0);
      const { status, stdout } = await run(folder, [...words, '--json']);
      expect(status).toBe(0);
      const [{ summary, firmware }] = JSON.parse(stdout).replays;
      expect(summary).toMatchObject({ leaveOpens: 3, reported: 3, missed: 0, falseAlarms: 0 });
      expect(firmware).toMatchObject({ wordBits: null, failure: null });
    },
  );

  it('shows what it retains, and breaks where it ends, asks for something unknown, or asks too soon', async () => {
    const folder = folderOfExample();
    const script = (name: string, answers: string): void => {
      writeFileSync(
        path.join(folder, name),
        `read wake\n${answers}\nwhile read wake; do echo sleep 120000; done\n`,
      );
    };
    script('ends.sh', 'exit 0');
    script('unknown.sh', 'echo open sesame; sleep 1');
    script('twice.sh', 'printf "contact\\ncontact\\n"; sleep 1');
    for (const [file, what] of [
      ['ends.sh', 'its process ended'],
      ['unknown.sh', 'does not have'],
      ['twice.sh', 'before it was answered'],
    ] as const) {
      const { status, stdout } = await run(folder, [
        '--process',
        `sh ${file}`,
        'day.yaml',
        '-c',
        'watch.yaml',
      ]);
      expect(status).toBe(1);
      expect(stdout).toContain(what);
      expect(stdout).toContain('[breaks-protocol]');
    }
  });
});

describe('a program of two functions for another platform', () => {
  it('of 60 lines is ported in less than 30, with the wrapper that rig writes', async () => {
    const folder = folderOfExample();
    const lines = (file: string): number =>
      readFileSync(path.join(folder, file), 'utf8').trimEnd().split('\n').length;
    expect(lines('hatch.c')).toBeGreaterThanOrEqual(58);
    expect(lines('marsh.h')).toBeLessThan(30);
    const written = await run(folder, ['--adapter', 'wrapper.c']);
    expect(written.status).toBe(0);
    const words = ['hatch.c', 'wrapper.c', 'day.yaml', '-c', 'watch.yaml'];
    const conform = await run(folder, [...words, '--conform', '--tolerance', '1s']);
    expect(conform.stdout).toContain('no difference');
    expect((await run(folder, words)).status).toBe(0);
  });

  it('may name its functions otherwise, and be in C++', async () => {
    const folder = folderOfExample();
    expect((await run(folder, ['--adapter', 'wrapper.cpp'])).status).toBe(0);
    writeFileSync(
      path.join(folder, 'steps.cpp'),
      `#include "dozewatch_rig.h"
static bool open_now;
void begin() { open_now = dw_contact_is_open() != 0; }
void step() { static int steps; if (++steps == 3) dw_sleep_ms(120000); if (open_now && steps == 1) dw_send_alert("open"); dw_delay_ms(10); }
`,
    );
    const names = ['-D', 'ONCE=begin', '-D', 'REPEATED=step'];
    const { status, stdout } = await run(folder, [
      'steps.cpp',
      'wrapper.cpp',
      'day.yaml',
      '-c',
      'watch.yaml',
      '--json',
      ...names,
    ]);
    expect(status).toBe(0);
    expect(JSON.parse(stdout).replays[0]).toMatchObject({
      firmware: { failure: null },
      summary: { missed: 0 },
    });
  });

  it('is refused with an ending that no compiler knows, and together with a firmware', async () => {
    const folder = folderOfExample();
    expect((await run(folder, ['--adapter', 'wrapper.txt'])).status).toBe(2);
    expect((await run(folder, ['hatch.c', '--adapter', 'wrapper.c'])).status).toBe(2);
    expect((await run(folder, ['--build', 'true', '--process', 'true', 'day.yaml'])).status).toBe(
      2,
    );
    expect((await run(folder, [])).status).toBe(2);
  });
});

describe('a build command of one’s own', () => {
  it('makes the program that is run', async () => {
    const folder = folderOfExample();
    await run(folder, ['--adapter', 'wrapper.c']);
    writeFileSync(
      path.join(folder, 'build.sh'),
      'cc $DW_FLAGS -Wno-unused-function hatch.c wrapper.c "$DW_HOST" $DW_LIBS -o "$DW_OUT"\n',
    );
    const words = ['--build', 'sh build.sh', 'day.yaml', '-c', 'watch.yaml', '--json'];
    const { status, stdout } = await run(folder, words);
    expect(status).toBe(0);
    expect(JSON.parse(stdout).replays[0].summary).toMatchObject({ reported: 3, missed: 0 });
  });

  it('that fails, or makes nothing, is an error that says what it has to do', async () => {
    const folder = folderOfExample();
    for (const command of ['echo broken >&2; exit 3', 'true']) {
      const { status, stderr } = await run(folder, [
        '--build',
        command,
        'day.yaml',
        '-c',
        'watch.yaml',
      ]);
      expect(status).toBe(2);
      expect(stderr).toContain('build-failed');
      expect(stderr).toContain('$DW_OUT');
    }
  });
});
