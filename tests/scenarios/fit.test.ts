// Profiles fitted to doors that were drawn from a known one, and to real logs where they are at hand.
import { existsSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { trueMs } from '../../src/base/index.js';
import {
  builtInProfile,
  defaultWatchFile,
  fitProfile,
  generateDoor,
  longBriefsPerYear,
  openDoorLog,
  parseProfile,
  profileText,
  timelineOfLog,
  type UsageProfile,
  yearWorlds,
} from '../../src/scenarios/index.js';
import { spansOf } from '../../src/world/index.js';

const dayMs = 86_400_000;
const start = { epochMs: Date.UTC(2026, 4, 4), timeZone: 'UTC' };
const lengthMs = 140 * dayMs;

function fitOf(profile: UsageProfile, keep = false) {
  const door = generateDoor(profile, { start, lengthMs }, '1');
  const pairs = door.map(({ fromMs, toMs }) => [fromMs, toMs] as const);
  const fit = fitProfile({ start, lengthMs, openings: spansOf(pairs) }, 300_000, keep);
  if (fit === null) throw new Error('a drawn door has openings');
  return fit;
}

const store = builtInProfile('flower-store');
if (store === null) throw new Error('there is a flower store');

describe('a fitted profile', () => {
  it('is near to the one that the door was drawn from', () => {
    const { profile, brief, leaveOpen } = fitOf(store);
    for (const [hour, rate] of profile.openingsPerHour.entries()) {
      expect(Math.abs(rate - (store.openingsPerHour[hour] ?? 0))).toBeLessThan(0.8);
    }
    expect(profile.weekendFactor).toBeCloseTo(0.4, 1);
    expect(brief?.distribution.kind).toBe('lognormal');
    expect(brief?.worstGap).toBeLessThan(0.02);
    expect(leaveOpen?.distribution.kind).toBe('drawn');
    expect(profile.leaveOpen?.share).toBeCloseTo(0.02, 2);
  });

  it('knows how many leave-opens the lengths of its brief openings add', () => {
    const fit = fitOf(store);
    const { brief } = fit;
    if (brief === null) throw new Error('most openings are brief');
    const briefsPerYear = (brief.count * 365) / 140;
    const share = (distribution: typeof brief.distribution): number =>
      longBriefsPerYear({ ...fit, brief: { ...brief, distribution } }) / briefsPerYear;
    const medianMs = trueMs(300_000);
    expect(share({ kind: 'lognormal', medianMs, sigma: 0.8 })).toBeCloseTo(0.5, 6);
    const meanMs = trueMs(100_000);
    expect(share({ kind: 'exponential', meanMs })).toBeCloseTo(Math.exp(-3), 6);
    expect(share({ kind: 'drawn', ms: [trueMs(20_000)] })).toBe(0);
  });

  it('finds an exponential where that is what was drawn', () => {
    const duration = { kind: 'exponential', meanMs: trueMs(20_000) } as const;
    const { brief } = fitOf({ ...store, duration, leaveOpen: null });
    expect(brief?.distribution.kind).toBe('exponential');
    expect(brief?.worstGap).toBeLessThan(brief?.chanceGap ?? 0);
  });

  it.each([false, true])('is read back as it was written; lengths kept: %s', (keep) => {
    const { profile } = fitOf({ ...store, weekendFactor: 0 }, keep);
    const read = parseProfile(profileText(profile, ['fitted']), 'fitted.yaml');
    expect(read.ok ? read.value : read.errors).toEqual(profile);
  });

  it('keeps the few that are too few to fit, and needs one', () => {
    const openings = spansOf([
      [0, 4_000],
      [dayMs, dayMs + 9_000],
    ]);
    const fit = fitProfile({ start, lengthMs: 2 * dayMs, openings }, 60_000);
    expect(fit?.brief?.distribution).toEqual({ kind: 'drawn', ms: [4_000, 9_000] });
    const endless = spansOf([[5_000, Number.POSITIVE_INFINITY]]);
    expect(fitProfile({ start, lengthMs: dayMs, openings: endless }, 60_000)).toBeNull();
  });
});

const folder = process.env['DOOR_LOGS'] ?? path.resolve('..', 'shared', 'door-logs');
const haveLogs = existsSync(folder);
if (!haveLogs) console.log(`no door logs in ${folder}: no profile is fitted to them`);

describe('profiles of real doors', () => {
  // "House A" of van Kasteren et al., UbiComp 2008 (read): 25 days of 2008.
  it.skipIf(!haveLogs).each([
    ['house-a-freezer.csv', 36],
    ['house-a-fridge.csv', 140],
    ['house-a-front-door.ndjson', 90],
  ])('%s: all %i openings are accounted for', (file, count) => {
    const reader = openDoorLog({ file });
    reader.push(readFileSync(path.join(folder, file), 'utf8'));
    const log = reader.finish();
    if (!log.ok) throw new Error(JSON.stringify(log.errors));
    const timeline = timelineOfLog(log.value, defaultWatchFile(), { name: file, file });
    if (!timeline.ok) throw new Error(JSON.stringify(timeline.errors));
    const { world, start: begin } = timeline.value;
    const door = { start: begin, lengthMs: world.lengthMs, openings: world.openings };
    const fit = fitProfile(door, 180_000);
    expect(fit?.openings).toBe(count);
    expect((fit?.brief?.count ?? 0) + (fit?.leaveOpen?.count ?? 0) + (fit?.unknown ?? 0)).toBe(
      count,
    );
    expect(fit?.brief?.worstGap).toBeLessThan(0.3);
    expect(fit?.process.model).toBe('visits');
    // In the logs up to 45 % of the gaps between openings are under a minute; in drawn years as many, within a third.
    const short = (spans: {
      readonly fromMs: Float64Array;
      readonly toMs: Float64Array;
    }): number => {
      const gaps = Array.from(
        spans.fromMs.subarray(1),
        (ms, index) => ms - (spans.toMs[index] ?? 0),
      );
      return gaps.filter((gap) => gap < 60_000).length / gaps.length;
    };
    if (fit === null) throw new Error('the log has openings');
    const worlds = yearWorlds({
      profile: fit.profile,
      contact: null,
      outages: null,
      powerCuts: null,
    });
    const drawn = short(worlds('1', 0).openings);
    expect(drawn / short(world.openings)).toBeGreaterThan(0.67);
    expect(drawn / short(world.openings)).toBeLessThan(1.5);
  });
});
