// A stretch of a log as a timeline: what is cut, when the device gets its power, and what is refused.
import { describe, expect, it } from 'vitest';
import {
  defaultWatchFile,
  type LogTimelineOptions,
  timelineOfLog,
} from '../../src/scenarios/index.js';
import { readLog, valueOf } from './reading.js';

const startMs = Date.UTC(2026, 4, 8, 6);
const minuteMs = 60_000;
const at = (minute: number): number => startMs + minute * minuteMs;

/** A log whose door changes at these minutes past six, from open to shut in turn. */
function timelineFrom(minutes: readonly number[], options: Partial<LogTimelineOptions> = {}) {
  const rows = minutes.map(
    (minute, index) => `${new Date(at(minute)).toISOString()},${index % 2 === 0 ? 'open' : 'shut'}`,
  );
  const log = valueOf(readLog(['time,state', ...rows].join('\n')));
  return timelineOfLog(log, defaultWatchFile(), { name: 'doors', file: 'doors.csv', ...options });
}

const minutes = [0, 5, 20, 30, 60, 70];

describe('an opening with a length in its row', () => {
  const zone = 'Europe/Oslo';
  const lengthsOf = (text: string, columns = {}): readonly number[] => {
    const { openings, doubled } = valueOf(readLog(text, { zone, ...columns }));
    expect(doubled).toEqual([]);
    return Array.from(openings.toMs, (to, index) => (to - (openings.fromMs[index] ?? 0)) / 1_000);
  };

  it('is that long in the hour that the clocks repeat, and as its date waits to be understood', () => {
    const doubled = 'start,duration_s\n2026-10-25 02:30,60\n2026-10-25 02:20,7200\n';
    expect(lengthsOf(doubled)).toEqual([60, 7_200]);
    // The clocks go back on 1 November, which only the row below shows not to be 11 January.
    const waiting = 'start,duration_h\n01/11/2026 00:30,3\n13/11/2026 06:00,6\n';
    expect(lengthsOf(waiting, { zone: 'America/New_York' })).toEqual([10_800, 21_600]);
  });

  it('is that long where the row has its end', () => {
    const text = 'shut,lasted\n2026-10-25 02:30,0:01:00\n2026-10-25 02:20,0:45:00\n';
    expect(lengthsOf(text, { endColumn: 'shut', durationColumn: 'lasted' })).toEqual([60, 2_700]);
  });
});

