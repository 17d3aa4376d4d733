// Words in the width of the terminal. What is to be copied whole, tables and pictures of characters stay as they are.
import { describe, expect, it } from 'vitest';
import { wrapped } from '../../src/cli/layout/print.js';
import { ownFolder, runHere } from './run-here.js';

const files = {
  'watch.yaml':
    'watch: { checkInterval: 3m }\njudge: { leaveOpenAfter: 3m }\nsupply: { preset: bare-board, capacity: 1200mAh }\n',
  'day.yaml':
    'name: A day\nstart: 2026-05-08T06:00:00+02:00\nlength: 6h\ndoor: [{ at: "07:30", for: 22m }]\n',
};

describe('on a terminal', () => {
  it.each([
    ['bounds', '-c', 'watch.yaml', '--outage', '1h'],
    ['hunt', '-c', 'watch.yaml', '--seed', '1'],
    ['replay', 'day.yaml', '-c', 'watch.yaml'],
    ['battery', '-c', 'watch.yaml'],
    ['estimate', ...'-c watch.yaml --profile seed-bank --years 5'.split(' ')],
    ['margin', ...'-c watch.yaml --start 1C --outside 18C --limit 5C --tau-open 5h'.split(' ')],
  ])('no words are wider than it: %s', async (...args) => {
    for (const terminalColumns of [60, 80]) {
      const { stdout } = await runHere(ownFolder(files), args, { terminalColumns });
      const shown = stdout.replaceAll(/\u001B\[[\d;]*m/gu, '').split('\n');
      expect(shown.length).toBeGreaterThan(5);
      expect(shown.filter((line) => line.length > terminalColumns)).toEqual([]);
    }
  });

  it('a table of many columns fits: settings stand in words below what they lead to', async () => {
    const args = ['tune', ...'-c watch.yaml --profile seed-bank --years 1 --jobs 1'.split(' ')];
    const tried =
      '--interval 2m,3m --threshold 2 --cooldown 5m,30m --sure-from 1h --worst-delay 1h';
    for (const terminalColumns of [60, 80, 160]) {
      const folder = ownFolder(files);
      const { stdout } = await runHere(folder, [...args, ...tried.split(' ')], { terminalColumns });
      const shown = stdout.replaceAll(/\u001B\[[\d;]*m/gu, '').split('\n');
      const rows = shown.slice(shown.findIndex((line) => line.startsWith('Settings that')));
      expect(rows.length).toBeGreaterThan(4);
      const wide = rows.filter((line) => line.length > terminalColumns);
      expect(wide.filter((line) => !line.includes('dozewatch tune'))).toEqual([]);
      const below = rows.filter((line) => /^ +check [23] min, .* wakes on \w+$/u.test(line));
      expect(below.length > 1).toBe(terminalColumns === 80);
    }
  });

  it('what to run next has a line of its own where it does not fit behind its reason', () => {
    const line = 'Next: what these settings can miss: dozewatch bounds -c watch.yaml';
    expect(wrapped(line, 80)).toBe(line);
    expect(wrapped(line, 40)).toBe(
      'Next: what these settings can miss:\n  dozewatch bounds -c watch.yaml',
    );
    expect(wrapped(line, 20)).toBe(
      'Next: what these\nsettings can miss:\n  dozewatch bounds -c watch.yaml',
    );
  });

  it('errors, warnings and help keep to it too, a long excerpt with its caret', async () => {
    const own = {
      'watch.yaml': `watch: { checkInterval: 3s, escalationThreshold: 2, alertCooldown: 20s, clearThreshold: 1, wakeOn: never }\n`,
    };
    for (const args of [
      ['bounds', 'watch.yaml'],
      ['hunt', '--property', 'bogus'],
      ['verify', '--help'],
    ]) {
      const { stdout, stderr } = await runHere(ownFolder(own), args, { terminalColumns: 80 });
      const shown = (stdout + stderr).replaceAll(/\u001B\[[\d;]*m/gu, '').split('\n');
      expect(shown.length).toBeGreaterThan(2);
      expect(shown.filter((line) => line.length > 80 && !line.includes('dozewatch '))).toEqual([]);
    }
  });

  it('help that was broken for a wider terminal is broken again, with no short lines between', async () => {
    const { stdout } = await runHere(ownFolder(), ['verify', '--help'], { terminalColumns: 80 });
    const [, words = ''] = /^(The certificate lists[^]*?)\n\n/mu.exec(stdout) ?? [];
    const lines = words.split('\n');
    expect(lines.length).toBeGreaterThanOrEqual(3);
    expect(lines.slice(0, -1).filter((line) => line.length < 60)).toEqual([]);
  });

  it('a file has the words as they are', async () => {
    const { stdout } = await runHere(ownFolder(files), ['hunt', '-c', 'watch.yaml', '--seed', '1']);
    expect(stdout).toMatch(/^Why: .{80,}$/mu);
  });

  it('words go on as far in as they began, and what is to be copied is left whole', () => {
    expect(wrapped('  the door was left open\n', 14)).toBe('  the door was\n  left open\n');
    const command = 'Try: dozewatch hunt -c watch.yaml';
    expect(wrapped(command, 12)).toBe(command);
    expect(wrapped('one  two  three', 8)).toBe('one  two  three');
  });

  it('words after a label stay right of it, as long as it takes no more than half the line', () => {
    expect(wrapped('FOUND  an alert that nobody got', 16)).toBe(
      'FOUND  an alert\n       that\n       nobody\n       got',
    );
    expect(wrapped('  checks  none: only messages', 22)).toBe(
      '  checks  none: only\n          messages',
    );
    expect(wrapped('Again:   npx dozewatch hunt --seed 1', 20)).toBe(
      'Again:   npx dozewatch hunt --seed 1',
    );
    const wide = 'nothing of this  fits';
    expect(wrapped(wide, 20)).toBe(wide);
  });

  it('a proof to run has a line of its own after the sentence before it', () => {
    expect(wrapped('It proves nothing. For a proof: dozewatch bounds -c a.yaml', 40)).toBe(
      'It proves nothing. For a proof:\n  dozewatch bounds -c a.yaml',
    );
  });
});
