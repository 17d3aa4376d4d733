// Each lane's marks against the trace that they stand for.
import { describe, expect, it } from 'vitest';
import { deviceMs, ppm, trueMs, um } from '../../src/base/index.js';
import {
  contactEdgesOf,
  idealContactEdges,
  openingsOf,
  spansOf,
  withFaults,
} from '../../src/world/index.js';
import { asked, experimentOf, timingWith } from '../support/experiments.js';
import { chartCase, draw, hourMs, marks, minuteMs, ofClass, printed, titleOf } from './drawn.js';

/** Two hours in which nearly everything happens. */
const eventful = chartCase(
  experimentOf(
    {
      lengthMs: 2 * hourMs,
      openings: [
        [10 * minuteMs, 11 * minuteMs],
        [20 * minuteMs, 45 * minuteMs],
        [80 * minuteMs, 95 * minuteMs],
      ],
      networkDown: [[22 * minuteMs, 30 * minuteMs]],
      powerLost: [[60 * minuteMs, 63 * minuteMs]],
      resetsMs: [100 * minuteMs],
    },
    { watch: { heartbeats: true, heartbeatIntervalMs: deviceMs(2_000_000) } },
  ),
);

/** The instants that a folded trace stands for. */
function checkCounts({ trace }: typeof eventful) {
  const counts = { open: 0, shut: 0 };
  for (const { check, repeats } of trace.wakes) {
    if (check !== null) counts[check.contact] += 1 + repeats;
  }
  return counts;
}

describe('the lanes of a strip', () => {
  const all = draw(eventful);

  it('show every check once, by what it read', () => {
    const counts = checkCounts(eventful);
    expect(counts.open).toBeGreaterThan(3);
    expect(marks(all, 'check-open')).toHaveLength(counts.open);
    expect(marks(all, 'check-shut')).toHaveLength(counts.shut);
  });

  it('show every opening with its outcome', () => {
    expect(marks(all, 'brief')).toHaveLength(1);
    expect(marks(all, 'reported')).toHaveLength(2);
  });

  it('show every alert by its kind and every attempt by how it went', () => {
    const sends = eventful.trace.tally.alertSends;
    expect(sends.failed).toBeGreaterThan(2);
    expect(marks(all, 'failed').length + marks(all, 'failed-tick').length).toBe(sends.failed);
    expect(marks(all, 'delivered')).toHaveLength(sends.delivered);
    expect(marks(all, 'mark')).toHaveLength(eventful.trace.alerts.length);
    expect(ofClass(all, 'pending').length).toBe(eventful.trace.alerts.length + 1);
  });

  it('show heartbeats, outages, power losses, resets and cooldowns', () => {
    const { heartbeatSends } = eventful.trace.tally;
    expect(heartbeatSends.delivered).toBeGreaterThan(0);
    expect(marks(all, 'heartbeat')).toHaveLength(
      heartbeatSends.delivered + heartbeatSends.failed + heartbeatSends.cutOff,
    );
    expect(marks(all, 'network').map(titleOf)).toEqual(['network down: Mon 4 May 00:22:00, 8 min']);
    expect(marks(all, 'power').map(titleOf)).toEqual(['no power: Mon 4 May 01:00:00, 3 min']);
    expect(marks(all, 'reset').map(titleOf)).toEqual(['Reset: Mon 4 May 01:40:00']);
    expect(marks(all, 'cooldown')).toHaveLength(2);
  });

  it('dimension the worst detection latency in words', () => {
    const { worstDelayMs } = eventful.verdict.summary;
    expect(worstDelayMs).not.toBeNull();
    const titles = ofClass(all, 'dimension').map(titleOf);
    expect(titles).toHaveLength(1);
    expect(titles[0]).toMatch(/^Worst detection latency: \d+ min [\d.]+ s$/u);
    expect(printed(all).filter((words) => words.startsWith('worst latency '))).toHaveLength(1);
  });

  it('name in the legend what appears, and nothing else', () => {
    const words = printed(all);
    expect(words).toContain('heartbeat');
    expect(words).toContain('attempt, failed');
    expect(words).not.toContain('attempt, cut off');
    expect(words).not.toContain('false alarm');
    expect(words).not.toContain('leave-open, missed');
  });
});

describe('retained memory in a strip', () => {
  it('shows each remembered check as a pip: open ones, and shut ones since', () => {
    const given = chartCase(
      experimentOf(
        {
          lengthMs: 40 * minuteMs,
          openings: [
            [2 * minuteMs, 8 * minuteMs],
            [11 * minuteMs, 14 * minuteMs],
          ],
        },
        { watch: { escalationThreshold: { open: 3, outOf: 4 }, clearThreshold: 3 } },
      ),
    );
    const memories = given.trace.wakes.map(({ memoryAfter }) => memoryAfter.recentChecks);
    const all = draw(given);
    const remembered = marks(all, 'memory').map(titleOf);
    const distinct = memories.filter((bits, index) => bits !== 0 && bits !== memories[index - 1]);
    expect(distinct.length).toBeGreaterThan(4);
    expect(remembered).toHaveLength(distinct.length);
    const ones = distinct.map((bits) => bits.toString(2).replaceAll('0', '').length);
    // One more of each in the legend.
    expect(ofClass(all, 'pip-open')).toHaveLength(ones.reduce((sum, count) => sum + count, 0) + 1);
    const zeros = distinct.map((bits) => bits.toString(2).replaceAll('1', '').length);
    expect(ofClass(all, 'pip-shut')).toHaveLength(zeros.reduce((sum, count) => sum + count, 0) + 1);
    expect(remembered[1]).toMatch(/: 2 open checks of the last 2$/u);
    expect(remembered.some((title) => title?.includes('shut 1 of 3 in a row'))).toBe(true);
    expect(ofClass(all, 'shut-run').length).toBeGreaterThan(0);
  });

  it('is lost with power', () => {
    const given = chartCase(
      experimentOf({
        lengthMs: 30 * minuteMs,
        openings: [[2 * minuteMs, 6 * minuteMs]],
        powerLost: [[4 * minuteMs, 20 * minuteMs]],
      }),
    );
    const [memory, ...others] = marks(draw(given), 'memory');
    expect(others).toEqual([]);
    const perMs = (1_120 - 64 - 62) / (30 * minuteMs);
    const left = Number(memory?.attributes['x']);
    expect(left).toBeCloseTo(180_800 * perMs, 0);
    expect(left + Number(memory?.attributes['width'])).toBeCloseTo(240_000 * perMs, 0);
  });

  it('counts failed attempts in words where there is room', () => {
    const given = chartCase(
      experimentOf(
        {
          lengthMs: 60 * minuteMs,
          openings: [[2 * minuteMs, 50 * minuteMs]],
          networkDown: [[0, 40 * minuteMs]],
        },
        { watch: { retryIntervalMs: deviceMs(480_000), retryAttempts: 5 } },
      ),
    );
    const words = printed(draw(given));
    expect(words).toContain('1 failed');
    expect(words).toContain('2 failed');
  });
});

