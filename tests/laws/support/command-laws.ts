// Commands about one watch file agree: what any of them calls proved is what `bounds` proves for the file, remedies and
// tuned files keep what they promise, and witnesses replay.
import { existsSync, readFileSync } from 'node:fs';
import path from 'node:path';
import {
  overlaidWatchText,
  parseWatchFile,
  type WatchOverride,
} from '../../../src/scenarios/index.js';
import {
  type BoundsJson,
  type CommandCase,
  mustEnd,
  type RemedyJson,
  replayIn,
} from './command-case.js';
import { inOwnFolder, type Ran, runIn } from './in-process.js';
import type { Broken } from './law-case.js';

/** Witnesses replay to the millisecond, and what is proved at rest is not refuted by any of them. */
export async function witnessLaw({ folder, bounds }: CommandCase): Promise<Broken> {
  const broken: string[] = [];
  const watch = existsSync(path.join(folder, 'shown', 'watch.yaml'))
    ? 'shown/watch.yaml'
    : 'watch.yaml';
  for (const { bound, file, decidedAfterMs, deliveredAfterMs } of bounds.witnesses) {
    if (file === null) continue;
    const ran = await runIn(folder, ['replay', file, '-c', watch, '--json']);
    mustEnd(ran, [0, 1]);
    const { openings, alerts, summary } = replayIn(ran.stdout);
    const isShown = openings.some(({ fromMs, delayMs }, index) => {
      const first = alerts.find(({ opening }) => opening === index);
      const decided = first === undefined ? null : first.decidedMs - fromMs;
      return (
        decided === decidedAfterMs && (deliveredAfterMs === null || delayMs === deliveredAfterMs)
      );
    });
    if (!isShown) broken.push(`the witness of ${bound} does not show it: ${ran.stdout}`);
    if (
      bound.endsWith('.atRest') &&
      allHold(bounds, 'atRest') &&
      summary.missed + summary.late > 0
    ) {
      broken.push(`all is proved at rest, and the witness of ${bound} misses: ${ran.stdout}`);
    }
  }
  return broken;
}

function allHold({ holds }: BoundsJson, from: 'atRest' | 'anyState'): boolean {
  return Object.values(holds).every((one) => one[from] !== false);
}

/** Every remedy can be written into the file, and does there what it says. */
export async function remedyLaw(at: CommandCase, most: number): Promise<Broken> {
  const broken: string[] = [];
  for (const [index, remedy] of at.bounds.remedies.slice(0, most).entries()) {
    const text = withChanges(at.one.watchText, remedy.changes);
    const words = JSON.stringify(remedy.changes);
    const read = parseWatchFile(text, 'remedied.yaml');
    if (!read.ok) {
      broken.push(`the remedy ${words} is refused: ${JSON.stringify(read.errors)}`);
      continue;
    }
    const folder = `remedy-${String(index)}`;
    const proved = await inOwnFolder({ 'watch.yaml': text }, async (own) => {
      const ran = await runIn(own, ['bounds', '-c', 'watch.yaml', '--json', '--witness', folder]);
      mustEnd(ran, [0, 1]);
      const bounds: BoundsJson = JSON.parse(ran.stdout);
      broken.push(...(await witnessLaw({ ...at, folder: own, bounds })));
      return bounds;
    });
    broken.push(...remedyBroken(remedy, proved).map((says) => `${words}: ${says}`));
  }
  return broken;
}

function remedyBroken(remedy: RemedyJson, proved: BoundsJson): Broken {
  const from = remedy.holds;
  const unequal = (name: string, claimed: number | null, got: number | null): Broken =>
    claimed === got ? [] : [`${name} ${String(claimed)} is claimed, and ${String(got)} proved`];
  return [
    ...(allHold(proved, from) ? [] : [`all is to hold ${from}: ${JSON.stringify(proved.holds)}`]),
    ...unequal('sure from', remedy.alwaysReportedFromMs, proved.alwaysReportedFromMs[from]),
    ...unequal('worst latency', remedy.worstDelayMs, proved.worstDelayMs[from]),
    ...unequal('quiet up to', remedy.neverAlarmedUpToMs, proved.neverAlarmedUpToMs),
  ];
}

