// From parsed JSON to a certificate: every key there, none besides, every value of its type. Nothing is believed yet.
import {
  type Certificate,
  type Course,
  type Courses,
  certificateSchema,
  type Proof,
  type Span,
  type StateRow,
} from './format.js';
import type { Situation } from './machine.js';
import type { Range } from './readings.js';
import { isRecord, malformed } from './refusal.js';
import type { Environment } from './rules.js';

type Read<T> = (value: unknown, place: string) => T;

const whole: Read<number> = (value, place) =>
  typeof value === 'number' && Number.isSafeInteger(value) && !Object.is(value, -0)
    ? value
    : malformed(place, value, 'a whole number');

const count: Read<number> = (value, place) => {
  const number = whole(value, place);
  return number >= 0 ? number : malformed(place, value, 'a whole number, not below 0');
};

const truth: Read<boolean> = (value, place) =>
  typeof value === 'boolean' ? value : malformed(place, value, 'true or false');

const text: Read<string> = (value, place) =>
  typeof value === 'string' ? value : malformed(place, value, 'a text');

function oneOf<const T extends string>(...words: readonly T[]): Read<T> {
  return (value, place) =>
    words.find((word) => word === value) ?? malformed(place, value, words.join(', '));
}

function orNull<T>(read: Read<T>): Read<T | null> {
  return (value, place) => (value === null ? null : read(value, place));
}

function list<T>(read: Read<T>): Read<readonly T[]> {
  return (value, place) =>
    Array.isArray(value)
      ? value.map((item: unknown, index) => read(item, `${place}/${String(index)}`))
      : malformed(place, value, 'a list');
}

/** An object with exactly these keys. */
function object<T>(keys: { readonly [Key in keyof T]: Read<T[Key]> }): Read<T> {
  return (value, place) => {
    if (!isRecord(value)) return malformed(place, value, 'an object');
    const unknown = Object.keys(value).find((key) => !Object.hasOwn(keys, key));
    if (unknown !== undefined) malformed(`${place}/${unknown}`, value[unknown], 'no such key');
    const entries = Object.entries<Read<unknown>>(keys).map(([key, read]) => {
      if (!Object.hasOwn(value, key)) malformed(`${place}/${key}`, undefined, 'this key');
      return [key, read(value[key], `${place}/${key}`)] as const;
    });
    return Object.fromEntries(entries) as T;
  };
}

const span: Read<Span> = (value, place) => {
  const [from, to, ...more] = list(whole)(value, place);
  return from !== undefined && to !== undefined && from < to && more.length === 0
    ? [from, to]
    : malformed(place, value, '[from, to], the first before the second');
};

const bounds: Read<Readonly<Record<string, number>>> = (value, place) =>
  isRecord(value)
    ? Object.fromEntries(
        Object.entries(value).map(([key, bound]) => [key, whole(bound, `${place}/${key}`)]),
      )
    : malformed(place, value, 'an object of whole numbers');

const range: Read<Range> = (value, place) => {
  const read = object<Range>({ least: whole, most: whole })(value, place);
  return read.least <= read.most ? read : malformed(place, value, 'least not over most');
};

const budget = oneOf('unused', 'active', 'spent');

const situation = object<Situation>({
  then: oneOf('alert', 'heartbeat', 'check', 'recheck', 'retry', 'hold'),
  contact: oneOf('open', 'shut'),
  escalated: truth,
  recentChecks: count,
  shutRun: count,
  alertPending: truth,
  failedAttempts: count,
  coolingDown: truth,
});

const state = object<StateRow>({
  situation: count,
  phase: oneOf('rest', 'before', 'starting', 'during', 'decided'),
  alerted: truth,
  outage: budget,
  chatter: budget,
  lossesLeft: count,
  resetsLeft: count,
  clocks: bounds,
  next: list(count),
});

const proof = object<Proof>({ first: list(count), states: list(state) });

const course = object<Course>({
  opensAtMs: count,
  doorOpenMs: list(span),
  networkDownMs: list(span),
  powerLostMs: list(span),
  resetsMs: list(count),
  readsShutMs: list(span),
  bootsMs: list(count),
  connectsMs: list(count),
  sleepsMs: list(count),
  checksum: text,
});

const twoBounds = object({ atRest: count, anyState: orNull(count) });

const certificate = object<Certificate>({
  schema: oneOf(certificateSchema),
  watch: (value) => value,
  device: object({ bootMs: range, connectMs: range, clockErrorPpm: range }),
  environment: object<Environment & { readonly checksum: string }>({
    longestOutageMs: count,
    powerLosses: count,
    longestPowerLossMs: count,
    resets: count,
    longestChatterMs: count,
    checksum: text,
  }),
  bounds: object({
    alwaysReportedFromMs: twoBounds,
    neverAlarmedUpToMs: count,
    worstDelayMs: twoBounds,
    bestDelayMs: count,
  }),
  situations: list(situation),
  rest: proof,
  latestAtRest: proof,
  latestFromAnyState: orNull(proof),
  earliestAtRest: proof,
  courses: object<Courses>({
    latestDecisionAtRest: orNull(course),
    latestDeliveryAtRest: orNull(course),
    latestDecisionFromAnyState: orNull(course),
    latestDeliveryFromAnyState: orNull(course),
    earliestDecisionAtRest: orNull(course),
    earliestDeliveryAtRest: orNull(course),
    neverReported: orNull(course),
  }),
});

/** @throws RefusedError where the value is not made like a certificate. */
export function decodeCertificate(value: unknown): Certificate {
  return certificate(value, '');
}
