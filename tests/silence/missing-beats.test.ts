// Heartbeats that are missing between messages: in every gap, and none where the slowest clock explains the time.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { missingBeats } from '../../src/cli/silence/missing-beats.js';
import { type DeviceLogRow, parseWatchFile } from '../../src/scenarios/index.js';

const hourMs = 3_600_000;
const dayMs = 24 * hourMs;
const chargedMs = Date.UTC(2026, 4, 4);

function watchFileOf(text: string) {
  const result = parseWatchFile(text, 'watch.yaml');
  if (!result.ok) throw new Error(JSON.stringify(result.errors));
  return result.value;
}

const source = { file: 'messages.csv', line: 2, column: 1 };

/** A message, by its hours after the charge. */
function row(
  event: 'alert' | 'heartbeat' | 'low-battery',
  hours: number,
  delivered = true,
): DeviceLogRow {
  return { event, atMs: chargedMs + Math.round(hours * hourMs), delivered, source };
}

const every8h = watchFileOf(
  'watch: { checkInterval: 2m, heartbeatInterval: 8h }\ndevice: { clockError: -1%..1% }\n',
);
const of = (rows: readonly DeviceLogRow[], watchFile = every8h) =>
  missingBeats(rows, watchFile, { chargedMs, chargedLocalMs: 0, isDay: false });

describe('heartbeats missing before the last message', () => {
  it('count between two that came, and after the last', () => {
    const { count, gaps } = of([row('heartbeat', 8), row('heartbeat', 151), row('alert', 161)]);
    expect(count).toBe(18);
    expect(gaps.map((gap) => [gap.count, gap.beforeMs === null])).toEqual([
      [17, false],
      [1, true],
    ]);
  });

  it('count from the charge to the first that came', () => {
    expect(of([row('heartbeat', 33)]).count).toBe(3);
    expect(of([row('heartbeat', 8.1)]).count).toBe(0);
  });

  it('are as many as were taken out, wherever that is', () => {
    const everyHours = fc.double({ min: 7.93, max: 8.1, noNaN: true });
    const row8 = fc.array(everyHours, { minLength: 12, maxLength: 20 });
    fc.assert(
      fc.property(row8, fc.nat(8), fc.integer({ min: 1, max: 3 }), (steps, from, taken) => {
        let hours = 0;
        const all = steps.map((step) => {
          hours += step;
          return row('heartbeat', hours);
        });
        expect(of(all).count).toBe(0);
        expect(of(all.toSpliced(from, taken)).count).toBe(taken);
      }),
      { numRuns: 200 },
    );
  });

  it('are not replaced by a low-battery message or an alert, and those that failed did not come', () => {
    expect(of([row('heartbeat', 8), row('low-battery', 15), row('heartbeat', 24.1)]).count).toBe(1);
    expect(of([row('heartbeat', 8), row('alert', 15), row('heartbeat', 24.1)]).count).toBe(1);
    expect(of([row('heartbeat', 8), row('heartbeat', 16, false), row('heartbeat', 24)]).count).toBe(
      1,
    );
  });

  it('do not count one that a slower clock or another message makes late', () => {
    const after = row('heartbeat', 8 + 8.15);
    expect(of([row('heartbeat', 8), after]).count).toBe(0);
    expect(of([row('heartbeat', 8), row('heartbeat', 8 + 16.3)]).count).toBe(1);
    expect(of([row('heartbeat', 8), row('alert', 8 + 8.1), after]).count).toBe(0);
  });

  it('allow for a charge whose hour, or day, is not known', () => {
    const from = (hours: number, isDay: boolean) =>
      missingBeats([row('heartbeat', hours)], every8h, { chargedMs, chargedLocalMs: 0, isDay })
        .count;
    expect([from(9, false), from(10, false), from(32, true), from(33, true)]).toEqual([0, 1, 0, 3]);
  });

  it('of messages before the charge are not of this charge', () => {
    expect(of([row('heartbeat', -90), row('heartbeat', 7)]).count).toBe(0);
  });

  it('of a watch that sends none are none', () => {
    const none = watchFileOf('watch: { checkInterval: 2m }\n');
    expect(of([row('alert', 300)], none).count).toBe(0);
  });

  it('of a watch that holds count from its probable reset', () => {
    const holds = (answer: string) =>
      watchFileOf(
        `watch: { checkInterval: 2m, heartbeatInterval: 1d, afterAlert: hold-until-reset, alertCooldown: 0s }\nanswer: { afterAlert: ${answer} }\n`,
      );
    const rows = [row('alert', 20), row('alert', 20 + 24 * 6)];
    expect(of(rows, holds('1h')).count).toBe(5);
    expect(of(rows, holds('3d')).count).toBe(2);
    expect(of(rows, holds('7d')).count).toBe(0);
    expect(of([row('alert', 2 + dayMs / hourMs)], holds('1h')).count).toBe(1);
  });
});
