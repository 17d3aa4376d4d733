// A certificate as its file spells it out, and its shape. Instants count in true milliseconds from the first power-on.
import * as z from 'zod';

export const certificateSchema = 'dozewatch/certificate/3';

/** Not −0: it would stand for 0 without being the same. */
const whole = z.int().refine((value) => !Object.is(value, -0), { message: 'a whole number' });
const count = whole.min(0);
const span = z.strictObject({ least: whole, most: whole });
const bound = z.strictObject({ atRest: count, anyState: count.nullable() });

const environment = z.strictObject({
  outages: count,
  longestOutageMs: count,
  powerLosses: count,
  longestPowerLossMs: count,
  resets: count,
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

export const certificate = z.strictObject({
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
export type CertifiedBounds = Certificate['bounds'];
export type Courses = Certificate['courses'];
export type Course = z.infer<typeof course>;
export type Proof = z.infer<typeof proof>;
export type StateRow = z.infer<typeof state>;