/** The watch file with changes of `watch:` in it, as its owner would write them. */
export function withChanges(
  text: string,
  changes: readonly { readonly key: string; readonly value: string }[],
): string {
  const overrides = changes.map(({ key, value }): WatchOverride => {
    const written = /^\d+$/u.test(value) ? Number(value) : thresholdOf(value);
    return { path: ['watch', key], value: written, text: value, source: 'a remedy' };
  });
  return overlaidWatchText(text, 'watch.yaml', { overrides, comment: [] });
}

function thresholdOf(value: string): unknown {
  const [match, open, outOf] = /^\{ open: (\d+), outOf: (\d+) \}$/u.exec(value) ?? [];
  return match === undefined ? value : { open: Number(open), outOf: Number(outOf) };
}

/** What margin counts on is what bounds proves. */
export async function marginLaw({ folder, bounds }: CommandCase): Promise<Broken> {
  const rooms = ['--start', '2C', '--outside', '21C', '--limit', '8C', '--tau-open', '3h'];
  const ran = await runIn(folder, ['margin', '-c', 'watch.yaml', ...rooms, '--json']);
  mustEnd(ran, [0, 1, 2]);
  const provedMs = bounds.worstDelayMs.atRest;
  if (ran.status === 2) {
    return provedMs === null
      ? []
      : [`margin finds no worst latency, and it is ${String(provedMs)} ms`];
  }
  const { worstDelayMs }: { readonly worstDelayMs: number } = JSON.parse(ran.stdout);
  return worstDelayMs === provedMs
    ? []
    : [`margin counts on ${String(worstDelayMs)} ms, and ${String(provedMs)} ms are proved`];
}

interface TuneJson {
  readonly front: readonly TunedJson[];
  readonly recommended: TunedJson | null;
}

interface TunedJson {
  readonly settings: Readonly<Record<string, unknown>>;
  readonly alwaysReportedFromMs: number | null;
  readonly worstDelayMs: number | null;
  readonly neverAlarmedUpToMs: number | null;
}

/** What tune proves of settings, and of the file it writes, is what bounds proves of that file. */
export async function tuneLaw({ one, folder, bounds }: CommandCase): Promise<Broken> {
  const args = [
    'tune',
    '-c',
    'watch.yaml',
    '--interval',
    '1m,2m',
    '--recheck',
    '1m',
    '--threshold',
    '2',
  ];
  const ran = await runIn(folder, [
    ...args,
    '--wake-on',
    'timer',
    '--years',
    '1',
    '--jobs',
    '1',
    '--output',
    'tuned.yaml',
    '--json',
  ]);
  mustEnd(ran, [0, 1, 2]);
  if (ran.status === 2) {
    return one.watchFile.supply === null ? [] : refusedWithoutReason(ran);
  }
  const { front, recommended }: TuneJson = JSON.parse(ran.stdout);
  const broken: string[] = [];
  for (const tuned of front.slice(0, 2)) {
    const got = await boundsOfText(withSettings(one.watchText, tuned.settings));
    broken.push(...tunedBroken(tuned, got));
  }
  if (recommended === null) return broken;
  const text = readFileSync(path.join(folder, 'tuned.yaml'), 'utf8');
  const got = await boundsOfText(text);
  broken.push(...tunedBroken(recommended, got));
  if (!allHold(got, 'atRest')) {
    broken.push(`the tuned file does not meet the requirements: ${JSON.stringify(got.holds)}`);
  }
  if (JSON.stringify(got.asked) !== JSON.stringify(bounds.asked)) {
    broken.push('the tuned file asks something else');
  }
  return broken;
}

/** A requirement may contradict itself; that is said, with its code. */
function refusedWithoutReason({ stderr }: Ran): Broken {
  return /\[[a-z-]+\]/u.test(stderr) ? [] : [`tune is refused without a reason: ${stderr}`];
}