describe('the timeline of a log', () => {
  const cut = (options: Partial<LogTimelineOptions>): readonly (readonly number[])[] => {
    const { world } = valueOf(timelineFrom(minutes, options));
    const { fromMs, toMs } = world.openings;
    return Array.from(fromMs, (from, index) => [from / minuteMs, (toMs[index] ?? 0) / minuteMs]);
  };

  it('is all of it, from its first to its last event', () => {
    const timeline = valueOf(timelineFrom(minutes));
    expect(timeline.world.lengthMs).toBe(70 * minuteMs);
    expect(timeline).toMatchObject({ seed: '1', name: 'doors', file: 'doors.csv', expect: null });
    expect(timeline.start).toEqual({ epochMs: startMs, timeZone: 'UTC' });
    expect(cut({})).toEqual([
      [0, 5],
      [20, 30],
      [60, 70],
    ]);
  });

  it.each([
    [
      'within an opening',
      25,
      65,
      [
        [0, 5],
        [35, Number.POSITIVE_INFINITY],
      ],
    ],
    ['as one shuts and another opens', 5, 60, [[15, 25]]],
    [
      'just before and after',
      4,
      61,
      [
        [0, 1],
        [16, 26],
        [56, Number.POSITIVE_INFINITY],
      ],
    ],
    [
      'beyond the log',
      -10,
      100,
      [
        [10, 15],
        [30, 40],
        [70, 80],
      ],
    ],
    ['where nothing happens', 31, 59, []],
  ])('cut %s has what lies in it', (_, from, until, expected) => {
    expect(cut({ fromMs: at(from), untilMs: at(until) })).toEqual(expected);
  });

  it('says that an opening at its very end is not part of it, unless it goes on for longer', () => {
    const codes = (options: Partial<LogTimelineOptions>): readonly string[] =>
      valueOf(timelineFrom([0, 5, 20], options)).remarks.map(({ code }) => code);
    expect(codes({})).toContain('ends-as-it-opens');
    expect(codes({ untilMs: at(30) })).not.toContain('ends-as-it-opens');
    expect(codes({ untilMs: at(10) })).not.toContain('ends-as-it-opens');
  });

  it('knows that an opening within which it begins had begun before', () => {
    const begun = (options: Partial<LogTimelineOptions>) => {
      const { remarks, logged } = valueOf(timelineFrom(minutes, options));
      const unseen = [...(logged?.unseen.fromMs ?? []), ...(logged?.unseen.toMs ?? [])];
      return { unseen, isSaid: remarks.some(({ code }) => code === 'begins-open') };
    };
    expect(begun({ fromMs: at(25) })).toEqual({ unseen: [-5 * minuteMs, 0], isSaid: true });
    for (const minute of [-5, 0, 5, 10, 20, 30]) {
      expect(begun({ fromMs: at(minute) })).toEqual({ unseen: [], isSaid: false });
    }
  });

  it('keeps the start of a span without a state that began before it', () => {
    const rows = ['shut', 'unavailable', 'open', 'shut'].map(
      (state, index) => `${new Date(at(10 * index)).toISOString()},${state}`,
    );
    const log = valueOf(readLog(['time,state', ...rows].join('\n')));
    const options = { name: 'doors', file: 'doors.csv', fromMs: at(15) };
    const { logged } = valueOf(timelineOfLog(log, defaultWatchFile(), options));
    expect([...(logged?.unavailable.fromMs ?? [])]).toEqual([0]);
    expect([...(logged?.unseen.fromMs ?? [])]).toEqual([-5 * minuteMs]);
    expect([...(logged?.unseen.toMs ?? [])]).toEqual([5 * minuteMs]);
  });

  it('gives the device its power half a check interval after the first row, or where it is cut', () => {
    const power = (options: Partial<LogTimelineOptions>, rows = minutes) => {
      const { world, logged } = valueOf(timelineFrom(rows, options));
      return [world.powerOnAtMs, logged?.powerOnIsAssumed];
    };
    const halfMs = defaultWatchFile().watch.checkIntervalMs / 2;
    expect(power({})).toEqual([halfMs, true]);
    expect(power({ untilMs: at(30) })).toEqual([halfMs, true]);
    expect(power({ fromMs: at(0) })).toEqual([0, false]);
    expect(power({ powerOnAtMs: 7_000 })).toEqual([7_000, false]);
    expect(power({ untilMs: at(0) + 1_000 })).toEqual([999, true]);
  });

  it.each<[string, Partial<LogTimelineOptions>, string]>([
    [
      'starts where the log ends',
      { fromMs: at(70) },
      'the log ends at 2026-05-08 07:10:00, and --from is no earlier',
    ],
    [
      'ends where the log begins',
      { untilMs: at(0) },
      'the log begins at 2026-05-08 06:00:00, and --until is no later',
    ],
    [
      'ends before it starts',
      { fromMs: at(9), untilMs: at(8) },
      'the timeline ends before it starts',
    ],
    ['ends as it starts', { fromMs: at(9), untilMs: at(9) }, 'the timeline ends before it starts'],
    [
      'is longer than ten years',
      { untilMs: at(60 * 24 * 3_700) },
      'the timeline is longer than ten years',
    ],
    [
      'is over before the power is there',
      { powerOnAtMs: 70 * minuteMs },
      'the device gets its power after the end of the timeline',
    ],
  ])('that %s is refused', (_, options, message) => {
    const timeline = timelineFrom(minutes, options);
    expect(timeline.ok ? [] : timeline.errors.map((error) => error.message)).toEqual([message]);
    if (!timeline.ok) expect(timeline.errors[0]?.hint).toMatch(/--(?:from|until|power-on-at)/u);
  });
});
