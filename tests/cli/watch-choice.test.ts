// Which watch a command line runs: the file that is named, the one that is found, or the defaults.
import { describe, expect, it } from 'vitest';
import { ownFolder, runHere } from './run-here.js';

const files = {
  'watch.yaml': 'watch: { checkInterval: 1m }\n',
  'other.yaml': 'watch: { checkInterval: 90s }\n',
  'store/watch.yaml': 'watch: { checkInterval: 30s }\n',
  'store/ajar.yaml': 'length: 1h\ndoor: [at +10m for 6m]\n',
  'hatch/ajar.yaml': 'length: 1h\ndoor: [at +10m for 6m]\n',
};

async function watchOf(args: readonly string[], given: Readonly<Record<string, string>> = files) {
  const ran = await runHere(ownFolder(given), [...args, '--json']);
  const { watch, replays } = JSON.parse(ran.stdout);
  return { ...watch, name: replays[0].name, said: ran.stderr };
}

describe('the watch of a command line', () => {
  it('is the one beside the first timeline', async () => {
    const found = await watchOf(['replay', 'store/ajar.yaml', 'hatch/ajar.yaml']);
    expect(found.file).toBe('store/watch.yaml');
    expect(found.settings.watch.checkInterval).toBe('30s');
    expect(found.said).toMatch(/^watch file: store\/watch\.yaml \(found beside the timeline/u);
  });

  it('is else the one in the current folder, else the defaults', async () => {
    expect((await watchOf(['replay', 'hatch/ajar.yaml'])).file).toBe('watch.yaml');
    const alone = { 'hatch/ajar.yaml': files['hatch/ajar.yaml'] };
    const defaults = await watchOf(['replay', 'hatch/ajar.yaml'], alone);
    expect(defaults).toMatchObject({ file: null, said: '', name: 'ajar' });
    expect(defaults.settings.watch.checkInterval).toBe('2m');
  });

  it('is the one that is named, or the defaults with --no-config', async () => {
    const named = await watchOf(['replay', 'store/ajar.yaml', '-c', 'other.yaml']);
    expect(named).toMatchObject({ file: 'other.yaml', said: '' });
    const none = await watchOf(['replay', 'store/ajar.yaml', '--no-config']);
    expect(none).toMatchObject({ file: null, said: '' });
  });

  it('is found by commands without a timeline', async () => {
    const folder = ownFolder(files);
    const found = await runHere(folder, ['bounds', '--json']);
    expect(JSON.parse(found.stdout).file).toBe('watch.yaml');
    const none = await runHere(folder, ['bounds', '--json', '--no-config']);
    expect(JSON.parse(none.stdout)).toMatchObject({
      file: null,
      asked: { leaveOpenAfterMs: null },
    });
    const emitted = await runHere(folder, ['emit', 'c', '-o', 'out']);
    expect(emitted.stderr).toContain('watch file: watch.yaml');
  });

  it('of a suite is the nearest, unless --no-config is given', async () => {
    const folder = ownFolder({
      ...files,
      'store/quick.yaml': 'length: 1h\ndoor: [at +10m for 90s]\nexpect: { alerts: 1 }\n',
    });
    expect((await runHere(folder, ['suite', 'store'])).status).toBe(0);
    expect((await runHere(folder, ['suite', 'store', '--no-config'])).status).toBe(1);
  });
});

it('shows the first ten errors of a file, and counts the rest', async () => {
  const rows = Array.from(
    { length: 40 },
    (_, index) => `2026-05-08T06:${String(10 + index)}:30Z,2026-05-08T06:${String(10 + index)}:10Z`,
  );
  const folder = ownFolder({ 'back.csv': `start,end\n${rows.join('\n')}\n` });
  const { stderr, status } = await runHere(folder, ['replay', 'back.csv']);
  expect(status).toBe(2);
  expect(stderr.match(/^error: .*ends-before-start/gmu)).toHaveLength(10);
  expect(stderr).toMatch(/more errors/u);
});
