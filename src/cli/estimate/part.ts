// A part of an estimate as a file: which estimate it is of, which years, and what they came to.
import { createHash } from 'node:crypto';
import { firstTooDeep } from '../../base/index.js';
import {
  countNames,
  decidedNames,
  emptyTally,
  eventNames,
  type Tally,
  yearlyNames,
} from '../../estimate/index.js';
import { mostLevels } from '../../model/index.js';
import { type InputProblem, problem } from '../problem.js';
import type { EstimateQuestion } from './task.js';
import type { EstimateHead } from './view.js';

/** Goes up with the form of the file and with what a seed draws: years of one version do not go with another's. */
const partVersion = 9;
const schemaStart = 'dozewatch/estimate-part/';

export interface EstimatePart {
  readonly head: EstimateHead;
  /** Of everything that decides the years: two parts with another one are of other estimates. */
  readonly fingerprint: string;
  readonly from: number;
  readonly to: number;
  readonly tally: Tally;
  /** The years of resamples `resamplesFrom` and following. */
  readonly resamplesFrom: number;
  readonly resamples: readonly Tally[];
}

export function fingerprintOf(question: EstimateQuestion): string {
  return createHash('sha256').update(JSON.stringify(question)).digest('hex');
}

export function partText({ tally, resamples, ...part }: EstimatePart): string {
  const schema = `${schemaStart}${String(partVersion)}`;
  const whole = { schema, ...part, tally: written(tally), resamples: resamples.map(written) };
  return `${JSON.stringify(whole)}\n`;
}

function written(tally: Tally) {
  const { missed, late, falseAlarms } = tally.yearsByCount;
  const yearsByCount = {
    missed: ascending(missed),
    late: ascending(late),
    falseAlarms: ascending(falseAlarms),
  };
  return { ...tally, yearsByCount, delays: ascending(tally.delays) };
}

function ascending(counts: ReadonlyMap<number, number>): readonly (readonly [number, number])[] {
  return [...counts].sort((a, b) => a[0] - b[0]);
}

type Fields = Readonly<Record<string, unknown>>;

/** @throws InputProblem when the text is not a part, or one of another version. */
export function readPart(text: string, file: string): EstimatePart {
  const root = fieldsOf(parsed(text, file));
  const version = versionOf(root?.['schema']);
  if (root === null || version === null) throw notAPart(file, 'schema');
  if (version !== partVersion) throw ofAnotherVersion(file, version);
  const head = headOf(root['head']);
  const tally = tallyOf(root['tally']);
  const { fingerprint, from, to } = root;
  if (head === null) throw notAPart(file, 'head');
  if (tally === null) throw notAPart(file, 'tally');
  if (typeof fingerprint !== 'string') throw notAPart(file, 'fingerprint');
  if (!isCount(from) || !isCount(to) || tally.years !== to - from || to > head.yearsAsked) {
    throw notAPart(file, 'from and to');
  }
  const { resamplesFrom, resamples } = root;
  const tallies = Array.isArray(resamples) ? resamples.map(tallyOf) : null;
  const isWhole = tallies?.every((one) => one !== null && one.years === head.resamples?.yearsEach);
  if (!isCount(resamplesFrom) || tallies === null || isWhole !== true) {
    throw notAPart(file, 'resamples');
  }
  const known = tallies.filter((one) => one !== null);
  return { head, fingerprint, from, to, tally, resamplesFrom, resamples: known };
}

/** Null: this is not the schema of a part. */
function versionOf(schema: unknown): number | null {
  if (typeof schema !== 'string' || !schema.startsWith(schemaStart)) return null;
  const version = schema.slice(schemaStart.length);
  return /^[1-9]\d{0,8}$/u.test(version) ? Number(version) : null;
}

function ofAnotherVersion(file: string, version: number): InputProblem {
  const which = version < partVersion ? 'an older' : 'a newer';
  return problem('part-of-another-version', file, {
    message: `this part is from ${which} version of dozewatch, which simulates other years from the same seed`,
    found: `${schemaStart}${String(version)}`,
    expected: `${schemaStart}${String(partVersion)}`,
    hint: 'run all parts again with the same version',
  });
}

function parsed(text: string, file: string): unknown {
  if (firstTooDeep(text, mostLevels) !== null) {
    throw problem('file-too-deep', file, {
      message: `the file is nested more than ${String(mostLevels)} levels deep`,
      expected: 'a file from dozewatch estimate --shard',
    });
  }
  try {
    return JSON.parse(text);
  } catch {
    throw notAPart(file, 'JSON');
  }
}

function notAPart(file: string, what: string): InputProblem {
  return problem('not-a-part', file, {
    message: 'this is not a part of an estimate, or it was damaged',
    found: what === 'JSON' ? 'text that is not JSON' : `no valid ${what}`,
    expected: 'a file from dozewatch estimate --shard',
  });
}

function fieldsOf(value: unknown): Fields | null {
  const isRecord = (one: unknown): one is Fields =>
    typeof one === 'object' && one !== null && !Array.isArray(one);
  return isRecord(value) ? value : null;
}

function isCount(value: unknown): value is number {
  return Number.isSafeInteger(value) && typeof value === 'number' && value >= 0;
}

function isCountOrNull(value: unknown): value is number | null {
  return value === null || isCount(value);
}

