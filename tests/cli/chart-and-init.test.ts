// `dozewatch chart` and `dozewatch init`, in this process.
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { codesIn, filesIn, ownFolder, runHere } from './run-here.js';
import { exactWatch, missedDay } from './scenes.js';

const files = { 'watch.yaml': exactWatch, 'missed.yaml': missedDay };
const chart = ['chart', 'missed.yaml', '-c', 'watch.yaml'];

describe('dozewatch chart', () => {
  it('prints SVG, and nothing else, unless told where to', async () => {
    const { status, stdout, stderr } = await runHere(ownFolder(files), chart);
    expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
    expect(stdout).toMatch(/^(?:<\?xml[^>]*>\s*)?<svg[\s\S]*<\/svg>\s*$/u);
  });

  it('writes SVG or PNG, says so with the verdict, and judges nothing', async () => {
    const folder = ownFolder(files);
    const ran = await runHere(folder, [...chart, '-o', 'a.svg']);
    expect(ran.status).toBe(0);
    expect(ran.stdout).toContain(
      'a.svg: Hatch left ajar: the one leave-open was MISSED; no false alarm. Proved: 1 of 2 requirements is NOT met at rest',
    );
    await runHere(folder, [...chart, '-o', 'a.PNG']);
    expect(readFileSync(path.join(folder, 'a.PNG')).subarray(1, 4).toString()).toBe('PNG');
    expect(filesIn(folder)).toEqual(['a.PNG', 'a.svg', 'missed.yaml', 'watch.yaml']);
  });

  it('gives the reason of each close-up, also where milder findings come before it', async () => {
    const scenario =
      'name: Two hatches\nstart: 2026-05-08T06:00:00+02:00\nlength: 6h\n' +
      'door: [{ at: "07:00", for: 30m }, { at: "09:00", for: 1h }]\n' +
      'network: [{ down: "07:00", for: 20m }]\ncontact: [{ stuck: shut, at: "08:30", for: 2h }]\n';
    const watch = 'judge: { leaveOpenAfter: 3m, reportWithin: 5m }\n';
    const folder = ownFolder({ 'day.yaml': scenario, 'watch.yaml': watch });
    const { stdout } = await runHere(folder, ['chart', 'day.yaml', '--close-ups', '1']);
    expect(stdout).toContain('checks came while it was open, but the contact read shut each time.');
    expect(stdout).not.toContain('too late: the alert was decided');
    const both = await runHere(folder, ['chart', 'day.yaml', '--close-ups', '2']);
    expect(both.stdout).toContain('too late: the alert was decided');
  });

  it('writes what an option asks for, whatever the name says', async () => {
    const folder = ownFolder(files);
    const dump = await runHere(folder, [...chart, '--vcd']);
    expect(dump.stdout).toMatch(/^\$date 2026-05-08T[\s\S]*\n#\d+\n$/u);
    await runHere(folder, [...chart, '-o', 'a.vcd']);
    expect(readFileSync(path.join(folder, 'a.vcd'), 'utf8')).toBe(dump.stdout);
    await runHere(folder, [...chart, '--png', '-o', 'picture']);
    expect(readFileSync(path.join(folder, 'picture')).subarray(1, 4).toString()).toBe('PNG');
    const two = await runHere(folder, [...chart, '--png', '--vcd']);
    expect([two.status, codesIn(two.stderr)]).toEqual([2, ['formats-exclude']]);
  });

  it('gives the same bytes every time, as SVG and as PNG', async () => {
    const folder = ownFolder(files);
    for (const name of ['a.svg', 'b.svg', 'a.png', 'b.png'])
      await runHere(folder, [...chart, '-o', name]);
    const read = (name: string): Buffer => readFileSync(path.join(folder, name));
    expect(read('a.svg').equals(read('b.svg'))).toBe(true);
    expect(read('a.png').equals(read('b.png'))).toBe(true);
  });

  it('heeds width, title and theme', async () => {
    const folder = ownFolder(files);
    const plain = await runHere(folder, chart);
    const wide = await runHere(folder, [...chart, '--width', '1600', '--title', 'The <hatch>']);
    expect(wide.stdout).toMatch(/<svg[^>]* width="1600"/u);
    expect(wide.stdout).toContain('The &lt;hatch');
    const dark = await runHere(folder, [...chart, '--dark']);
    expect(dark.stdout).not.toBe(plain.stdout);
  });

  it('prints what it wrote as JSON', async () => {
    const { stdout } = await runHere(ownFolder(files), [...chart, '-o', 'a.svg', '--json']);
    expect(JSON.parse(stdout)).toMatchObject({
      schema: 'dozewatch/chart/1',
      written: ['a.svg'],
      summary: { missed: 1 },
    });
  });

  it.each([
    ['unknown-picture', ['-o', 'a.gif']],
    ['output-is-input', ['-o', 'missed.yaml']],
    ['output-is-stdout', ['--json']],
    ['cannot-write', ['-o', 'watch.yaml/a.svg']],
  ])('refuses with %s: %j', async (code, args) => {
    const folder = ownFolder(files);
    const { status, stdout, stderr } = await runHere(folder, [...chart, ...args]);
    expect({ status, stdout }).toEqual({ status: 2, stdout: '' });
    expect(codesIn(stderr)).toEqual([code]);
    expect(filesIn(folder)).toEqual(['missed.yaml', 'watch.yaml']);
  });
});

const initFiles = [
  '.dozewatch/scenario.schema.json',
  '.dozewatch/watch.schema.json',
  'first-scenario.yaml',
  'watch.yaml',
];

describe('dozewatch init', () => {
  it('writes files that replay at once, and name the schemas beside them', async () => {
    const folder = ownFolder();
    const { status, stdout } = await runHere(folder, ['init']);
    expect(status).toBe(0);
    expect(filesIn(folder)).toEqual(initFiles);
    const lines = stdout.split('\n').filter((line) => line.startsWith('  dozewatch '));
    expect(lines.length).toBeGreaterThan(1);
    for (const name of ['watch', 'scenario']) {
      const file = name === 'watch' ? 'watch.yaml' : 'first-scenario.yaml';
      const [first] = readFileSync(path.join(folder, file), 'utf8').split('\n');
      const schema = /\$schema=(\S+)/u.exec(first ?? '')?.[1] ?? '';
      const text = readFileSync(path.join(folder, schema), 'utf8');
      expect(JSON.parse(text).$schema).toMatch(/json-schema/u);
    }
    const replayed = await runHere(folder, ['replay', 'first-scenario.yaml', '-c', 'watch.yaml']);
    expect(replayed.stderr).toBe('');
    expect([0, 1]).toContain(replayed.status);
    const suite = await runHere(folder, ['suite', '.']);
    expect(suite.status).toBe(0);
  });

  it('overwrites nothing, and writes nothing at all then, unless forced', async () => {
    for (const name of ['watch.yaml', 'first-scenario.yaml']) {
      const folder = ownFolder({ [`hut/${name}`]: 'mine' });
      const refused = await runHere(folder, ['init', 'hut']);
      expect(refused.status).toBe(2);
      expect(codesIn(refused.stderr)).toEqual(['file-exists']);
      expect(filesIn(folder)).toEqual([`hut/${name}`]);
      expect(readFileSync(path.join(folder, 'hut', name), 'utf8')).toBe('mine');
      expect((await runHere(folder, ['init', 'hut', '--force'])).status).toBe(0);
      expect(readFileSync(path.join(folder, 'hut', name), 'utf8')).not.toBe('mine');
    }
  });

  it('prints what it wrote as JSON', async () => {
    const { stdout } = await runHere(ownFolder(), ['init', 'a/b', '--json']);
    expect(JSON.parse(stdout)).toEqual({
      schema: 'dozewatch/init/1',
      written: initFiles.map((name) => `a/b/${name}`).sort((a, b) => (a < b ? -1 : 1)),
    });
  });

  it('says so where it cannot write', async () => {
    const folder = ownFolder({ file: 'x' });
    const { status, stderr } = await runHere(folder, ['init', 'file']);
    expect(status).toBe(2);
    expect(codesIn(stderr)).toEqual(['cannot-write']);
    expect(filesIn(folder)).toEqual(['file']);
  });
});
