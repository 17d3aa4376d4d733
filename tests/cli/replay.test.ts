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
    expect(JSON.parse(ran.stdout).summary).toMatchObject({
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
    expect(hopes.stdout).toMatch(/alerts: wanted .*2, got 1/u);
    const knows = await runHere(folder, ['replay', 'knows.yaml', ...withWatch]);
    expect(knows.status).toBe(1);
    expect(knows.stdout).toContain('What the scenario expects: all met');
  });

  it('is that of the worst of several', async () => {
    const args = ['replay', 'calm.yaml', 'false.yaml', 'reported.yaml', ...withWatch];
    const { status, stdout } = await runHere(ownFolder(files), args);
    expect(status).toBe(1);
    expect(stdout).toMatch(/3 timelines, 2 of them without a finding\.\n$/u);
  });
});

describe('the report of replay', () => {
  it('begins with the verdict in one line, then the numbers', async () => {
    const { stdout } = await runHere(ownFolder(files), ['replay', 'missed.yaml', ...withWatch]);
    const [verdict, blank, ...rest] = stdout.split('\n');
    expect(verdict).toBe('Hatch left ajar: the one leave-open was MISSED; no false alarm.');
    expect(blank).toBe('');
    const text = rest.join('\n');
    for (const words of [
      /^ {2}leave-opens +1 /mu,
      /^ {2}reported +0$/mu,
      /^ {2}late +0 /mu,
      /^ {2}MISSED +1$/mu,
      /^ {2}FALSE ALARMS +0, of 0 alerts$/mu,
      /^ {2}worst detection latency +none/mu,
      /^ {2}battery life +not worked out/mu,
    ]) {
      expect(text).toMatch(words);
    }
  });

  it('gives each leave-open in local time, with its note, and says why one was missed', async () => {
    const folder = ownFolder(files);
    const missed = await runHere(folder, ['replay', 'missed.yaml', ...withWatch]);
    expect(missed.stdout).toMatch(
      /^ +1 +Fri 2026-05-08 06:01:41 +06:04:51 +3 min 10 s +MISSED +never\n +why: \S/mu,
    );
    const reported = await runHere(folder, ['replay', 'reported.yaml', ...withWatch]);
    expect(reported.stdout).toMatch(
      /^ +1 +Fri 2026-05-08 06:02:30 +06:12:30 +10 min +reported +2 min 30 s\n +note: wedged$/mu,
    );
  });

  it('gives each alert in local time, and says why one was false', async () => {
    const { stdout } = await runHere(ownFolder(files), ['replay', 'false.yaml', ...withWatch]);
    expect(stdout).toMatch(
      /^ +1 +Fri 2026-05-08 06:05:00 +06:05:00 +FALSE +1 +no\. 1\n +why: \S/mu,
    );
  });

  it('says so when the defaults apply', async () => {
    const { stdout } = await runHere(ownFolder(files), ['replay', 'calm.yaml']);
    expect(stdout).toMatch(/^ {2}watch file +none given: the defaults apply$/mu);
  });

  it('cuts long tables with a count, keeps the bad rows, and shows all on demand', async () => {
    // Thirty openings that are told of, then one that is missed.
    const told = Array.from(
      { length: 30 },
      (_, index) => `  - { at: +${index * 30 + 1}m, for: 10m }`,
    );
    const door = [...told, '  - { at: +60001s, for: 181s }'].join('\n');
    const folder = ownFolder({ ...files, 'long.yaml': `name: Long\nlength: 1d\ndoor:\n${door}\n` });
    const slow = exactWatch.replace('100s', '120s');
    const args = ['replay', 'long.yaml', '-c', '-'];
    const cut = await runHere(folder, args, { stdin: slow });
    expect(cut.stdout.match(/^ +\d+ +Mon .* reported /gmu)).toHaveLength(19);
    expect(cut.stdout.match(/^ +31 +Mon .* MISSED /gmu)).toHaveLength(1);
    expect(cut.stdout).toMatch(
      /^ {2}… and 11 more, 0 of them missed or late \(--all shows every one\)$/mu,
    );
    const all = await runHere(folder, [...args, '--all'], { stdin: slow });
    expect(all.stdout.match(/^ +\d+ +Mon .* reported /gmu)).toHaveLength(30);
    expect(all.stdout).not.toContain('… and');
  });

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

  it('fits a narrow terminal', async () => {
    const folder = ownFolder(files);
    const args = ['replay', 'missed.yaml', '--no-color', ...withWatch];
    const { stdout } = await runHere(folder, args, { terminalColumns: 60 });
    const lines = stdout.split('\n').slice(1);
    expect(Math.max(...lines.map((line) => line.length))).toBeLessThanOrEqual(80);
  });
});
