// Compilers that are slow, missing or no compilers at all: told at once, in words, and nothing is left of them.
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdirSync, readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { text } from 'node:stream/consumers';
import { beforeAll, describe, expect, it } from 'vitest';
import { ensureBuilt, root } from '../../scripts/support/set-up.mjs';
import { runCompiler } from '../../src/cli/rig/run-compiler.js';
import { codesIn, ownFolder, runHere } from './run-here.js';

const PATH = process.env['PATH'] ?? '';
const files = {
  'sound.c': readFileSync(path.join(root, 'tests', 'firmware', 'default-watch.c')),
  'day.yaml': `name: A day of the goose-house hatch
start: 2026-05-08T06:00:00+02:00
length: 6h
door: [ at 08:00 for 25m, at 10:00 for 30s ]
`,
  // Takes its time, and has a helper that does so, too.
  'slow.sh': '#!/bin/sh\necho $$ >> shell.pid\nsleep 100 & echo $! >> helper.pid\nsleep 100\n',
};

/**
 * Whether any of the processes in a list runs: a compiler may have been started more than once. A process is known by its
 * command, since its number may be given to another one soon; one that has ended has no command.
 */
function isAlive(folder: string, name: string, command: string): boolean {
  const numbers = readFileSync(path.join(folder, name), 'utf8').split('\n').filter(Boolean);
  return numbers.some((pid) => {
    try {
      return readFileSync(`/proc/${pid}/cmdline`, 'utf8').includes(command);
    } catch {
      return false;
    }
  });
}

async function untilWritten(folder: string, name: string): Promise<void> {
  await expect.poll(() => readFileSync(path.join(folder, name), 'utf8')).toMatch(/\n$/u);
}

describe('a compiler that takes too long', () => {
  it('is ended with its helpers', async () => {
    const folder = ownFolder(files);
    const ended = await runCompiler(
      ['sh', 'slow.sh'],
      { folder, temporary: folder, environment: { PATH } },
      2_000,
    );
    expect(ended).toMatchObject({ status: null, tookTooLong: true, notRun: null });
    await expect.poll(() => isAlive(folder, 'helper.pid', 'sleep')).toBe(false);
  });
});

describe('the built program', () => {
  beforeAll(async () => ensureBuilt(), 120_000);
  const start = (folder: string, CC: string, temporary: string) =>
    spawn(
      process.execPath,
      [path.join(root, 'dist', 'cli.js'), 'rig', 'sound.c', 'day.yaml', '--no-color'],
      { cwd: folder, env: { PATH, CC, TMPDIR: temporary }, stdio: 'pipe' },
    );

  it('ends as soon as it has said that there is no compiler', async () => {
    const folder = ownFolder(files);
    const child = start(folder, '/nonexistent', folder);
    const stderr = text(child.stderr);
    const [code] = await once(child, 'close');
    expect(code).toBe(2);
    expect(codesIn(await stderr)).toEqual(['no-compiler']);
  });

  it.each([
    ['SIGHUP', 129],
    ['SIGINT', 130],
    ['SIGTERM', 143],
  ] as const)('leaves no compiler and no file on %s', async (signal, wanted) => {
    const folder = ownFolder(files);
    const temporary = path.join(folder, 'temporary');
    mkdirSync(temporary);
    const child = start(folder, 'sh slow.sh', temporary);
    await untilWritten(folder, 'helper.pid');
    child.kill(signal);
    const [code] = await once(child, 'close');
    expect(code).toBe(wanted);
    await expect.poll(() => isAlive(folder, 'helper.pid', 'sleep')).toBe(false);
    await expect.poll(() => isAlive(folder, 'shell.pid', 'slow.sh')).toBe(false);
    expect(readdirSync(temporary)).toEqual([]);
  });
});

describe('what is named as a compiler and is none', () => {
  it.each([
    ['true', 'does-not-compile', 'the compiler produced no output and gave no reason'],
    ['false', 'does-not-compile', 'the compiler produced no output and gave no reason'],
    ['/etc/passwd', 'no-compiler', 'cannot be run (EACCES)'],
    ['./missing', 'no-compiler', 'no C compiler was found'],
  ])('%s is told as %s', async (CC, code, words) => {
    const { status, stderr } = await runHere(ownFolder(files), ['rig', 'sound.c', 'day.yaml'], {
      environment: { PATH, CC },
    });
    expect(status).toBe(2);
    expect(codesIn(stderr)).toEqual([code]);
    expect(stderr.replaceAll(/\s+/gu, ' ')).toContain(words);
  });
});

describe('a compiler with options of its owner', () => {
  const text = `#include "dozewatch_rig.h"
#include <math.h>
DW_RETAINED static double minutes = 2.5;
void dw_wake(dw_cause cause) { (void)dw_contact_is_open(); minutes = fmin(minutes + 1.0, 3.0); dw_sleep_ms((uint64_t)llround(minutes * 60000.0)); }
`;
  it.each(['cc -std=c99 -pedantic -Werror', 'cc -std=c11 -O2', 'cc -O3'])(
    '%s compiles a firmware that computes with <math.h>',
    async (CC) => {
      const folder = ownFolder({ ...files, 'math.c': text });
      const { stdout, stderr } = await runHere(folder, ['rig', 'math.c', 'day.yaml', '--json'], {
        environment: { PATH, CC },
      });
      expect(stderr).toBe('watch file: none found, so the defaults apply\n');
      expect(JSON.parse(stdout)).toMatchObject({ replays: [{ firmware: { failure: null } }] });
    },
  );
});