function headOf(value: unknown): EstimateHead | null {
  const fields = fieldsOf(value);
  if (fields === null) return null;
  const {
    seed,
    yearsAsked,
    profile,
    watch,
    logic,
    leaveOpenAfterMs,
    reportWithinMs,
    assumes,
    sureAtRest,
    bestAtRestMs,
    next,
  } = fields;
  if (!Array.isArray(assumes) || !assumes.every((one) => typeof one === 'string')) return null;
  const outages = mishapsOf(fields['outages']);
  const powerCuts = mishapsOf(fields['powerCuts']);
  if (typeof seed !== 'string' || typeof profile !== 'string' || !isCount(yearsAsked)) return null;
  if (watch !== null && typeof watch !== 'string') return null;
  if (logic !== null && typeof logic !== 'string') return null;
  if (!isCount(leaveOpenAfterMs) || !isCountOrNull(reportWithinMs)) return null;
  if (typeof next !== 'string') return null;
  if (outages === undefined || powerCuts === undefined) return null;
  const resamples = resamplesIn(fields['resamples']);
  const fitted = fittedIn(fields['fitted']);
  if (resamples === undefined || fitted === undefined) return null;
  const asked = {
    leaveOpenAfterMs,
    reportWithinMs,
    outages,
    powerCuts,
    resamples,
    fitted,
    sureAtRest: typeof sureAtRest === 'boolean' ? sureAtRest : null,
    bestAtRestMs: isCount(bestAtRestMs) ? bestAtRestMs : null,
    assumes,
    next,
    everyPhase: null,
  };
  return { seed, yearsAsked, profile, watch, logic, ...asked };
}

/** Undefined: not to be understood. */
function resamplesIn(value: unknown): EstimateHead['resamples'] | undefined {
  if (value === null) return null;
  const { count, yearsEach } = fieldsOf(value) ?? {};
  return isCount(count) && isCount(yearsEach) ? { count, yearsEach } : undefined;
}

/** Undefined: not to be understood. */
function fittedIn(value: unknown): EstimateHead['fitted'] | undefined {
  if (value === null) return null;
  const { days, openings, leaveOpens, leaveOpensApart, isWritten, isRecounted } =
    fieldsOf(value) ?? {};
  if (typeof days !== 'number' || !isCount(openings) || !isCount(leaveOpens)) return undefined;
  return {
    days,
    openings,
    leaveOpens,
    ...(typeof leaveOpensApart === 'number' ? { leaveOpensApart } : {}),
    ...(isWritten === true ? { isWritten } : {}),
    ...(isRecounted === true ? { isRecounted } : {}),
  };
}

/** Undefined: not to be understood. */
function mishapsOf(value: unknown): EstimateHead['outages'] | undefined {
  if (value === null) return null;
  const { perYear, meanMs } = fieldsOf(value) ?? {};
  return typeof perYear === 'number' && isCount(meanMs) ? { perYear, meanMs } : undefined;
}

function tallyOf(value: unknown): Tally | null {
  const fields = fieldsOf(value);
  const counts = fieldsOf(fields?.['counts']);
  const squares = fieldsOf(fields?.['squares']);
  const decided = fieldsOf(fields?.['decided']);
  const { years, missedByLoss, leastDelayMs, worstDelayMs } = fields ?? {};
  const delays = pairsOf(fields?.['delays']);
  if (counts === null || squares === null || decided === null || delays === null) return null;
  if (!isCount(years) || !isCountOrNull(leastDelayMs) || !isCountOrNull(worstDelayMs)) return null;
  if (!isCount(missedByLoss)) return null;
  const tally = { ...emptyTally(), years, missedByLoss, leastDelayMs, worstDelayMs };
  for (const name of countNames) {
    const count = counts[name];
    if (!isCount(count)) return null;
    tally.counts[name] = count;
  }
  for (const name of eventNames) {
    const square = squares[name];
    if (!isCount(square)) return null;
    tally.squares[name] = square;
  }
  for (const name of decidedNames) {
    const sum = decided[name];
    if (!isCount(sum)) return null;
    tally.decided[name] = sum;
  }
  if (!delays.every((pair) => takePair(tally.delays, pair))) return null;
  return takeYears(tally, fieldsOf(fields?.['yearsByCount'])) ? addsUp(tally) : null;
}

function pairsOf(value: unknown): readonly (readonly unknown[])[] | null {
  const isPair = (one: unknown): one is readonly unknown[] =>
    Array.isArray(one) && one.length === 2;
  if (!Array.isArray(value)) return null;
  const pairs = value.filter(isPair);
  return pairs.length === value.length ? pairs : null;
}

function takePair(into: Map<number, number>, [key, count]: readonly unknown[]): boolean {
  if (!isCount(key) || !isCount(count)) return false;
  into.set(key, count);
  return true;
}

/** Of each year one count, and all of them together what is counted. */
function takeYears(tally: Tally, fields: Fields | null): boolean {
  return yearlyNames.every((name) => {
    const years = tally.yearsByCount[name];
    const pairs = pairsOf(fields?.[name]);
    if (pairs?.every((pair) => takePair(years, pair)) !== true) return false;
    const all = [...years];
    const counted = all.reduce((sum, [count, many]) => sum + count * many, 0);
    const whole = all.reduce((sum, [, many]) => sum + many, 0);
    return whole === tally.years && counted === tally.counts[name];
  });
}

/** Every leave-open has one outcome, and every reported or late one a delay; no more misses are by loss than there are. */
function addsUp(tally: Tally): Tally | null {
  const { leaveOpens, reported, late, missed, undecided } = tally.counts;
  const delays = [...tally.delays.values()].reduce((sum, count) => sum + count, 0);
  const whole = leaveOpens === reported + late + missed + undecided && delays === reported + late;
  return whole && tally.missedByLoss <= missed ? tally : null;
}
