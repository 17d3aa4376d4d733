// The host's answer: a stream of numbers, each record begun by its tag (assets/rig/rig.c), that may come in pieces.
// Firmware may have written over it: nothing in it is believed before its form is checked.
import { pushAll, utf8Text } from '../base/index.js';
import type { WakeCause } from '../machine/index.js';
import type { SendKind } from '../sim/index.js';

export interface RigWake {
  readonly cause: WakeCause;
  readonly wakeMs: number;
  /** When dw_wake was entered; null: a fault or the end came first. */
  readonly entryMs: number | null;
  /** The last reading before it sent something or went to sleep. */
  readonly check: { readonly atMs: number; readonly contact: 'open' | 'shut' } | null;
  /** Present: dw_wake was never entered, and the contact would have read shut when it should have been. */
  readonly wouldReadShut?: true;
  readonly reads: number;
  readonly blinks: number;
  readonly ends: 'asleep' | 'held' | 'cut' | 'failed' | 'before';
  readonly endMs: number;
  /** What it asked for, and how long that lasts in true time. */
  readonly sleep: { readonly nominalMs: number; readonly lengthMs: number } | null;
  readonly armed: 'none' | 'to-open' | 'all';
}

export interface RigSend {
  /** The wake that it was made in, where wakes are recorded. */
  readonly wake: number;
  readonly kind: SendKind;
  readonly startMs: number;
  readonly endMs: number;
  readonly outcome: 'delivered' | 'failed' | 'cutOff';
  /** It failed, or was cut off where it would have. */
  readonly metNoNetwork: boolean;
  /** The first check since the last alert attempt that read shut in a wake without an attempt; null: none. */
  readonly givenUpMs: number | null;
  /** What the contact read when it began. */
  readonly contact: 'open' | 'shut';
  /** Of its time, how long it waited for the network after the connect time. */
  readonly waitedMs: number;
}

/** Time that it took to join the network apart from a send. */
export interface RigJoin {
  readonly wake: number;
  readonly startMs: number;
  readonly endMs: number;
  readonly joined: boolean;
  /** It did not join, and would not have without what cut it off. */
  readonly metNoNetwork: boolean;
  /** As of a send. */
  readonly givenUpMs: number | null;
  readonly contact: 'open' | 'shut';
  readonly waitedMs: number;
}

export interface RigTotals {
  readonly checks: number;
  readonly openChecks: number;
  readonly wakes: Readonly<Record<WakeCause, number>>;
  readonly bootMs: number;
  readonly heldMs: number;
  readonly offMs: number;
  readonly failureCode: number;
  readonly endMs: number;
  readonly failureDetail: number;
  readonly printedBytes: number;
  /** Whether it ever called dw_idle_until_reset, and ever armed an edge. */
  readonly hasIdled: boolean;
  readonly hasArmed: boolean;
  /** Whether it ever read the battery's voltage. */
  readonly hasReadVoltage: boolean;
}

/** Everything that a host said of one timeline. */
export interface Reply {
  readonly wakes: readonly RigWake[];
  readonly sends: readonly RigSend[];
  readonly joins: readonly RigJoin[];
  /** When retained memory was lost: with the power, or by a reset that clears it. */
  readonly memoryLostMs: readonly number[];
  readonly printed: string;
  readonly memory: Readonly<Memory>;
  /** Null: the host ended, or what it said makes no sense, before the end. */
  readonly totals: RigTotals | null;
  /** Up to where it made sense, for where there are no totals. */
  readonly lastMs: number;
}

export interface ReplyReader {
  /** True: the answer is complete, or will never be. */
  push(numbers: Float64Array): boolean;
  readonly reply: () => Reply;
}

const causes: readonly WakeCause[] = ['power-on', 'reset', 'timer', 'contact'];
const ends = ['asleep', 'held', 'cut', 'failed', 'before'] as const;
const arms = ['none', 'to-open', 'all'] as const;
/** By the number that the host writes: cut off from a network that would have let it through, or would not. */
const sendEnds = [
  { outcome: 'delivered', metNoNetwork: false },
  { outcome: 'failed', metNoNetwork: true },
  { outcome: 'cutOff', metNoNetwork: false },
  { outcome: 'cutOff', metNoNetwork: true },
] as const;

const tag = {
  wake: 1,
  send: 2,
  end: 3,
  memoryLost: 4,
  printed: 5,
  memory: 6,
  again: 7,
  join: 8,
} as const;
const lengths: Readonly<Record<number, number>> = {
  [tag.wake]: 13,
  [tag.send]: 8,
  [tag.end]: 15,
  [tag.memoryLost]: 2,
  [tag.again]: 3,
  [tag.join]: 7,
};
const longestPiece = 2 ** 24;

