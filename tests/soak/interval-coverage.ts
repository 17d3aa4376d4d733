// How often the intervals of an estimate cover the truth: `npm run soak:intervals -- [seeds] [folder] [part]`, 500 seeds
// without. Results are kept in the folder (.cache/intervals without), so that a run that was stopped goes on where it was;
// `2/4` runs the second quarter of the seeds, `2/4 years` only the years of the true profiles, which takes a tenth of the time,
// and `report` only prints what is there. Empty the folder after a change of the code. First where the simulated years alone decide: at least 93 % of the seeds, less three standard errors of
// their number. Then with a profile fitted to a drawn log, whose true profile is known: at least 90 %, less as much. Widths
// are printed. A log without a leave-open is counted apart: an estimate says that its misses cannot be known.
import { appendFileSync, existsSync, mkdirSync, readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import {
  type Estimate,
  type Evidence,
  emptyTally,
  estimateOf,
  join,
  type Tally,
  tallyYears,
  withEvidence,
  yearsOfResample,
} from '../../src/estimate/index.js';
import {
  evidenceOf,
  fitProfile,
  generateDoor,
  type Mishaps,
  parseProfile,
  parseWatchFile,
  resampleCount,
  resampled,
  type UsageProfile,
  yearWorlds,
} from '../../src/scenarios/index.js';
import { compileWatch } from '../../src/sim/index.js';
import { deviceTiming, spansOf } from '../../src/world/index.js';

const seeds = Number(process.argv[2] ?? 500);
const folder = process.argv[3] ?? path.join('.cache', 'intervals');
const part = process.argv[4] ?? '1/1';
const onlyYears = process.argv[5] === 'years';
const yearsOfSeed = 40;
const dayMs = 86_400_000;

interface Setting {
  readonly name: string;
  readonly profile: string;
  readonly watch: string;
  readonly outages: Mishaps | null;
  /** How many days the logs have that a profile is fitted to. */
  readonly days: readonly number[];
}

const settings: readonly Setting[] = [
  {
    name: 'bursts, outages',
    profile:
      'visits: { perHour: { "6-20": 0.3 }, weekend: 0.5, openings: { kind: geometric, mean: 3 }, gap: { kind: lognormal, median: 20s, sigma: 1.4 } }\n' +
      'duration: { lognormal: { median: 9s, sigma: 1 } }\nleaveOpen: { share: 1%, duration: { lognormal: { median: 12m, sigma: 1 } } }\n',
    watch: 'watch: { checkInterval: 1m }\njudge: { leaveOpenAfter: 3m, reportWithin: 5m }\n',
    outages: { perYear: 6, meanMs: 7_200_000 },
    days: [10, 40],
  },
  {
    name: 'rare and large visits, long outages',
    profile:
      'visits: { perHour: { "6-20": 0.02 }, openings: { kind: geometric, mean: 12 }, gap: { kind: exponential, mean: 40s } }\n' +
      'duration: { lognormal: { median: 20s, sigma: 0.8 } }\nleaveOpen: { share: 5%, duration: { lognormal: { median: 12m, sigma: 1 } } }\n',
    watch: 'watch: { checkInterval: 3m }\njudge: { leaveOpenAfter: 3m, reportWithin: 8m }\n',
    outages: { perYear: 2, meanMs: dayMs },
    days: [40, 200],
  },
  {
    name: 'single openings',
    profile:
      'openingsPerHour: { "6-18": 0.5 }\nduration: { lognormal: { median: 20s, sigma: 0.8 } }\n' +
      'leaveOpen: { share: 3%, duration: { lognormal: { median: 8m, sigma: 1 } } }\n',
    watch: 'watch: { checkInterval: 3m }\njudge: { leaveOpenAfter: 4m, reportWithin: 8m }\n',
    outages: null,
    days: [40],
  },
  {
    name: 'lengths that depend on each other, few days',
    profile:
      'visits: { perHour: { "7-10": 0.4, "12-14": 0.2, "17-22": 0.3 }, weekend: 1.2, openings: { kind: geometric, mean: 2 }, gap: { kind: lognormal, median: 40s, sigma: 1 }, dependence: { lengths: 0.4, gapAfter: 0.2 } }\n' +
      'duration: { lognormal: { median: 20s, sigma: 1.1 } }\nleaveOpen: { share: 2%, duration: { exponential: { mean: 20m } } }\n',
    watch: 'watch: { checkInterval: 2m }\njudge: { leaveOpenAfter: 4m, reportWithin: 7m }\n',
    outages: { perYear: 12, meanMs: 1_800_000 },
    days: [15, 60],
  },
];

function deviceOf({ profile, watch, outages }: Setting) {
  const usage = parseProfile(profile, 'profile.yaml');
  const file = parseWatchFile(watch, 'watch.yaml');
  if (!usage.ok || !file.ok) throw new Error('the settings can be read');
  const program = compileWatch(file.value.watch);
  const timing = deviceTiming({}, file.value.timing);
  const years = (from: UsageProfile, seed: string, count: number): Tally => {
    const draw = yearWorlds({ profile: from, contact: null, outages, powerCuts: null });
    const worldOf = (year: number) => draw(seed, year);
    return tallyYears({ program, timing, judge: file.value.judge, seed, worldOf }, 0, count);
  };
  return { usage: usage.value, judge: file.value.judge, years };
}

/** Everything that has an interval: its name, the truth, and the interval. Ends that are not known cover all beyond. */
function figuresOf(estimate: Estimate) {
  const { rates, shares, delays } = estimate;
  return [
    ...Object.entries(rates).map(([name, { perYear, low, high }]) => ({
      name,
      value: perYear,
      low,
      high,
    })),
    ...Object.entries(shares).map(([name, { share, low, high }]) => ({
      name: `share ${name}`,
      value: share ?? 0,
      low,
      high,
    })),
    ...delays.percentiles.map(({ percent, ms, lowMs, highMs }) => ({
      name: `latency ${String(percent)} %`,
      value: ms ?? 0,
      low: lowMs ?? 0,
      high: highMs ?? Number.POSITIVE_INFINITY,
    })),
  ];
}

/** Prints coverage and the median width; false: some figure is covered too seldom. */
function report(title: string, estimates: readonly Estimate[], truth: Estimate, wanted: number) {
  const floor = wanted - 3 * Math.sqrt((wanted * (1 - wanted)) / estimates.length);
  console.log(
    `${title}: ${String(estimates.length)} seeds, at least ${(100 * floor).toFixed(1)} % wanted`,
  );
  let isGood = true;
  for (const [index, { name, value }] of figuresOf(truth).entries()) {
    const found = estimates.flatMap((estimate) => figuresOf(estimate).slice(index, index + 1));
    const covered = found.filter(({ low, high }) => low <= value && value <= high).length;
    const share = covered / estimates.length;
    const widths = found.map(({ low, high }) => high - low).sort((a, b) => a - b);
    const width = (widths[Math.floor(widths.length / 2)] ?? 0) / value;
    const mark = share < floor ? '  TOO SELDOM' : '';
    if (share < floor) isGood = false;
    console.log(
      `  ${name.padEnd(16)} ${value.toPrecision(4).padStart(10)}  covered ${(100 * share).toFixed(1).padStart(5)} %  width ${width.toFixed(2)} of it${mark}`,
    );
  }
  return isGood;
}

type Device = ReturnType<typeof deviceOf>;

/** Years of a profile that was fitted to a log, and of its resamples. */
interface Fitted {
  readonly tally: Tally;
  readonly resamples: readonly Tally[];
  readonly evidence: Evidence | null;
}

/**
 * What one seed gives: the years of the true profile, and for each length of log those of a fitted one; null: no leave-open in
 * the log. Counts and not intervals, so that another way to an interval needs no other years.
 */
interface OfSeed {
  readonly seed: number;
  readonly tally: Tally;
  readonly fitted: readonly (Fitted | null)[];
}

/** From a drawn log of a number of days; null: the log has no leave-open. */
function fromLog({ usage, judge, years }: Device, daysOfLog: number, seed: number): Fitted | null {
  const start = { epochMs: Date.UTC(2026, 4, 4), timeZone: 'UTC' };
  const lengthMs = daysOfLog * dayMs;
  const door = generateDoor(usage, { start, lengthMs }, `log ${String(seed)}`);
  const openings = spansOf(door.map(({ fromMs, toMs }) => [fromMs, toMs] as const));
  const profile = fitProfile({ start, lengthMs, openings }, judge.leaveOpenAfterMs)?.profile;
  if (profile?.leaveOpen == null) return null;
  const count = resampleCount(profile);
  const each = yearsOfResample(yearsOfSeed, count);
  const resamples = Array.from({ length: count }, (_one, row) =>
    years(resampled(profile, row), `resample ${String(row)}`, each),
  );
  return {
    tally: years(profile, '1', yearsOfSeed),
    resamples,
    evidence: evidenceOf(profile, judge.leaveOpenAfterMs),
  };
}

function fileOf(index: number): string {
  return path.join(folder, `${String(index)}-${part.replace('/', '-of-')}.ndjson`);
}

/** All seeds of a setting that are kept, whichever part had them. */
function keptOf(index: number): readonly OfSeed[] {
  if (!existsSync(folder)) return [];
  const files = readdirSync(folder).filter((name) => name.startsWith(`${String(index)}-`));
  return files.flatMap((name) =>
    readFileSync(path.join(folder, name), 'utf8')
      .split('\n')
      // A run that was killed may leave half a line.
      .filter((text) => text.endsWith('}'))
      .map((text): OfSeed => JSON.parse(text, (_, value: unknown) => mapped(value))),
  );
}

/** Delays are a map, which JSON has no form for. */
function mapped(value: unknown): unknown {
  if (typeof value !== 'object' || value === null || !('bins' in value)) return value;
  const bins: readonly (readonly [number, number])[] = Array.isArray(value.bins) ? value.bins : [];
  return new Map(bins);
}

function plainMap(_: string, value: unknown): unknown {
  return value instanceof Map ? { bins: [...value] } : value;
}

function runAll(): void {
  mkdirSync(folder, { recursive: true });
  const [which = 1, of = 1] = part.split('/').map(Number);
  const done = settings.map((_, index) => new Set(keptOf(index).map(({ seed }) => seed)));
  const devices = settings.map((setting) => deviceOf(setting));
  for (let seed = which - 1; seed < seeds; seed += of) {
    for (const [index, setting] of settings.entries()) {
      const device = devices[index];
      if (device === undefined || done[index]?.has(seed) === true) continue;
      const tally = device.years(device.usage, `seed ${String(seed)}`, yearsOfSeed);
      const fitted = onlyYears ? [] : setting.days.map((days) => fromLog(device, days, seed));
      const found: OfSeed = { seed, tally, fitted };
      appendFileSync(fileOf(index), `${JSON.stringify(found, plainMap)}\n`);
    }
  }
}

if (part !== 'report') runAll();
let isGood = true;
for (const [index, setting] of settings.entries()) {
  const found = keptOf(index);
  if (found.length === 0) continue;
  const all = emptyTally();
  for (const { tally } of found) join(all, tally);
  const simulated = found.map(({ tally }) => estimateOf(tally, 0.95));
  const truth = estimateOf(all, 0.95);
  isGood = report(`${setting.name}: simulated years alone`, simulated, truth, 0.93) && isGood;
  for (const [at, days] of setting.days.entries()) {
    const fitted = found
      .flatMap(({ fitted: each }) => each[at] ?? [])
      .map(({ tally, resamples, evidence }) =>
        withEvidence(estimateOf(tally, 0.95, resamples), evidence),
      );
    if (fitted.length === 0) continue;
    const none = found.length - fitted.length;
    const title = `${setting.name}: a profile fitted to ${String(days)} days (${String(none)} more logs without a leave-open)`;
    isGood = report(title, fitted, truth, 0.9) && isGood;
  }
}
process.exitCode = isGood ? 0 : 1;
