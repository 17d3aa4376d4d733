// Who answers: by the local time of day at which an alert was delivered, and never one that was lost on its way.
import { describe, expect, it } from 'vitest';
import {
  asSeen,
  experimentOf,
  livingOf,
  parseScenario,
  parseWatchFile,
  timelineOf,
  yearsLivedWith,
} from '../../src/scenarios/index.js';
import { compileWatch, simulate } from '../../src/sim/index.js';
import { valueOf } from './reading.js';

const minuteMs = 60_000;
const hourMs = 60 * minuteMs;

function watchFileOf(more: string) {
  const text = `watch: { checkInterval: 3m, heartbeatInterval: 6h, afterAlert: hold-until-reset }\n${more}\n`;
  return valueOf(parseWatchFile(text, 'watch.yaml'));
}

function answersIn(more: string, timeline: object = {}) {
  const watchFile = watchFileOf(more);
  const text = 'start: 2026-05-04T22:30:15.250[Europe/Oslo]\nlength: 1d\n';
  const parsed = valueOf(timelineOf(valueOf(parseScenario(text, 'scenario.yaml')), watchFile));
  const asked = { program: compileWatch(watchFile.watch), watchFile };
  return experimentOf({ ...parsed, isGenerated: true, ...timeline }, asked).answers;
}

describe('people of a scenario whose door is drawn', () => {
  const nights =
    'answer: { afterAlert: { day: 10m, night: 8h, nightFrom: "22:00", nightUntil: "06:00" } }';

  it('answer by the local time at which the alert was delivered', () => {
    const after = (deliveredMs: number): number | undefined =>
      answersIn(nights)?.alertAfterMs?.(deliveredMs, 0);
    // At half past ten in the evening, local time, it is night until six: seven hours and a half, less 15.25 s, and ten minutes.
    expect(after(0)).toBe(7.5 * hourMs - 15_250 + 10 * minuteMs);
    const sixMs = 7.5 * hourMs - 15_250;
    expect(after(sixMs - 1)).toBe(10 * minuteMs + 1);
    expect(after(sixMs)).toBe(10 * minuteMs);
    expect(after(sixMs + 16 * hourMs - 1)).toBe(10 * minuteMs);
    expect(after(sixMs + 16 * hourMs)).toBe(8 * hourMs);
  });

  it('are not there where its door is listed, nor without a word of them', () => {
    expect(answersIn(nights, { isGenerated: false })).toBeUndefined();
    expect(answersIn('')).toBeNull();
  });

  it('take a time with a spread from the seed, another for each alert', () => {
    const text = 'answer: { afterAlert: { median: 10m, sigma: 0.5 } }';
    const drawn = (seed: string): readonly (number | undefined)[] => {
      const answers = answersIn(text, { seed });
      return Array.from({ length: 200 }, (_, index) => answers?.alertAfterMs?.(0, index));
    };
    const first = drawn('1');
    expect(drawn('1')).toEqual(first);
    expect(drawn('2')).not.toEqual(first);
    expect(new Set(first).size).toBeGreaterThan(190);
    const sorted = first.map(Number).toSorted((a, b) => a - b);
    // Half of them are below the median, within what chance does to 200.
    expect(sorted[75] ?? 0).toBeLessThan(10 * minuteMs);
    expect(sorted[125] ?? 0).toBeGreaterThan(10 * minuteMs);
  });

  it('notice the silence of one heartbeat and a half, and come after their time', () => {
    const text = 'answer: { afterMissedHeartbeat: 1d }';
    expect(answersIn(text)?.silence).toEqual({
      noticedAfterMs: 9 * hourMs,
      comesAfterMs: 24 * hourMs,
    });
    expect(answersIn(nights)?.silence).toBeNull();
    expect(answersIn(text)?.alertAfterMs).toBeNull();
  });

  it('clear the memory where the button does', () => {
    expect(answersIn(nights)?.clears).toBe(false);
    expect(answersIn(`${nights}\ndevice: { reset: { button: clears } }`)?.clears).toBe(true);
  });
});