interface Memory {
  before: Uint8Array | null;
  after: Uint8Array | null;
  /** Within the wake, when constructors have run. */
  built: Uint8Array | null;
}

/** By the number that the host writes. */
const memorySides = ['before', 'after', 'built'] as const;

const bytesFrom = (record: Float64Array, at: number): Uint8Array =>
  Uint8Array.from(record.subarray(at));

/** @param lengthMs of the timeline: no instant lies beyond it. */
export function openReply(lengthMs: number): ReplyReader {
  const wakes: RigWake[] = [];
  const sends: RigSend[] = [];
  const joins: RigJoin[] = [];
  const memoryLostMs: number[] = [];
  const memory: Memory = { before: null, after: null, built: null };
  let printed = '';
  let totals: RigTotals | null = null;
  let lastMs = 0;
  let left = noNumbers;

  /** False for what would go back in time, or beyond the end. */
  const goesOnTo = ({ startMs, endMs }: { startMs: number; endMs: number }): boolean => {
    const isLater = startMs >= lastMs && endMs <= lengthMs;
    if (isLater) lastMs = endMs;
    return isLater;
  };
  /** False for a record that makes no sense. */
  const take = (record: Float64Array): boolean => {
    switch (record[0] ?? 0) {
      case tag.wake: {
        const wake = wakeOf(record);
        if (wake === null || !goesOnTo({ startMs: wake.endMs, endMs: wake.endMs })) return false;
        return wakes.push(wake) > 0;
      }
      case tag.send: {
        const send = sendOf(record, wakes.length);
        return send !== null && goesOnTo(send) && sends.push(send) > 0;
      }
      case tag.again: {
        const more = repeated(wakes.at(-1), record, lengthMs);
        lastMs = more?.at(-1)?.endMs ?? lastMs;
        if (more !== null) pushAll(wakes, more);
        return more !== null;
      }
      case tag.join: {
        const join = joinOf(record, wakes.length);
        return join !== null && goesOnTo(join) && joins.push(join) > 0;
      }
      case tag.memoryLost:
        return memoryLostMs.push(record[1] ?? 0) > 0;
      case tag.printed:
        printed = utf8Text(bytesFrom(record, 2));
        return true;
      case tag.memory:
        return keptIn(memory, record);
      default:
        totals = totalsOf(record);
        return totals !== null;
    }
  };
  return {
    push(numbers) {
      const all = left.count === 0 ? numbers : joined(left, numbers);
      let at = 0;
      while (at < all.length) {
        const size = sizeOf(all, at);
        if (size === 0) break;
        if (size < 0 || !take(all.subarray(at, at + size))) return true;
        at += size;
        if (totals !== null) return true;
      }
      // A long record comes in many pieces: what is here of it stays where it is.
      left = at === 0 && left.count > 0 ? { ...left, count: all.length } : kept(all.subarray(at));
      return false;
    },
    reply: () => ({ wakes, sends, joins, memoryLostMs, printed, memory, totals, lastMs }),
  };
}

/** False for a side that is none. */
function keptIn(memory: Memory, record: Float64Array): boolean {
  const side = memorySides[record[1] ?? -1];
  if (side !== undefined) memory[side] = bytesFrom(record, 3);
  return side !== undefined;
}

/** How many numbers the record at `at` has; 0: not all here yet; −1: it is no record. */
function sizeOf(all: Float64Array, at: number): number {
  const kind = all[at] ?? 0;
  const fixed = lengths[kind];
  if (fixed !== undefined) return at + fixed <= all.length ? fixed : 0;
  const head = kind === tag.printed ? 2 : kind === tag.memory ? 3 : 0;
  if (head === 0) return -1;
  const count = all[at + head - 1];
  if (count === undefined) return 0;
  if (!Number.isInteger(count) || count < 0 || count > longestPiece) return -1;
  return at + head + count <= all.length ? head + count : 0;
}

/** The beginning of a record, with room behind it. */
interface Kept {
  numbers: Float64Array;
  count: number;
}

const noNumbers: Kept = { numbers: new Float64Array(0), count: 0 };

function kept(numbers: Float64Array): Kept {
  return { numbers: numbers.slice(), count: numbers.length };
}

/** Both in a row, in the room of the first: it grows to twice its size, so that many pieces cost no more than one. */
function joined(left: Kept, more: Float64Array): Float64Array {
  const count = left.count + more.length;
  if (count > left.numbers.length) {
    const wider = new Float64Array(2 * count);
    wider.set(left.numbers.subarray(0, left.count));
    left.numbers = wider;
  }
  left.numbers.set(more, left.count);
  return left.numbers.subarray(0, count);
}

