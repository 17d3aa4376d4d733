// A certificate as its file spells it out, and its shape. Instants count in true milliseconds from the first power-on.
import * as z from 'zod';
import { type Refusal, valueText } from './refusal.js';

export const certificateSchema = 'dozewatch/certificate/8';

/** Not −0: it would stand for 0 without being the same. */
const whole = z.int().refine((value) => !Object.is(value, -0), { message: 'a whole number' });
const count = whole.min(0);
const span = z.strictObject({ least: whole, most: whole });
const bound = z.strictObject({ atRest: count, anyState: count.nullable() });

/** Some three hundred years: sums of such times are still exact. */
const most = count.max(1e13);

/** The most that may go wrong. */
const environment = z.strictObject({
  outages: most,
  /** From the first failed send until its end; 0 for none. */
  longestOutageMs: most,
  /** From the end of one to the beginning of the next at least. */
  outagesApartMs: most,
  powerLosses: most,
  longestPowerLossMs: most,
  resets: most,
  /** One stretch in which the contact of an open door may read shut; 0 for none. */
  longestChatterMs: most,
  checksum: z.string(),
});

/** One way in which it can come: which of what can come first, and of what can come next after so long, again and again. */
const run = z.strictObject({
  first: count,
  then: z.array(z.tuple([count, count])),
});

/** Where everything may stand as an activity of the device begins. */
const state = z.strictObject({
  /** What it is at, and what it remembers. */
  device: z.string(),
  phase: z.enum(['rest', 'stirred', 'before', 'during', 'decided', 'lost']),
  door: z.enum(['shut', 'open']),
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
  /** Runs that reach the extreme decision and delivery; null: none is known, and the bound is no more than a safe one. */
  decided: run.nullable(),
  delivered: run.nullable(),
  /** One to the last instant at which the door may shut and the opening go unreported; null also for the earliest. */
  unreported: run.nullable(),
  checksum: z.string(),
});

const certificate = z.strictObject({
  schema: z.literal(certificateSchema),
  /** The `watch:` settings, to be compared with the watch file's. */
  watch: z.unknown(),
  device: z.strictObject({
    bootMs: span,
    connectMs: span,
    joinWaitMs: most,
    clockErrorPpm: span,
    /** Whether some kind of reset may keep retained memory, and whether some may clear it. */
    resets: z.strictObject({ keep: z.boolean(), clear: z.boolean() }),
  }),
  environment,
  bounds: z.strictObject({
    alwaysReportedFromMs: bound,
    alwaysDecidedFromMs: bound,
    neverAlarmedUpToMs: count,
    worstDelayMs: bound,
    bestDelayMs: count,
  }),
  latestAtRest: proof,
  /** Null: there is no bound from any state. */
  latestFromAnyState: proof.nullable(),
  earliestAtRest: proof,
  /** A run to a device that never reports the opening: exactly where there is no bound from any state. */
  neverReported: run.extend({ checksum: z.string() }).nullable(),
});

export type Certificate = z.infer<typeof certificate>;
/** Which openings a proof is about, and which end of their delays. */
export interface Task {
  readonly from: 'rest' | 'any state';
  readonly seek: 'latest' | 'earliest';
}

/** What each proof of a certificate is of. */
export const tasks = {
  latestAtRest: { from: 'rest', seek: 'latest' },
  latestFromAnyState: { from: 'any state', seek: 'latest' },
  earliestAtRest: { from: 'rest', seek: 'earliest' },
} as const satisfies Readonly<Record<string, Task>>;

export type TaskName = keyof typeof tasks;
export const taskNames = ['latestAtRest', 'latestFromAnyState', 'earliestAtRest'] as const;

/** The proofs that a certificate has. */
export function proofsIn(
  certificate: Pick<Certificate, TaskName>,
): readonly { readonly name: TaskName; readonly proof: Proof }[] {
  return taskNames.flatMap((name) => {
    const proof = certificate[name];
    return proof === null ? [] : [{ name, proof }];
  });
}

