// `dozewatch replay` from files to exit status, in this process.
import { describe, expect, it } from 'vitest';
import { ownFolder, runHere } from './run-here.js';
import { calmDay, exactWatch, falseDay, missedDay, reportedDay } from './scenes.js';

const files = {
  'watch.yaml': exactWatch,
  'reported.yaml': reportedDay,
  'missed.yaml': missedDay,
  'false.yaml': falseDay,
  'calm.yaml': calmDay,
};
const withWatch = ['-c', 'watch.yaml'];

describe('the exit status of replay', () => {
  it.each([
    ['calm.yaml', 0],
    ['reported.yaml', 0],
    ['missed.yaml', 1],
    ['false.yaml', 1],
  ])('for %s is %i', async (name, wanted) => {
    const { status, stderr } = await runHere(ownFolder(files), ['replay', name, ...withWatch]);
    expect(status).toBe(wanted);
    expect(stderr).toBe('');
  });

  it('is 1 for a leave-open told too late', async () => {
    const watch = exactWatch.replace('reportWithin: 5m', 'reportWithin: 149s');
    const folder = ownFolder({ ...files, 'strict.yaml': watch });
    const ran = await runHere(folder, ['replay', 'reported.yaml', '-c', 'strict.yaml', '--json']);
    expect(ran.status).toBe(1);
    expect(JSON.parse(ran.stdout).replays[0].summary).toMatchObject({
      late: 1,
      reported: 0,
      worstDelayMs: 150_000,
    });
  });

  it('is 1 when an expectation is unmet, and for a miss even where one was expected', async () => {
    const folder = ownFolder({
      ...files,
      'hopes.yaml': `${reportedDay}expect: { alerts: 2 }\n`,
      'knows.yaml': `${missedDay}expect: { missed: 1 }\n`,
    });
    const hopes = await runHere(folder, ['replay', 'hopes.yaml', ...withWatch]);
    expect(hopes.status).toBe(1);
    const knows = await runHere(folder, ['replay', 'knows.yaml', ...withWatch]);
    expect(knows.status).toBe(1);
  });

  it('is that of the worst of several', async () => {
    const args = ['replay', 'calm.yaml', 'false.yaml', 'reported.yaml', ...withWatch];
    const { status } = await runHere(ownFolder(files), args);
    expect(status).toBe(1);
  });
});

describe('the report of replay', () => {
  it('obeys no control character of its input, in any language', async () => {
    const name = '"冷蔵室 \\e[2J\\a\\u202e‮ 🚪"';
    const folder = ownFolder({
      ...files,
      'evil.yaml': reportedDay.replace('Trolley through the hatch', name),
    });
    const { stdout, status } = await runHere(folder, ['replay', 'evil.yaml', ...withWatch]);
    expect(stdout).not.toMatch(/[^\P{Cc}\n]|\p{Bidi_Control}/u);
    expect([0, 2]).toContain(status);
  });

  it('colours on a terminal only, and not when told not to', async () => {
    const folder = ownFolder(files);
    const args = ['replay', 'missed.yaml', ...withWatch];
    const escape = '\u001b[';
    expect((await runHere(folder, args)).stdout).not.toContain(escape);
    expect((await runHere(folder, args, { terminalColumns: 100 })).stdout).toContain(escape);
    const told = { terminalColumns: 100, environment: { NO_COLOR: '1' } };
    expect((await runHere(folder, args, told)).stdout).not.toContain(escape);
    const option = [...args, '--no-color'];
    expect((await runHere(folder, option, { terminalColumns: 100 })).stdout).not.toContain(escape);
  });
});
