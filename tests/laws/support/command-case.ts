// A random watch file in a folder with what commands print of it, for laws that compare them.
import { inOwnFolder, type Ran, runIn } from './in-process.js';
import type { LawCase } from './law-case.js';

/** A figure or an answer at rest, and from any state. */
export interface AtRestAndAnyState<T> {
  readonly atRest: T;
  readonly anyState: T;
}

/** The keys of `bounds --json` that laws look at. */
export interface BoundsJson {
  readonly asked: Readonly<Record<string, number | null>>;
  readonly exactness: { readonly unknown: readonly { readonly bounds: readonly string[] }[] };
  readonly alwaysReportedFromMs: AtRestAndAnyState<number | null>;
  readonly neverAlarmedUpToMs: number | null;
  readonly worstDelayMs: AtRestAndAnyState<number | null>;
  readonly bestDelayMs: number | null;
  readonly holds: Readonly<Record<string, AtRestAndAnyState<boolean | null>>>;
  readonly remedies: readonly RemedyJson[];
  readonly witnesses: readonly WitnessJson[];
}

export interface RemedyJson {
  readonly holds: 'atRest' | 'anyState';
  readonly changes: readonly { readonly key: string; readonly value: string }[];
  readonly alwaysReportedFromMs: number;
  readonly worstDelayMs: number | null;
  readonly neverAlarmedUpToMs: number | null;
}

interface WitnessJson {
  readonly bound: string;
  readonly decidedAfterMs: number | null;
  readonly deliveredAfterMs: number | null;
  readonly file: string | null;
}

/** A case at work: its files in a folder, and what `bounds` says of it, asked once. */
export interface CommandCase {
  readonly one: LawCase;
  readonly folder: string;
  readonly bounds: BoundsJson;
}

/** Null: `bounds` gave the case up, and claims nothing. */
export async function atWork<T>(
  one: LawCase,
  work: (at: CommandCase) => Promise<T>,
): Promise<T | null> {
  const files = { 'watch.yaml': one.watchText, 'scenario.yaml': one.scenarioText };
  return await inOwnFolder(files, async (folder) => {
    const ran = await runIn(folder, ['bounds', '-c', 'watch.yaml', '--json', '--witness', 'shown']);
    if (ran.status === 2 && ran.stderr.includes('[too-many-states]')) return null;
    mustEnd(ran, [0, 1]);
    const bounds: BoundsJson = JSON.parse(ran.stdout);
    return await work({ one, folder, bounds });
  });
}

/** @throws Error when a command ended in another way than it may. */
export function mustEnd(ran: Ran, statuses: readonly number[]): void {
  if (statuses.includes(ran.status)) return;
  throw new Error(
    `dozewatch ${ran.args.join(' ')} ended with ${String(ran.status)}:\n${ran.stderr}${ran.stdout.slice(0, 400)}`,
  );
}

/** The keys of `replay --json` that laws look at. */
export interface ReplayJson {
  readonly summary: Readonly<Record<string, number>> & {
    readonly missed: number;
    readonly late: number;
    readonly worstDelayMs: number | null;
  };
  readonly openings: readonly { readonly fromMs: number; readonly delayMs: number | null }[];
  readonly alerts: readonly { readonly opening: number | null; readonly decidedMs: number }[];
}

/** The one replay that `replay --json` printed. */
export function replayIn(stdout: string): ReplayJson {
  const found: { readonly replays: readonly ReplayJson[] } = JSON.parse(stdout);
  const [replay] = found.replays;
  if (replay === undefined) throw new Error(`no replay was printed: ${stdout}`);
  return replay;
}
