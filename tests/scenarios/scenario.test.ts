import { describe, expect, it } from 'vitest';
import { defaultWatchFile, starterScenarioText, timelineOf } from '../../src/scenarios/index.js';
import { deviceTiming } from '../../src/world/index.js';
import { hour, minute, pairs, read, timeline } from './days.js';
import { valueOf } from './reading.js';

describe('a scenario', () => {
  it('is a shut door for a day when it has only a name', () => {
    const day = timeline('name: Nothing happens');
    expect(day).toMatchObject({
      name: 'Nothing happens',
      file: 'day.yaml',
      start: { epochMs: Date.UTC(2026, 4, 4), timeZone: 'UTC' },
      world: { lengthMs: 86_400_000, powerOnAtMs: 0 },
      moves: null,
      seed: '1',
      expect: null,
      remarks: [],
    });
    expect(pairs(day)).toEqual([]);
    expect(day.timing).toEqual(deviceTiming({}, defaultWatchFile().timing));
  });

  it('says everything that can happen to a watch', () => {
    const day = timeline(`
name: Delivery day at the flower store
start: 2026-05-08T06:00:00+02:00
length: 1d
powerOnAt: 30s
door:
  - { at: "07:10", for: 45s }
  - { at: "07:30", for: 22m, note: wedged for the trolleys }
  - { at: +11h, for: 25m, gap: 10mm }             # ajar: not pulled home
network: [{ down: "07:35", for: 1h }, { down: "08:00", for: 1h }]
power:   [{ lost: "09:00", for: 2m }]
resets:  ["10:00", +1h]
contact: [{ stuck: shut, at: "12:00", for: 1h }]
environment:
  bootTime: [400ms, 1s]
  connectTime: { min: 2s, max: 3s }
  clockError: [1%, -200ppm]
seed: 7
expect:  { missed: 0, alerts: { atLeast: 2 }, checks: { atMost: 500 }, worstDelayAtMost: 75m }
`);
    expect(pairs(day)).toEqual([
      [70 * minute, 70 * minute + 45_000],
      [90 * minute, 112 * minute],
      [11 * hour, 11 * hour + 25 * minute],
    ]);
    expect(day.notes).toEqual(new Map([[1, 'wedged for the trolleys']]));
    expect(day.world.powerOnAtMs).toBe(30_000);
    expect([...day.world.networkDown.fromMs]).toEqual([95 * minute]);
    expect([...day.world.networkDown.toMs]).toEqual([3 * hour]);
    expect([...day.world.powerLost.fromMs]).toEqual([3 * hour]);
    expect([...day.world.resetsMs]).toEqual([hour, 4 * hour]);
    expect(day.timing).toMatchObject({
      bootTime: { kind: 'inTurn', ms: [400, 1_000] },
      connectTime: { kind: 'range', leastMs: 2_000, greatestMs: 3_000 },
      clockError: { kind: 'inTurn', ppm: [10_000, -200] },
    });
    expect(day.seed).toBe('7');
    expect(day.expect).toEqual({
      counts: [
        { name: 'missed', least: 0, most: 0 },
        { name: 'alerts', least: 2, most: Number.POSITIVE_INFINITY },
        { name: 'checks', least: 0, most: 500 },
      ],
      worstDelayAtMostMs: 75 * minute,
      worstDelayAtLeastMs: null,
    });
    expect(day.world.contact).toHaveLength(6);
  });

  it('is what init writes', () => {
    expect(pairs(timeline(starterScenarioText()))).toHaveLength(6);
  });

  it('takes the seed of the command before its own', () => {
    const scenario = read('name: x\nseed: own');
    const seeded = (seed?: string): string =>
      valueOf(timelineOf(scenario, defaultWatchFile(), { seed })).seed;
    expect([seeded(), seeded('other')]).toEqual(['own', 'other']);
  });
});

describe('temperature', () => {
  const watch =
    'device: { clockError: { byTemperature: [{ celsius: 0, error: -100ppm }, { celsius: 10, error: 5ppm }] } }';
  const day = (temperature: string, more = ''): string =>
    `name: x\ntemperature: ${temperature}\n${more}`;

  it('becomes steps of the clock error, in straight lines between the points of the curve', () => {
    const steps = '[{ at: +1h, celsius: 20 }, { at: +0s, celsius: 4.5 }, { at: +2h, celsius: -3 }]';
    const { timing, remarks } = timeline(day(steps), watch);
    expect(timing.clockError).toEqual({
      kind: 'curve',
      steps: [
        { fromMs: 0, ppm: -53 },
        { fromMs: hour, ppm: 5 },
        { fromMs: 2 * hour, ppm: -100 },
      ],
    });
    expect(remarks.map(({ code }) => code)).toEqual([
      'temperature-off-curve',
      'temperature-off-curve',
    ]);
  });

  it('that is not given counts as 25 °C for a clock that depends on it, with a warning', () => {
    const [only, ...others] = timeline('name: x\n', watch).remarks;
    expect(others).toEqual([]);
    expect(only).toMatchObject({ code: 'temperature-not-given' });
    expect(only?.message).toContain('at 25 °C: 0.0005%');
    expect(timeline('name: x\nenvironment: { clockError: 1% }\n', watch).remarks).toEqual([]);
    const level = watch.replace('5ppm', '-100ppm');
    expect(timeline('name: x\n', level).remarks).toEqual([]);
    expect(timeline('name: x\n').remarks).toEqual([]);
  });

  it('is said to have no effect where nothing depends on it', () => {
    const steps = '[{ at: +1h, celsius: 20 }]';
    expect(timeline(day(steps)).remarks).toMatchObject([{ code: 'temperature-without-effect' }]);
    const own = timeline(day(steps, 'environment: { clockError: 1% }'), watch);
    expect(own.remarks).toMatchObject([{ code: 'temperature-without-effect' }]);
    expect(own.timing.clockError).toEqual({ kind: 'fixed', ppm: 10_000 });
  });
});
