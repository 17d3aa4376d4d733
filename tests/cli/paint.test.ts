import { describe, expect, it } from 'vitest';
import { paint, wantsColour } from '../../src/cli/layout/paint.js';

describe('colour', () => {
  const terminal = { isTerminal: true, option: true, environment: {} };
  const pipe = { ...terminal, isTerminal: false };

  it('is for terminals', () => {
    expect(wantsColour(terminal)).toBe(true);
    expect(wantsColour(pipe)).toBe(false);
    expect(wantsColour({ ...terminal, environment: { TERM: 'dumb' } })).toBe(false);
  });

  it('heeds NO_COLOR when it is not empty, and --no-color', () => {
    expect(wantsColour({ ...terminal, environment: { NO_COLOR: '1' } })).toBe(false);
    expect(wantsColour({ ...terminal, environment: { NO_COLOR: '' } })).toBe(true);
    expect(wantsColour({ ...terminal, option: false })).toBe(false);
  });

  it('heeds FORCE_COLOR, unless something says no', () => {
    expect(wantsColour({ ...pipe, environment: { FORCE_COLOR: '1' } })).toBe(true);
    expect(wantsColour({ ...terminal, environment: { FORCE_COLOR: '0' } })).toBe(false);
    expect(wantsColour({ ...pipe, environment: { FORCE_COLOR: '1', NO_COLOR: '1' } })).toBe(false);
  });

  it('leaves text as it is where there is none', () => {
    expect(paint(false).bad('x')).toBe('x');
    expect(paint(true).bad('x')).toBe('\u001b[31mx\u001b[39m');
  });
});
