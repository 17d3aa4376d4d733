// The year equals replays put together, and its calendar is one.
import { describe, expect, it } from 'vitest';
import { estimate, replay } from '../../src/library.js';
import {
  builtInProfile,
  type Timeline,
  type WatchFile,
  yearWorlds,
} from '../../src/scenarios/index.js';
import { deviceTiming } from '../../src/world/index.js';
import {
  calendarText,
  chargeDays,
  expectedOf,
  firstYear,
  livedYears,
} from '../../src/year/index.js';
import { watchFileWith } from '../battery/supplies.js';

const dayMs = 86_400_000;
const profile = builtInProfile('goose-house') ?? expect.fail('there is such a profile');
const supply = '{ preset: bare-board, capacity: 300mAh }';

/** A year of the estimate as a timeline of its own. */
function timelineOf(watchFile: WatchFile, year: number): Timeline {
  const habits = { profile, contact: watchFile.contact, outages: null, powerCuts: null };
  return {
    name: 'a year',
    file: '',
    start: { epochMs: 0, timeZone: 'UTC' },
    world: yearWorlds(habits)('1', year),
    moves: null,
    timing: deviceTiming({}, watchFile.timing),
    seed: `1 year ${String(year)}`,
    expect: null,
    opensAtEnd: false,
    isGenerated: true,
    logged: null,
    notes: new Map(),
    remarks: [],
  };
}

describe('what a year expects', () => {
  it('is what an estimate of the same years says, with the doubt of the log', () => {
    const watchFile = watchFileWith(supply);
    const fitted = { days: 20, openings: 60, leaveOpens: 4, resamples: [[1], [2], [0.5]] };
    const question = { watchFile, profile: { ...profile, fitted }, seed: '1', years: 2 };
    const { rates } = expectedOf(question, livedYears(question), 0.95);
    const estimated = estimate(watchFile, { profile: question.profile, years: 2 });
    expect(rates).toEqual(estimated.rates);
    expect(rates.falseAlarms.profileSpread).toBeGreaterThan(0.1);
  });
});

describe('messages that are lost', () => {
  const clears =
    'watch: { heartbeatInterval: 1d }\ndevice: { reset: { button: clears } }\nanswer: { afterMissedHeartbeat: 1d }';
  const livedWith = (more: string) =>
    livedYears({ watchFile: watchFileWith(supply, more), profile, seed: '1', years: 10 });

  it('bring somebody as often as heartbeats are missing', () => {
    expect(livedWith(clears).answeredSilences).toBe(0);
    // On average 9 heartbeats come before one of 10 is lost, and somebody comes 2.5 days after the last: once in 11.5 days,
    // which is 317 times in ten years, within four standard deviations of 15.
    const { answeredSilences } = livedWith(`${clears}\ndelivery: { lost: 10% }`);
    expect(Math.abs(answeredSilences - 317)).toBeLessThan(60);
  });

  it('explain the misses that years without loss do not have', () => {
    const missedIn = (more: string) => {
      const { missed, tally } = livedWith(more);
      return { missed, byLoss: tally.missedByLoss };
    };
    const without = missedIn('judge: { leaveOpenAfter: 2m }');
    const lossy = missedIn('judge: { leaveOpenAfter: 2m }\ndelivery: { lost: 40% }');
    expect(without.missed).toBeGreaterThan(0);
    expect(without.byLoss).toBe(0);
    expect(lossy.byLoss).toBeGreaterThan(100);
    expect(lossy.byLoss).toBe(lossy.missed - without.missed);
    const watchFile = watchFileWith(
      supply,
      'judge: { leaveOpenAfter: 2m }\ndelivery: { lost: 40% }',
    );
    expect(estimate(watchFile, { profile, years: 10 }).missedByLoss).toBe(lossy.byLoss);
  });
});

