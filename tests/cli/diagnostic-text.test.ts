import { describe, expect, it } from 'vitest';
import type { Diagnostic } from '../../src/base/index.js';
import { diagnosticText } from '../../src/cli/layout/diagnostic-text.js';
import { paint } from '../../src/cli/layout/paint.js';

const bare = { paint: paint(false), width: 100 };

const unitless: Diagnostic = {
  code: 'duration-without-unit',
  severity: 'error',
  source: { file: 'watch.yaml', line: 2, column: 18 },
  message: 'a bare number is not a duration',
  found: '3',
  expected: 'a duration, such as 3m',
  hint: 'write 3s, 3m or 3h',
};

describe('a diagnostic', () => {
  it('says where and what, shows the line with a caret, then what to do', () => {
    expect(diagnosticText(unitless, '  checkInterval: 3', bare)).toBe(
      [
        'error: watch.yaml:2:18: a bare number is not a duration [duration-without-unit]',
        '  2 |   checkInterval: 3',
        '    |                  ^',
        '  found:     3',
        '  expected:  a duration, such as 3m',
        '  hint:      write 3s, 3m or 3h',
        '',
      ].join('\n'),
    );
  });

  it('does without the line where there is none', () => {
    const option = { ...unitless, source: { file: '--power-on-at' } };
    expect(diagnosticText(option, undefined, bare).split('\n')[0]).toBe(
      'error: --power-on-at: a bare number is not a duration [duration-without-unit]',
    );
  });

  it('names standard input in words', () => {
    const piped = { ...unitless, source: { file: '-', line: 7 } };
    expect(diagnosticText(piped, undefined, bare)).toMatch(/^error: standard input:7: /u);
  });

  it('puts the caret under its character behind tabs and wide letters', () => {
    const at = { ...unitless, source: { file: 'a', line: 1, column: 5 } };
    const [, line, caret] = diagnosticText(at, '\t冷蔵 x', bare).split('\n');
    expect(line).toBe('  1 |  冷蔵 x');
    expect(caret).toBe('    |       ^');
  });

  it('shows the part of a long line in which the trouble is', () => {
    const column = 5_000;
    const line = `${'x'.repeat(column - 1)}!${'y'.repeat(5_000)}`;
    const at = { ...unitless, source: { file: 'a', line: 1, column } };
    const [, shown, caret] = diagnosticText(at, line, bare).split('\n');
    expect(shown?.length).toBeLessThan(120);
    expect(shown?.charAt(caret?.indexOf('^') ?? 0)).toBe('!');
  });

  it('obeys no control character of the input', () => {
    const evil = { ...unitless, message: 'a\u001b[31m', found: '\u001b]0;x\u0007' };
    expect(diagnosticText(evil, 'x: \u001b[2J', bare)).not.toMatch(/[^\P{Cc}\n]/u);
  });
});