function tunedBroken(tuned: TunedJson, got: BoundsJson): Broken {
  const pairs: readonly (readonly [string, number | null, number | null])[] = [
    ['sure from', tuned.alwaysReportedFromMs, got.alwaysReportedFromMs.atRest],
    ['worst latency', tuned.worstDelayMs, got.worstDelayMs.atRest],
    ['quiet up to', tuned.neverAlarmedUpToMs, got.neverAlarmedUpToMs],
  ];
  return pairs.flatMap(([name, claimed, proved]) =>
    claimed === proved
      ? []
      : [`tune says ${name} ${String(claimed)}, and bounds ${String(proved)}`],
  );
}

async function boundsOfText(text: string): Promise<BoundsJson> {
  return await inOwnFolder({ 'watch.yaml': text }, async (folder) => {
    const ran = await runIn(folder, ['bounds', '-c', 'watch.yaml', '--json']);
    mustEnd(ran, [0, 1]);
    const bounds: BoundsJson = JSON.parse(ran.stdout);
    return bounds;
  });
}

/** Settings of `tune --json` as a file has them. */
function withSettings(text: string, settings: Readonly<Record<string, unknown>>): string {
  const overrides = Object.entries(settings).map(([name, value]): WatchOverride => {
    const isTime = name.endsWith('Ms');
    const key = isTime ? name.slice(0, -2) : name;
    const written = isTime ? `${String(value)}ms` : value;
    return { path: ['watch', key], value: written, text: JSON.stringify(value), source: 'tune' };
  });
  return overlaidWatchText(text, 'watch.yaml', { overrides, comment: [] });
}

/** The report page carries the figures of the data sheet. */
export async function reportLaw({ folder, bounds }: CommandCase): Promise<Broken> {
  const ran = await runIn(folder, [
    'report',
    'scenario.yaml',
    '-c',
    'watch.yaml',
    '-o',
    'report.html',
  ]);
  mustEnd(ran, [0, 1]);
  const html = readFileSync(path.join(folder, 'report.html'), 'utf8').replaceAll(/<[^>]*>/gu, ' ');
  const seconds = (ms: number): string =>
    `${String(Math.floor(ms / 1_000)).replaceAll(/\B(?=(?:\d{3})+$)/gu, ',')}.${String(ms % 1_000).padStart(3, '0')}`;
  const figures = [
    bounds.alwaysReportedFromMs.atRest,
    bounds.alwaysReportedFromMs.anyState,
    bounds.worstDelayMs.atRest,
    bounds.worstDelayMs.anyState,
    bounds.neverAlarmedUpToMs,
    bounds.bestDelayMs,
  ];
  return figures
    .filter((ms) => ms !== null)
    .filter((ms) => !html.includes(seconds(ms)))
    .map((ms) => `the report lacks ${seconds(ms)} s, which bounds proves`);
}

interface DrillJson {
  readonly proved: { readonly sureFromMs: number | null; readonly quietUpToMs: number | null };
}

/** What a drill calls proved is what bounds proves of the same watch where nothing goes wrong. */
export async function drillLaw({ one, folder }: CommandCase): Promise<Broken> {
  const ran = await runIn(folder, ['drill', '-c', 'watch.yaml', '--short', '--json']);
  mustEnd(ran, [0, 1]);
  const { proved }: DrillJson = JSON.parse(ran.stdout);
  const got = await boundsOfText(withoutEnvironment(one.watchText));
  const isSame =
    (proved.sureFromMs === null || proved.sureFromMs === got.alwaysReportedFromMs.atRest) &&
    (proved.quietUpToMs === null || proved.quietUpToMs === got.neverAlarmedUpToMs);
  return isSame
    ? []
    : [
        `a drill calls proved ${JSON.stringify(proved)}, and bounds ${JSON.stringify(got.alwaysReportedFromMs)}, ${String(got.neverAlarmedUpToMs)}`,
      ];
}

function withoutEnvironment(text: string): string {
  const override = { path: ['environment'], value: {}, text: '', source: 'a law' };
  return overlaidWatchText(text, 'watch.yaml', { overrides: [override], comment: [] });
}
