// Bounds of the built program: long searches run beside the command.
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import path from 'node:path';
import { text } from 'node:stream/consumers';
import { setTimeout } from 'node:timers/promises';
import { beforeAll, describe, expect, it } from 'vitest';
import { ensureBuilt, root } from '../../scripts/support/set-up.mjs';
import { filesIn, ownFolder, runHere } from './run-here.js';

const program = path.join(root, 'dist', 'cli.js');

beforeAll(async () => ensureBuilt(), 120_000);

function start(folder: string, args: readonly string[]) {
  return spawn(process.execPath, [program, ...args], { cwd: folder, stdio: 'pipe' });
}

describe('bounds of the built program', () => {
  it('are the same from a worker, for one watch and for several', async () => {
    const watch = 'watch: { alertCooldown: 0s }\nenvironment: { resets: 1 }\n';
    const folder = ownFolder({ 'a.yaml': watch, 'b.yaml': watch.replace('0s', '5m') });
    for (const files of [['a.yaml'], ['a.yaml', 'b.yaml']]) {
      const child = start(folder, ['bounds', ...files, '--json']);
      const [stdout] = await Promise.all([text(child.stdout), once(child, 'close')]);
      expect(stdout).toBe((await runHere(folder, ['bounds', ...files, '--json'])).stdout);
      expect(child.exitCode).toBe(1);
    }
  });

  it('can be interrupted while they are sought, and leave nothing behind', async () => {
    // Minutes of searching: nobody waits for its end.
    const watch = `watch: { escalationThreshold: { open: 5, outOf: 10 }, clearThreshold: 5 }
device: { clockError: { min: -2%, max: 2% }, connectTime: { min: 1s, max: 9s } }
environment: { longestOutage: 2h, powerLosses: 3, resets: 3, longestChatter: 1h }
`;
    const folder = ownFolder();
    const child = start(folder, ['bounds', '-', '--witness', 'wit', '--chart', 'a.svg']);
    // More than a pipe holds: once all of it is taken, the program is up and reading.
    const comment = `# ${'x'.repeat(100)}\n`.repeat(8_000);
    await new Promise((resolve) => child.stdin.end(watch + comment, () => resolve(null)));
    await setTimeout(1_000);
    child.kill('SIGINT');
    // On a busy machine it still reads: then the signal itself ends it, which a shell also shows as 130.
    const [code, signal] = await once(child, 'close');
    expect([130, 'SIGINT']).toContain(code ?? signal);
    expect(filesIn(folder)).toEqual([]);
  }, 60_000);
});