describe('the first year of a picture', () => {
  it('counts what the years count, and its charge never rises but where it is charged', () => {
    const watchFile = watchFileWith(supply, 'answer: { charges: { every: 5w } }');
    const question = {
      watchFile,
      profile,
      seed: '1',
      years: 1,
      outages: { perYear: 20, meanMs: 3_600_000 },
    };
    const lived = livedYears(question);
    const year = firstYear(question);
    expect(year.leaveOpens.length).toBe(lived.leaveOpens);
    expect(year.alerts.filter(({ kind }) => kind === 'false').length).toBe(lived.falseAlarms);
    expect(year.charges.length).toBe(lived.charges);
    expect(year.networkDown.fromMs.length).toBeGreaterThan(0);
    expect(year.flat.reduce((sum, { fromMs, toMs }) => sum + toMs - fromMs, 0)).toBe(lived.flatMs);
    const line = year.charge ?? [];
    const rises = line.filter(({ left }, index) => left > (line[index - 1]?.left ?? 1));
    expect(rises.every(({ left }) => left === 1)).toBe(true);
    expect(rises.length).toBe(lived.charges);
  });

  it('is charged by the days of the calendar where nobody says when', () => {
    const year = firstYear({ watchFile: watchFileWith(supply, ''), profile, seed: '1', years: 1 });
    expect(year.isChargedByCalendar).toBe(true);
    expect(year.flat).toEqual([]);
  });
});

describe('the years of a device', () => {
  it.each([
    ['charged every so often', 'answer: { charges: { every: 3w } }'],
    [
      'held and answered',
      'watch: { afterAlert: hold-until-reset }\nanswer: { afterAlert: { median: 30m, sigma: 1 }, charges: { every: 5d } }',
    ],
    [
      'silent and answered',
      'watch: { heartbeatInterval: 1d }\nanswer: { afterMissedHeartbeat: 2d, charges: { every: 26w } }',
    ],
  ])('are its replays put together: %s', (_, more) => {
    const watchFile = watchFileWith(supply, more);
    const lived = livedYears({ watchFile, profile, seed: '1', years: 2 });
    const runs = [0, 1].map((year) => replay(timelineOf(watchFile, year), watchFile));
    for (const name of [
      'openings',
      'leaveOpens',
      'reported',
      'missed',
      'unpowered',
      'falseAlarms',
    ] as const) {
      expect([name, lived[name]]).toEqual([
        name,
        runs.reduce((sum, { verdict }) => sum + verdict.summary[name], 0),
      ]);
    }
    expect(lived.charges).toBe(runs.reduce((sum, { trace }) => sum + trace.charges.length, 0));
    expect(lived.flatMs).toBe(runs.reduce((sum, { trace }) => sum + trace.tally.flatMs, 0));
  });

  it('miss more where each charge comes a week late', () => {
    const small = '{ preset: bare-board, capacity: 60mAh }';
    const watchFile = watchFileWith(small, 'answer: { charges: { every: 2w } }');
    const busy = builtInProfile('flower-store') ?? expect.fail('there is such a profile');
    const question = { watchFile, profile: busy, seed: '1', years: 1 };
    const late = livedYears({ ...question, chargesLateMs: 7 * dayMs });
    expect(late.missed).toBeGreaterThan(livedYears(question).missed);
  });
});

