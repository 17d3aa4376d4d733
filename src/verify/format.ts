// A certificate as its file spells it out, and its shape. Instants count in true milliseconds from the first power-on.
import * as z from 'zod';
import { type Refusal, valueText } from './refusal.js';

export const certificateSchema = 'dozewatch/certificate/3';

/** Not −0: it would stand for 0 without being the same. */
const whole = z.int().refine((value) => !Object.is(value, -0), { message: 'a whole number' });
const count = whole.min(0);
const span = z.strictObject({ least: whole, most: whole });
const bound = z.strictObject({ atRest: count, anyState: count.nullable() });

/** The most that may go wrong. */
const environment = z.strictObject({
  /** Outages of the network. One may begin as another ends. */
  outages: count,
  /** From the first failed send until its end; 0 for none. */
  longestOutageMs: count,
  powerLosses: count,
  longestPowerLossMs: count,
  resets: count,
  /** One stretch in which the contact of an open door may read shut; 0 for none. */
  longestChatterMs: count,
  checksum: z.string(),
});

/** Where everything may stand as an activity of the device begins. */
const state = z.strictObject({
  /** What it is at, and what it remembers. */
  device: z.string(),
  phase: z.enum(['rest', 'stirred', 'before', 'during', 'decided']),
  door: z.enum(['shut', 'open']),
  /** The opening has had an alert decided. */
  alerted: z.boolean(),
  /** Faults that may still begin. */
  left: z.strictObject({ outage: count, chatter: count, powerLoss: count, reset: count }),
  /** Bounds by name, `opening <=` or `opening - cooldown >=`. A clock without any is past all that matters. */
  clocks: z.record(z.string(), whole),
  /** For each thing that can come next, in the checker's order: the state that it is in. */
  next: z.array(count),
});

const proof = z.strictObject({
  /** The states of what can come first. */
  first: z.array(count),
  states: z.array(state),
  checksum: z.string(),
});

const instants = z.array(count);
const spans = z.array(z.tuple([count, count]));

/** One world in which a bound is reached, or in which the device never reports the opening. */
const course = z.strictObject({
  /** When the opening in question begins; it never ends. */
  opensAtMs: count,
  /** The replay's end. */
  lengthMs: count,
  doorOpenMs: spans,
  networkDownMs: spans,
  powerLostMs: spans,
  resetsMs: instants,
  /** When the contact of the open door reads shut. */
  readsShutMs: spans,
  /** One after the other, where they vary; empty: each as long as it always is. */
  bootsMs: instants,
  connectsMs: instants,
  sleepsMs: instants,
  checksum: z.string(),
});

const certificate = z.strictObject({
  schema: z.literal(certificateSchema),
  /** The `watch:` settings, to be compared with the watch file's. */
  watch: z.unknown(),
  device: z.strictObject({ bootMs: span, connectMs: span, clockErrorPpm: span }),
  environment,
  bounds: z.strictObject({
    alwaysReportedFromMs: bound,
    neverAlarmedUpToMs: count,
    worstDelayMs: bound,
    bestDelayMs: count,
  }),
  latestAtRest: proof,
  /** Null: there is no bound from any state. */
  latestFromAnyState: proof.nullable(),
  earliestAtRest: proof,
  /** Those that reach the bounds; null: none is known, and the bound is no more than a safe one. */
  courses: z.strictObject({
    latestDecisionAtRest: course.nullable(),
    latestDeliveryAtRest: course.nullable(),
    latestDecisionFromAnyState: course.nullable(),
    latestDeliveryFromAnyState: course.nullable(),
    earliestDecisionAtRest: course.nullable(),
    earliestDeliveryAtRest: course.nullable(),
    /** Not null exactly where there is no bound from any state. */
    neverReported: course.nullable(),
  }),
});

export const courseNames = certificate.shape.courses.keyof().options;

export type Certificate = z.infer<typeof certificate>;
/** Which openings a proof is about, and which end of their delays. */
export interface Task {
  readonly from: 'rest' | 'any state';
  readonly seek: 'latest' | 'earliest';
}

/** The device's times. */
export type Times = Readonly<Certificate['device']>;
export type Environment = Readonly<Omit<Certificate['environment'], 'checksum'>>;
export type CertifiedBounds = Certificate['bounds'];
export type Courses = Certificate['courses'];
export type Course = z.infer<typeof course>;
export type Proof = z.infer<typeof proof>;
export type StateRow = z.infer<typeof state>;

/** A certificate from parsed JSON; or the place at which it is not made like one, and what belongs there. */
export function certificateIn(
  json: unknown,
):
  | { readonly ok: true; readonly certificate: Certificate }
  | { readonly ok: false; readonly flaw: Refusal } {
  const parsed = certificate.safeParse(json);
  if (parsed.success) return { ok: true, certificate: parsed.data };
  const [issue] = parsed.error.issues;
  const strays = issue?.code === 'unrecognized_keys' ? issue.keys.slice(0, 1) : [];
  const path = [...(issue?.path ?? []), ...strays].map(String);
  const wanted = (issue?.message ?? '')
    .replace(/^[^:]*: expected /u, '')
    .replace(/, received .*/u, '');
  let found = json;
  for (const key of path) found = Object.getOwnPropertyDescriptor(Object(found), key)?.value;
  const flaw = {
    place: path.map((key) => `/${key}`).join(''),
    message: 'this is not what stands there in a certificate',
    found: valueText(found),
    expected: strays.length > 0 ? 'no such key' : wanted,
  };
  return { ok: false, flaw };
}