describe('messages that are lost', () => {
  const lossy = 'answer: { afterAlert: 10m }\ndelivery: { lost: 30%, seenAfter: 5m }';
  const watchFile = watchFileOf(lossy);

  it('are answered by nobody; as many as the share says, the same ones for the same seed', () => {
    const { livedWith } = yearsLivedWith(livingOf(watchFile));
    const lostWith = (seed: string): readonly boolean[] => {
      const { answers } = livedWith(watchFile.watch, seed);
      return Array.from(
        { length: 1_000 },
        (_, index) => answers?.alertAfterMs?.(index * hourMs, index) === Number.POSITIVE_INFINITY,
      );
    };
    const lost = lostWith('1');
    expect(lostWith('1')).toEqual(lost);
    expect(lostWith('2')).not.toEqual(lost);
    const count = lost.filter(Boolean).length;
    // Of 1,000 at 30 %, within four standard deviations of 14.5.
    expect(Math.abs(count - 300)).toBeLessThan(58);
  });

  it('are also heartbeats and low-battery messages, each kind independently of the others', () => {
    const more = (lost: string) =>
      `answer: { afterAlert: 10m, afterMissedHeartbeat: 1d, charges: { afterWarning: 1d } }\nsupply: { preset: bare-board, capacity: 300mAh }\ndelivery: { lost: ${lost} }`;
    const of = (lost: string, seed: string) =>
      yearsLivedWith(livingOf(watchFileOf(more(lost)))).livedWith(watchFile.watch, seed);
    const lostWith = (seed: string) => {
      const { answers, charge } = of('30%', seed);
      return Array.from({ length: 2_000 }, (_, index) => {
        const atMs = index * hourMs;
        return [
          answers?.alertAfterMs?.(atMs, index) === Number.POSITIVE_INFINITY,
          answers?.silence?.isHeartbeatSeen?.(atMs) === false,
          charge?.isWarningSeen?.(atMs) === false,
        ];
      });
    };
    const lost = lostWith('1');
    expect(lostWith('1')).toEqual(lost);
    const countOf = (is: (one: readonly boolean[]) => boolean | undefined): number =>
      lost.filter((one) => is(one) === true).length;
    // Of 2,000 at 30 % each, within four standard deviations of 20.5; of two at once at 9 %, of 12.8.
    for (const kind of [0, 1, 2]) {
      expect(Math.abs(countOf((one) => one[kind]) - 600)).toBeLessThan(82);
      const next = (kind + 1) % 3;
      expect(Math.abs(countOf((one) => one[kind] && one[next]) - 180)).toBeLessThan(52);
    }
    const none = of('0%', '1');
    expect(none.answers?.silence).not.toHaveProperty('isHeartbeatSeen');
    expect(none.charge?.isWarningSeen?.(0)).toBe(true);
  });

  it('are seen by nobody, and the others a while later', () => {
    const hold = watchFileOf('');
    const scenario = 'length: 1d\ndoor: [at 01:00 for 1h, at 05:00 for 1h, at 09:00 for 1h]\n';
    const { world, timing } = valueOf(
      timelineOf(valueOf(parseScenario(scenario, 'scenario.yaml')), hold),
    );
    const watch = { ...hold.watch, afterAlert: 'keep-watching' as const };
    const trace = simulate({ program: compileWatch(watch), timing, world, seed: '1' });
    const living = livingOf(watchFile);
    const delivered = trace.alerts.map(({ deliveredMs }) => deliveredMs ?? 0);
    expect(delivered.length).toBeGreaterThan(2);
    const { livedWith, asSeen: seen } = yearsLivedWith(living);
    const { answers } = livedWith(watch, '1');
    const expected = delivered.map((atMs, index) =>
      answers?.alertAfterMs?.(atMs, index) === Number.POSITIVE_INFINITY
        ? null
        : atMs + 5 * minuteMs,
    );
    expect(seen(trace, '1').alerts.map(({ deliveredMs }) => deliveredMs)).toEqual(expected);
    const plain = livingOf(watchFileOf('answer: { afterAlert: 10m }'));
    expect(asSeen(trace, plain, '1')).toBe(trace);
    const late = livingOf(watchFileOf('answer: { afterAlert: 10m }\ndelivery: { seenAfter: 1m }'));
    expect(asSeen(trace, late, '1').alerts.map(({ deliveredMs }) => deliveredMs)).toEqual(
      delivered.map((atMs) => atMs + minuteMs),
    );
  });
});
