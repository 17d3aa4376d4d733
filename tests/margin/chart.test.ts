// The picture of a margin: what it says must be what the margin is.
import { describe, expect, it } from 'vitest';
import { marginChart } from '../../src/chart/index.js';
import { marginOf } from '../../src/margin/index.js';

const minuteMs = 60_000;

function chartOf(responseMinutes: number, outsideCelsius = 18, seenMinutes = 0): string {
  const space = {
    startCelsius: 1,
    outsideCelsius,
    limit: { celsius: 1.5, passed: 'rising' as const },
    worstDelayMs: 8 * minuteMs,
    responseMs: responseMinutes * minuteMs,
    seenAfterMs: seenMinutes * minuteMs,
  };
  const cases = [5, 9].map((hours) => ({
    name: hours === 5 ? 'door open' : 'door ajar',
    margin: marginOf({ ...space, tauMs: hours * 60 * minuteMs }),
  }));
  return marginChart({ ...space, cases });
}

describe('the picture of a margin', () => {
  // 5 h · ln(17 / 16.5) = 8 min 57 s, 9 h · ln(17 / 16.5) = 16 min 7 s (worked).
  it('shows the limit, the alert, the door shut, and who comes too late', () => {
    const svg = chartOf(5);
    expect(svg).toContain('limit 1.5 °C');
    expect(svg).toContain('alert after 8 min');
    expect(svg).toContain('door shut after 13 min');
    expect(svg).toContain('door open: 1.5 °C after 8 min 57 s');
    expect(svg).toContain('Door open: somebody comes 4 min 3 s TOO LATE.');
    expect(svg).toContain('Door ajar: somebody comes 3 min 7 s before it is at 1.5 °C.');
    expect(svg.split('dw-asked-missed"').length - 1).toBe(1);
    expect(svg.split('dw-asked-told"').length - 1).toBe(1);
  });

  it('counts the time until somebody sees the message', () => {
    const svg = chartOf(3, 18, 2);
    expect(svg).toContain('door shut after 13 min');
    expect(svg).not.toContain('door shut after 11 min');
    expect(svg).toContain('Door open: somebody comes 4 min 3 s TOO LATE.');
  });

  it('of a limit that is never reached has no flag for it', () => {
    const svg = chartOf(5, 1.2);
    expect(svg).toContain('1.5 °C is never reached');
    expect(svg).not.toContain('1.5 °C after');
  });
});