/** Names of the bounds that no run is given for: they hold, and nothing shows that they are reached. */
export function notReachedIn(certificate: Pick<Certificate, TaskName>): readonly string[] {
  return proofsIn(certificate).flatMap(({ name, proof }) =>
    (['decided', 'delivered', 'unreported'] as const)
      .filter((key) => proof[key] === null)
      .filter((key) => key !== 'unreported' || tasks[name].seek === 'latest')
      .map((key) => `${name}.${key}`),
  );
}

/** How many states a certificate has, and how much can come next in them. */
export function sizeOf(certificate: Pick<Certificate, TaskName>): {
  readonly states: number;
  readonly transitions: number;
} {
  const proofs = proofsIn(certificate).map(({ proof }) => proof);
  const nexts = proofs.flatMap(({ states }) => states.map(({ next }) => next));
  const firsts = proofs.map(({ first }) => first);
  return { states: nexts.length, transitions: [...firsts, ...nexts].flat().length };
}

/** The device's times. */
export type Times = Readonly<Certificate['device']>;
export type Environment = Readonly<Omit<Certificate['environment'], 'checksum'>>;
export type CertifiedBounds = Certificate['bounds'];
export type Run = z.infer<typeof run>;
export type Proof = z.infer<typeof proof>;
export type StateRow = z.infer<typeof state>;

/** A certificate from parsed JSON; or the place at which it is not made like one, and what belongs there. */
export function certificateIn(
  json: unknown,
):
  | { readonly ok: true; readonly certificate: Certificate }
  | { readonly ok: false; readonly flaw: Refusal } {
  const older = olderSchemaOf(json);
  if (older !== null) return { ok: false, flaw: { ...flawOfAge, found: older } };
  const parsed = certificate.safeParse(json);
  if (parsed.success) return { ok: true, certificate: parsed.data };
  const [issue] = parsed.error.issues;
  const strays = issue?.code === 'unrecognized_keys' ? issue.keys.slice(0, 1) : [];
  const path = [...(issue?.path ?? []), ...strays].map(String);
  let found = json;
  for (const key of path) found = Object.getOwnPropertyDescriptor(Object(found), key)?.value;
  const flaw = {
    place: path.map((key) => `/${key}`).join(''),
    message: 'a certificate has something else here',
    found: valueText(found),
    expected: strays.length > 0 ? 'no such key' : wantedOf(issue?.message ?? ''),
  };
  return { ok: false, flaw };
}

/** The schema of a certificate that an earlier version wrote; null: it is none. */
function olderSchemaOf(json: unknown): string | null {
  const schema: unknown = Object.getOwnPropertyDescriptor(Object(json), 'schema')?.value;
  const isOlder = typeof schema === 'string' && /^dozewatch\/certificate\/[1-7]$/u.test(schema);
  return isOlder ? schema : null;
}

const flawOfAge = {
  place: '/schema',
  message:
    'an earlier version of dozewatch wrote this certificate, before a device could wait for the network; write it again with "bounds --certificate"',
  expected: certificateSchema,
} as const;

const plainer: Readonly<Record<string, string>> = {
  nonoptional: 'this key, with its value',
  object: 'an object',
  array: 'a list',
  string: 'text',
  number: 'a whole number',
  int: 'a whole number',
  tuple: 'a pair',
  record: 'an object',
  boolean: 'true or false',
};

/** What belongs there, from the words of the shape's own message. */
function wantedOf(message: string): string {
  const words = message.replace(/^[^:]*: expected /u, '').replace(/, received .*/u, '');
  if (words.startsWith('array to have ')) return 'a pair';
  const limit = words.replace('>=', 'at least ').replace('<=', 'at most ');
  return plainer[words] ?? limit.replace(/^(?:int|number) to be /u, 'a whole number of ');
}