function wakeOf(record: Float64Array): RigWake | null {
  const [, cause = -1, wakeMs = -1, entryMs = -1, readMs = -1, readOpen = -1] = record;
  const [reads = -1, blinks = -1, end = -1, endMs = -1, nominalMs = -1, lengthMs = -1, arm = -1] =
    record.subarray(6);
  const because = causes[cause];
  const ended = ends[end];
  const armed = arms[arm];
  if (because === undefined || ended === undefined || armed === undefined) return null;
  if (![wakeMs, endMs].every(isInstant) || wakeMs > endMs) return null;
  return {
    cause: because,
    wakeMs,
    entryMs: entryMs < 0 ? null : entryMs,
    check: readMs < 0 ? null : { atMs: readMs, contact: readOpen === 1 ? 'open' : 'shut' },
    ...(entryMs < 0 && readOpen === 0 ? { wouldReadShut: true } : {}),
    reads,
    blinks,
    ends: ended,
    endMs,
    sleep: ended === 'asleep' ? { nominalMs, lengthMs } : null,
    armed,
  };
}

/** The wakes that a record repeats, later; null: it makes no sense. */
function repeated(
  last: RigWake | undefined,
  record: Float64Array,
  lengthMs: number,
): readonly RigWake[] | null {
  const [, count = 0, periodMs = 0] = record;
  if (last === undefined || !isAgain(last, { count, periodMs, lengthMs })) return null;
  return Array.from({ length: count }, (_, index) => later(last, (index + 1) * periodMs));
}

/** Whether a wake can have been repeated so often without a break. */
function isAgain(
  { endMs, sleep }: RigWake,
  on: { readonly count: number; readonly periodMs: number; readonly lengthMs: number },
): boolean {
  const { count, periodMs, lengthMs } = on;
  const whole = Number.isSafeInteger(count) && Number.isSafeInteger(periodMs);
  return (
    whole && sleep !== null && count > 0 && periodMs > 0 && endMs + count * periodMs <= lengthMs
  );
}

function later(wake: RigWake, byMs: number): RigWake {
  const { wakeMs, entryMs, check, endMs } = wake;
  return {
    ...wake,
    wakeMs: wakeMs + byMs,
    entryMs: entryMs === null ? null : entryMs + byMs,
    check: check === null ? null : { ...check, atMs: check.atMs + byMs },
    endMs: endMs + byMs,
  };
}

function sendOf(record: Float64Array, wake: number): RigSend | null {
  const [, kind = -1, startMs = -1, endMs = -1, code = -1, givenUpMs = -1, open = -1] = record;
  const ended = sendEnds[code];
  const waitedMs = record[7] ?? 0;
  if (ended === undefined || !isStretch(startMs, endMs, waitedMs)) return null;
  return {
    wake,
    kind: kind === 0 ? 'alert' : kind === 1 ? 'heartbeat' : 'lowBattery',
    startMs,
    endMs,
    ...ended,
    givenUpMs: givenUpMs < 0 ? null : givenUpMs,
    contact: open === 1 ? 'open' : 'shut',
    waitedMs,
  };
}

/** Whether something may have lasted from one instant to another, this wait included. */
function isStretch(startMs: number, endMs: number, waitedMs: number): boolean {
  return [startMs, endMs, waitedMs].every(isInstant) && waitedMs <= endMs - startMs;
}

function joinOf(record: Float64Array, wake: number): RigJoin | null {
  const [, startMs = -1, endMs = -1, joined = 0, givenUpMs = -1, open = 0, waitedMs = 0] = record;
  if (!isStretch(startMs, endMs, waitedMs)) return null;
  return {
    wake,
    startMs,
    endMs,
    joined: joined === 1,
    metNoNetwork: joined === 0,
    givenUpMs: givenUpMs < 0 ? null : givenUpMs,
    contact: open === 1 ? 'open' : 'shut',
    waitedMs,
  };
}

function totalsOf(record: Float64Array): RigTotals | null {
  if (!record.every(Number.isFinite)) return null;
  const [, checks = 0, openChecks = 0, powerOn = 0, reset = 0, timer = 0, contact = 0] = record;
  const [bootMs = 0, heldMs = 0, offMs = 0, failureCode = 0, endMs = 0, failureDetail = 0] =
    record.subarray(7);
  return {
    checks,
    openChecks,
    wakes: { 'power-on': powerOn, reset, timer, contact },
    bootMs,
    heldMs,
    offMs,
    failureCode,
    endMs,
    failureDetail,
    printedBytes: record[13] ?? 0,
    hasIdled: (record[14] ?? 0) % 2 === 1,
    hasArmed: ((record[14] ?? 0) & 2) !== 0,
    hasReadVoltage: ((record[14] ?? 0) & 4) !== 0,
  };
}

function isInstant(value: number): boolean {
  return Number.isSafeInteger(value) && value >= 0;
}