describe('a contact that tells another story', () => {
  it('gets a lane of its own, and its wrong checks a ring', () => {
    const openings = spansOf([[20 * minuteMs, 40 * minuteMs]]);
    const contact = withFaults(
      idealContactEdges(openings),
      [
        {
          fromMs: trueMs(10 * minuteMs),
          toMs: trueMs(50 * minuteMs),
          reads: { kind: 'stuck', at: 'shut' },
        },
      ],
      'hatch',
    );
    const given = chartCase(
      experimentOf({ lengthMs: hourMs, openings: [[20 * minuteMs, 40 * minuteMs]], contact }),
    );
    const all = draw(given);
    const wrong = given.trace.wakes
      .flatMap(({ check, repeats, periodMs }) =>
        check === null
          ? []
          : Array.from({ length: repeats + 1 }, (_, nth) => check.atMs + nth * periodMs),
      )
      .filter((atMs) => atMs >= 20 * minuteMs && atMs < 40 * minuteMs);
    expect(wrong.length).toBeGreaterThan(4);
    expect(marks(all, 'check-wrong')).toHaveLength(wrong.length);
    expect(printed(all)).toContain('Contact');
    expect(marks(all, 'm-missed').map(titleOf)).toEqual([
      'Leave-open, missed: Mon 4 May 00:20:00 to Mon 4 May 00:40:00, 20 min',
    ]);
    expect(printed(all)).toContain('missed 20 min');
  });

  it('has no lane while it reads just what the door does', () => {
    expect(printed(draw(eventful))).not.toContain('Contact');
  });

  it('shows a door ajar by its gap, at which a creeping door reads shut', () => {
    const moves = [
      { atMs: trueMs(10 * minuteMs), gapUm: um(11_000) },
      { atMs: trueMs(40 * minuteMs), gapUm: um(0) },
    ];
    const settings = { operateGapUm: um(8_000), releaseGapUm: um(12_000), bounceMs: trueMs(0) };
    const openings = openingsOf(moves, um(2_000));
    const given = chartCase(
      experimentOf({
        lengthMs: hourMs,
        openings: [[openings.fromMs[0] ?? 0, openings.toMs[0] ?? 0]],
        contact: contactEdgesOf(moves, settings),
      }),
      { moves },
    );
    expect(printed(draw(given))).toContain('ajar 11 mm');
    expect(given.verdict.summary.missed).toBe(1);
  });
});

describe('waiting and waking', () => {
  it('shows the wait for a reset in place of checks, and who woke the device', () => {
    const given = chartCase(
      experimentOf(
        {
          lengthMs: 90 * minuteMs,
          openings: [[10 * minuteMs, 40 * minuteMs]],
          resetsMs: [60 * minuteMs],
        },
        { watch: { afterAlert: 'hold-until-reset', wakeOn: 'any-change' } },
      ),
    );
    const all = draw(given);
    const [held] = marks(all, 'held').map(titleOf);
    const delivered = given.trace.alerts[0]?.deliveredMs ?? 0;
    expect(delivered).toBeGreaterThan(0);
    expect(held).toContain('Awake until a reset: Mon 4 May 00:13:');
    expect(marks(all, 'contact-wake')).toHaveLength(given.trace.tally.wakes.contact);
  });

  it('hollows an alert that never arrived', () => {
    const given = chartCase(
      experimentOf({
        lengthMs: hourMs,
        openings: [[10 * minuteMs, 50 * minuteMs]],
        networkDown: [[0, hourMs]],
      }),
    );
    const all = draw(given);
    expect(marks(all, 'unsent')).toHaveLength(1);
    expect(marks(all, 'm-missed')).toHaveLength(1);
    expect(printed(all)).toContain('hollow: never delivered');
  });

  it('ends a cooldown where the device does: on its own slow clock', () => {
    const given = chartCase(
      experimentOf(
        { lengthMs: 2 * hourMs, openings: [[0, 2 * hourMs]] },
        { timing: timingWith({ errorPpm: ppm(50_000) }) },
      ),
      { judge: asked({ leaveOpenAfterMs: 300_000 }) },
    );
    const [first] = marks(draw(given), 'cooldown').map(titleOf);
    expect(first).toMatch(/, 31 min 30 s$/u);
  });
});
