// Tables in the room that a terminal has.
import { describe, expect, it } from 'vitest';
import { tableText } from '../../src/cli/layout/table-text.js';
import { columnsOf } from '../../src/wording/index.js';

const columns = [
  { title: 'sleep between checks', align: 'right' },
  { title: 'wakes on' },
  { title: 'false alarms' },
] as const;

function linesOf(cells: readonly string[], width: number): readonly string[] {
  const text = [...tableText(columns, [{ cells, below: [] }], width)].join('');
  return text.trimEnd().split('\n');
}

const short = ['3 min', 'opening', '0.6 (0.31 to 1.05)'];

describe('a table', () => {
  it('stands on one line a row where there is room', () => {
    expect(linesOf(short, 80)).toEqual([
      '  sleep between checks  wakes on  false alarms',
      '                 3 min  opening   0.6 (0.31 to 1.05)',
    ]);
  });

  it('breaks headings first, and no wider than need be', () => {
    expect(linesOf(short, 45)).toEqual([
      '  sleep between  wakes on  false alarms',
      '         checks',
      '          3 min  opening   0.6 (0.31 to 1.05)',
    ]);
  });

  it('breaks cells between words next', () => {
    expect(linesOf(short, 36)).toEqual([
      '    sleep  wakes    false alarms',
      '  between  on',
      '   checks',
      '    3 min  opening  0.6 (0.31 to',
      '                    1.05)',
    ]);
  });

  it('breaks words where nothing else helps, wide letters counted as such', () => {
    const cells = ['23 h 59 min 59 s', 'a-very-long-name-without-a-blank', '扉'.repeat(40)];
    for (const width of [30, 40, 60, 80]) {
      for (const line of linesOf(cells, width)) expect(columnsOf(line)).toBeLessThanOrEqual(width);
    }
  });
});