describe('the days to charge by', () => {
  it('are each a day before the charge ends, so that a charge on each leaves no gap', () => {
    const watchFile = watchFileWith(supply);
    const days = chargeDays({ watchFile, profile, seed: '1' }).daysMs ?? [];
    expect(days.length).toBeGreaterThan(3);
    const timeline = timelineOf(watchFile, 0);
    const world = { ...timeline.world, chargedMs: Float64Array.from(days) };
    expect(replay({ ...timeline, world }, watchFile).trace.flat).toEqual([]);
    const without = { ...world, chargedMs: Float64Array.from(days.slice(0, -1)) };
    expect(replay({ ...timeline, world: without }, watchFile).trace.flat).toHaveLength(1);
  });

  it('are none where a charge lasts for the year, and no calendar where it lasts a day', () => {
    const lasting = watchFileWith('{ capacity: 100Ah, sleepCurrent: 0.1mA }');
    expect(chargeDays({ watchFile: lasting, profile, seed: '1' }).daysMs).toEqual([]);
    const short = watchFileWith('{ capacity: 10mAh, sleepCurrent: 1mA }');
    expect(chargeDays({ watchFile: short, profile, seed: '1' }).daysMs).toBeNull();
  });

  // Without heartbeats that fail nobody comes; with them somebody does, and what they then charge must move no day.
  it('count no charge by somebody who comes because a heartbeat failed', () => {
    const outages = { perYear: 50, meanMs: 3_600_000 };
    const daysOf = (more: string) => {
      const watchFile = watchFileWith(supply, `watch: { heartbeatInterval: 1d }\n${more}`);
      const question = { watchFile, profile, seed: '1', years: 1, outages };
      const { charges, answeredSilences } = livedYears(question);
      return {
        days: chargeDays(question).daysMs,
        year: firstYear(question),
        charges,
        answeredSilences,
      };
    };
    const visited = daysOf('answer: { charges: { every: 40w }, afterMissedHeartbeat: 1d }');
    // They come in these years, and charge there.
    expect(visited.answeredSilences).toBeGreaterThan(0);
    expect(visited.charges).toBeGreaterThan(1);
    const { days } = daysOf('');
    expect(days?.length).toBeGreaterThan(3);
    expect(visited.days).toEqual(days);
    const { year, ...byCalendar } = daysOf('answer: { afterMissedHeartbeat: 1d }');
    expect(byCalendar.days).toEqual(days);
    expect(year.charges).toEqual(days);
  });

  // 31 mA awake: 2200 mAh last 2.6 d, and each latest day is a whole day before that.
  it('follow each other daily once the device waits for a reset that nobody makes, and say so', () => {
    const held = 'watch: { afterAlert: hold-until-reset, alertCooldown: 0s }';
    const daysOf = (capacity: string, more: string) =>
      chargeDays({
        watchFile: watchFileWith(
          `{ preset: bare-board, capacity: ${capacity} }`,
          `${held}\n${more}`,
        ),
        profile,
        seed: '1',
      });
    const { daysMs, waits } = daysOf('2200mAh', '');
    const fromMs = waits?.fromMs ?? expect.fail('it waits');
    expect(waits?.isLost).toBe(false);
    const later = (daysMs ?? []).filter((ms) => ms > fromMs + dayMs);
    expect(later.length).toBeGreaterThan(100);
    expect(later.every((ms, index) => ms - (later[index - 1] ?? ms - dayMs) === dayMs)).toBe(true);
    expect(daysOf('500mAh', '')).toMatchObject({ daysMs: null, waits: { isLost: false } });
    expect(daysOf('2200mAh', 'answer: { afterAlert: 1h }').waits).toBeNull();
    const lost = 'answer: { afterAlert: 1h }\ndelivery: { lost: 20% }';
    expect(daysOf('2200mAh', lost).waits?.isLost).toBe(true);
    // It waits as well where the charge lasts for the year, but no day needs that as its reason.
    const lasting = watchFileWith(
      '{ capacity: 100Ah, sleepCurrent: 0.1mA, hold: { current: 1mA } }',
      `${held}\n${lost}`,
    );
    expect(chargeDays({ watchFile: lasting, profile, seed: '1' })).toEqual({
      daysMs: [],
      waits: null,
    });
  });

  // RFC 5545, sections 3.1 (lines of at most 75 octets, CRLF), 3.3.11 (escapes) and 3.6 (required properties).
  it('are a calendar of RFC 5545', () => {
    const summary = `Charge; the monitor, ${'ä'.repeat(60)}`;
    const text = calendarText(['20260504', '20260601'], { summary, stamp: '20260504T000000Z' });
    const lines = text.split('\r\n');
    expect(lines.at(-1)).toBe('');
    expect(text.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/u);
    for (const line of lines) expect(Buffer.byteLength(line)).toBeLessThanOrEqual(75);
    const whole = text.replaceAll('\r\n ', '').split('\r\n');
    expect(whole.filter((line) => line === 'BEGIN:VEVENT')).toHaveLength(2);
    expect(whole).toContain(`SUMMARY:Charge\\; the monitor\\, ${'ä'.repeat(60)}`);
    for (const name of ['UID', 'DTSTAMP', 'DTSTART']) {
      expect(whole.filter((line) => line.startsWith(name))).toHaveLength(2);
    }
  });
});
