// `dozewatch emit`, in this process.
import { execFileSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { codesIn, filesIn, ownFolder, runHere } from '../cli/run-here.js';
import { strict } from './compiled.js';

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
      stdout: 'Wrote out/hatch.h\nWrote out/hatch.c\nWrote out/hatch_rig.c\n',
      stderr: '',
    });
    const source = path.join(folder, 'out/hatch.c');
    execFileSync('cc', [...strict, '-c', '-o', path.join(folder, 'hatch.o'), source]);
    expect(readFileSync(source, 'utf8')).toContain('/* 1: just woken; seen shut */');
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
    const refused = await runHere(folder, ['emit', 'c', '-c', 'watch.yaml']);
    expect(refused.status).toBe(2);
    expect(codesIn(refused.stderr)).toEqual(['file-exists']);
    expect(filesIn(folder)).toEqual(['watch.c', 'watch.yaml']);
    const forced = await runHere(folder, ['emit', 'c', '-c', 'watch.yaml', '--force']);
    expect(forced.status).toBe(0);
  });

  it.each([
    ['bad-name', ['emit', 'c', '--name', '2hatch']],
    ['bad-name', ['emit', 'c', '--name', '../hatch']],
    ['file-missing', ['emit', 'c', '-c', 'nothing.yaml']],
  ])('refuses with %s: %s', async (code, args) => {
    const ran = await runHere(ownFolder(files), args);
    expect(ran.status).toBe(2);
    expect(codesIn(ran.stderr)).toEqual([code]);
  });

  it('writes plain comments whatever the watch file is called', async () => {
    const folder = ownFolder({ 'é*\\.yaml': files['watch.yaml'] });
    await runHere(folder, ['emit', 'c', '-c', 'é*\\.yaml']);
    execFileSync('cc', [
      ...strict,
      '-c',
      '-o',
      path.join(folder, 'w.o'),
      path.join(folder, 'watch.c'),
    ]);
  });
});
