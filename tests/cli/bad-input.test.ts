// Bad input and usage of `dozewatch replay`: exit status 2, a code that stays, nothing written.
import { existsSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { codesIn, filesIn, ownFolder, runHere } from './run-here.js';
import { calmDay, exactWatch, missedDay } from './scenes.js';

const files = { 'watch.yaml': exactWatch, 'missed.yaml': missedDay, 'calm.yaml': calmDay };
const withWatch = ['-c', 'watch.yaml'];

describe('bad input to replay', () => {
  const bad = {
    ...files,
    'unit.yaml': 'watch: { checkInterval: 3 }\n',
    'key.yaml': 'watch: { checkinterval: 3m }\n',
    'twice.yaml': 'watch: { checkInterval: 3m, checkInterval: 4m }\n',
    'bomb.yaml': 'a: &a [x, x]\nb: &b [*a, *a]\nwatch: [*b, *b]\n',
    'proto.yaml': '__proto__: { checkInterval: 3m }\n',
    'broken.json': '{ "watch": ',
    'list.yaml': '[1, 2]\n',
    'empty.yaml': '',
    'blank.yaml': '  \n\n',
    'binary.yaml': Uint8Array.of(0x7f, 0x45, 0x4c, 0x46, 0, 1),
  };

  it.each(Object.keys(bad).filter((name) => !(name in files)))(
    '%s as a watch file: 2, one clear error, no stack',
    async (name) => {
      const folder = ownFolder(bad);
      const ran = await runHere(folder, [
        'replay',
        'calm.yaml',
        '-c',
        name,
        '--json',
        '--trace',
        't.ndjson',
      ]);
      expect(ran.status).toBe(2);
      expect(ran.stdout).toBe('');
      expect(codesIn(ran.stderr).length).toBeGreaterThan(0);
      expect(ran.stderr).not.toMatch(/^\s+at |Error:/mu);
      expect(existsSync(path.join(folder, 't.ndjson'))).toBe(false);
    },
  );

  it.each(Object.keys(bad).filter((name) => !(name in files)))(
    '%s as a scenario: 2, one clear error, no stack',
    async (name) => {
      const ran = await runHere(ownFolder(bad), ['replay', 'calm.yaml', name, ...withWatch]);
      expect(ran.status).toBe(2);
      expect(ran.stdout).toBe('');
      expect(codesIn(ran.stderr).length).toBeGreaterThan(0);
      expect(ran.stderr).not.toMatch(/^\s+at |Error:/mu);
    },
  );

  it.each([
    ['duration-without-unit', ['calm.yaml', '-c', 'unit.yaml']],
    ['file-missing', ['nowhere.yaml']],
    ['file-missing', ['calm.yaml', '-c', 'nowhere.yaml']],
    ['file-is-folder', ['.']],
    ['file-not-text', ['binary.yaml']],
    ['unknown-format', ['calm.xml']],
    ['unknown-format', ['-']],
    ['standard-input-twice', ['-', '-', '--format', 'csv']],
    ['standard-input-twice', ['-', '-c', '-', '--format', 'csv']],
    ['option-for-logs', ['calm.yaml', '--zone', 'Europe/Oslo']],
    ['option-for-logs', ['calm.yaml', '--lenient']],
    ['duration-negative', ['calm.yaml', '--power-on-at', '-5s']],
    ['duration-without-unit', ['calm.yaml', '--power-on-at', '5']],
    ['one-timeline-only', ['calm.yaml', 'missed.yaml', '--trace', 't.ndjson']],
    ['one-timeline-only', ['calm.yaml', 'missed.yaml', '--chart', 't.svg']],
    ['output-is-input', ['calm.yaml', '--trace', './calm.yaml']],
    ['output-is-input', ['calm.yaml', '-c', 'watch.yaml', '--trace', 'watch.yaml']],
    ['output-is-stdout', ['calm.yaml', '--trace', '-']],
    ['unknown-picture', ['calm.yaml', '--chart', 't.gif']],
    ['cannot-write', ['calm.yaml', '--trace', 'calm.yaml/t.ndjson']],
  ])('is told as %s for %j', async (code, args) => {
    const folder = ownFolder(bad);
    const before = filesIn(folder);
    const ran = await runHere(folder, ['replay', ...args]);
    expect(ran.status).toBe(2);
    expect(codesIn(ran.stderr)).toContain(code);
    expect(ran.stdout).toBe('');
    expect(filesIn(folder)).toEqual(before);
  });
});
