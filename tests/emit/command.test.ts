// `dozewatch emit`, in this process.
import { execFileSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { codesIn, filesIn, ownFolder, runHere } from '../cli/run-here.js';
import { strict } from './emitted.js';

const files = {
  'watch.yaml': 'watch:\n  checkInterval: 2m\n  wakeOn: opening\n  heartbeatInterval: 1d\n',
};

describe('dozewatch emit c', () => {
  it('writes C that compiles, and writes it again over its own', async () => {
    const folder = ownFolder(files);
    const args = ['emit', 'c', '-c', 'watch.yaml', '-o', 'out', '--name', 'hatch'];
    const ran = await runHere(folder, args);
    expect(ran).toEqual({
      status: 0,
      stdout:
        'Wrote out/hatch.h\nWrote out/hatch.c\nWrote out/hatch_rig.c\n' +
        'watch.yaml: checks every 2 min; alerts after 2 open checks in a row; cooldown 30 min or until it\n' +
        'sees the door shut; the contact also wakes it (wakeOn: opening); a heartbeat every 1 d.\n\n' +
        'Next: try it, with the example of firmware around it: dozewatch rig out/hatch_rig.c --hunt -c watch.yaml\n',
      stderr: '',
    });
    const source = path.join(folder, 'out/hatch.c');
    execFileSync('cc', [...strict, '-c', '-o', path.join(folder, 'hatch.o'), source]);
    const again = await runHere(folder, [...args, '--json']);
    expect(JSON.parse(again.stdout)).toEqual({
      schema: 'dozewatch/emit/1',
      language: 'c',
      written: ['out/hatch.h', 'out/hatch.c', 'out/hatch_rig.c'],
    });
  });

  it('leaves a file alone that it did not write, unless forced to', async () => {
    const folder = ownFolder(files);
    writeFileSync(path.join(folder, 'watch.c'), 'int mine;\n');
    const refused = await runHere(folder, ['emit', 'c', '-c', 'watch.yaml', '-o', '.']);
    expect(refused.status).toBe(2);
    expect(codesIn(refused.stderr)).toEqual(['file-exists']);
    expect(filesIn(folder)).toEqual(['watch.c', 'watch.yaml']);
    const forced = await runHere(folder, ['emit', 'c', '-c', 'watch.yaml', '-o', '.', '--force']);
    expect(forced.status).toBe(0);
  });

  it.each([
    ['bad-name', ['emit', 'c', '-o', '.', '--name', '2hatch']],
    ['bad-name', ['emit', 'c', '-o', '.', '--name', '../hatch']],
    ['file-missing', ['emit', 'c', '-o', '.', '-c', 'nothing.yaml']],
  ])('refuses with %s: %s', async (code, args) => {
    const ran = await runHere(ownFolder(files), args);
    expect(ran.status).toBe(2);
    expect(codesIn(ran.stderr)).toEqual([code]);
  });

  it('writes plain comments whatever the watch file is called', async () => {
    const folder = ownFolder({ 'é*\\.yaml': files['watch.yaml'] });
    await runHere(folder, ['emit', 'c', '-o', '.', '-c', 'é*\\.yaml']);
    execFileSync('cc', [
      ...strict,
      '-c',
      '-o',
      path.join(folder, 'w.o'),
      path.join(folder, 'watch.c'),
    ]);
  });
});

describe('dozewatch emit diagram', () => {
  it('writes text that Markdown viewers draw, each step once', async () => {
    const args = ['emit', 'diagram', '-c', 'watch.yaml', '--format', 'mermaid'];
    const { stdout } = await runHere(ownFolder(files), args);
    const steps = stdout.split('\n').filter((line) => line.includes('-->'));
    expect(steps.length).toBeGreaterThan(3);
    expect(new Set(steps).size).toBe(steps.length);
  });

  it('goes by the ending of the file that it writes', async () => {
    const folder = ownFolder(files);
    for (const name of ['a.svg', 'a.png', 'a.mmd']) {
      const ran = await runHere(folder, ['emit', 'diagram', '-c', 'watch.yaml', '-o', name]);
      expect(ran.stdout).toContain(`Wrote ${name}\nwatch.yaml: checks every 2 min;`);
    }
    const starts = ['a.svg', 'a.png', 'a.mmd'].map((name) =>
      readFileSync(path.join(folder, name)).subarray(1, 5).toString('latin1'),
    );
    expect(starts).toEqual(['?xml', 'PNG\r', 'tate']);
  });

  it.each([
    ['unknown-picture', ['emit', 'diagram', '-o', 'a.gif']],
    ['option-not-for-this', ['emit', 'diagram', '--name', 'hatch']],
    ['option-not-for-this', ['emit', 'scxml', '--format', 'svg']],
    ['option-not-for-this', ['emit', 'c', '--dark']],
    ['output-is-stdout', ['emit', 'scxml', '--json']],
    ['output-is-input', ['emit', 'scxml', '-c', 'watch.yaml', '-o', 'watch.yaml']],
  ])('refuses with %s: %s', async (code, args) => {
    const folder = ownFolder(files);
    const ran = await runHere(folder, args);
    expect({ status: ran.status, stdout: ran.stdout }).toEqual({ status: 2, stdout: '' });
    expect(codesIn(ran.stderr)).toEqual([code]);
    expect(filesIn(folder)).toEqual(['watch.yaml']);
  });
});
