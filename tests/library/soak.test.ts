// A failure that the soak finds becomes a file, and the file fails again in the same way.
import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { ownFolder } from '../cli/run-here.js';

function soak(args: readonly string[], stub: string | undefined) {
  const env = { ...process.env, DOZEWATCH_SOAK_STUB: stub };
  const script = path.resolve('scripts', 'soak.mjs');
  const { status, stdout, stderr } = spawnSync(process.execPath, [script, ...args], {
    env,
    encoding: 'utf8',
  });
  return { status, stdout, stderr };
}

describe('a failure of the soak', () => {
  it('becomes a file that fails again in the same way, until its reason is gone', () => {
    const folder = ownFolder();
    const first = soak(
      ['1h', 'nest', '--jobs', '2', '--no-growth', '--output', folder],
      'any status',
    );
    expect(first.status).toBe(1);
    const file = path.join(folder, 'dozewatch-soak-nest.json');
    const { faults }: { readonly faults: readonly string[] } = JSON.parse(
      readFileSync(file, 'utf8'),
    );
    expect(faults.length).toBeGreaterThan(0);
    const again = soak(['--replay', file], 'any status');
    expect(again.status).toBe(1);
    expect(again.stdout).toContain(faults.join('\n  '));
    expect(again.stdout).toContain('it fails again');
    expect(soak(['--replay', file], undefined)).toMatchObject({
      status: 0,
      stdout: 'soak: it does not fail any more\n',
    });
  });
});
