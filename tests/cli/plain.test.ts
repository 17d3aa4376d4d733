import { describe, expect, it } from 'vitest';
import { counted, numberText, plain } from '../../src/base/index.js';
import { columnsOf, plainCut } from '../../src/wording/index.js';

describe('text on its way to a terminal', () => {
  it('keeps letters of any script', () => {
    const text = 'Kühlraum 冷蔵室 – дверь 🚪';
    expect(plain(text)).toBe(text);
  });

  it('shows escapes and other controls in place of obeying them', () => {
    expect(plain('\u001b[2Jgone\u0007\r\n')).toBe('␛[2Jgone␇␍␊');
    expect(plain('a\u007fb\u009bc')).toBe('a␡b\ufffdc');
  });

  it('lets nothing reorder or hide what follows', () => {
    expect(plain('a\u202eb\u2066c\u200fd\u2028e\ufefff')).toBe('a�b�c�d�e�f');
  });

  it('replaces halves of surrogate pairs and keeps whole ones', () => {
    expect(plain('\ud83d x 🚪')).toBe('\ufffd x 🚪');
  });

  it('cuts to a width in columns, not in characters', () => {
    expect(plainCut('abcdef', 6)).toBe('abcdef');
    expect(plainCut('abcdefg', 6)).toBe('abcde…');
    expect(plainCut('冷蔵室の扉', 6)).toBe('冷蔵…');
    expect(columnsOf(plainCut('冷蔵室の扉'.repeat(100_000), 20))).toBeLessThanOrEqual(20);
  });

  it('counts in words', () => {
    expect(counted(1, 'check')).toBe('1 check');
    expect(counted(0, 'check')).toBe('0 checks');
    expect(numberText(9_999)).toBe('9999');
    expect(numberText(1_234_567)).toBe('1,234,567');
  });
});
