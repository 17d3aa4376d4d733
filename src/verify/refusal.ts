// Why a certificate is not accepted: the place in it, and what had to stand there.

/** What is said of a refused certificate. */
export interface Refusal {
  /** JSON pointer (RFC 6901) to the first thing that does not hold. */
  readonly place: string;
  readonly message: string;
  readonly found?: string;
  readonly expected?: string;
}

/** Ends a check of a certificate. */
export class RefusedError extends Error {
  override readonly name = 'RefusedError';
  constructor(
    readonly refusal: Refusal,
    /** It is no certificate at all: something is missing, or of the wrong type. */
    readonly malformed: boolean,
  ) {
    super(refusal.message);
  }
}

/** @throws RefusedError always. */
export function refuse(
  place: string,
  message: string,
  facts: { readonly found?: unknown; readonly expected?: unknown } = {},
): never {
  throw new RefusedError({ place, message, ...texts(facts) }, false);
}

/** @throws RefusedError always. */
export function malformed(place: string, found: unknown, expected: string): never {
  const message = 'this is not what stands there in a certificate';
  throw new RefusedError({ place, message, ...texts({ found }), expected }, true);
}

function texts(facts: { readonly found?: unknown; readonly expected?: unknown }) {
  return {
    ...('found' in facts ? { found: textOf(facts.found) } : {}),
    ...('expected' in facts ? { expected: textOf(facts.expected) } : {}),
  };
}

const mostText = 160;
const mostItems = 12;

/** A value as JSON would have it, cut short: it may be of any size and depth. */
function textOf(value: unknown): string {
  const text = typeof value === 'string' ? value : shown(value, 0);
  return text.length > mostText ? `${text.slice(0, mostText)}…` : text;
}

function shown(value: unknown, depth: number): string {
  if (value === undefined) return 'nothing';
  if (typeof value !== 'object' || value === null) return JSON.stringify(value);
  if (depth > 2) return '…';
  const items = Array.isArray(value)
    ? value.slice(0, mostItems).map((item: unknown) => shown(item, depth + 1))
    : Object.entries(value)
        .slice(0, mostItems)
        .map(([key, item]) => `${JSON.stringify(key)}: ${shown(item, depth + 1)}`);
  const [open, close] = Array.isArray(value) ? '[]' : '{}';
  const more = items.length < Object.keys(value).length ? ', …' : '';
  return `${open ?? ''}${items.join(', ')}${more}${close ?? ''}`;
}

/** Where two plain values differ first. @throws RefusedError with that place, the second being what is expected. */
export function refuseDifference(
  found: unknown,
  expected: unknown,
  at: { place: string; message: string },
): void {
  const { place, message } = at;
  const [left, right] = [entriesOf(found), entriesOf(expected)];
  if (left !== null && right !== null) {
    for (const key of new Set([...right.keys(), ...left.keys()])) {
      refuseDifference(left.get(key), right.get(key), { place: `${place}/${key}`, message });
    }
  } else if (!Object.is(found, expected)) refuse(place, message, { found, expected });
}

/** In how many places two plain values differ. */
export function differences(found: unknown, expected: unknown): number {
  const [left, right] = [entriesOf(found), entriesOf(expected)];
  if (left === null || right === null) return Object.is(found, expected) ? 0 : 1;
  const keys = [...new Set([...left.keys(), ...right.keys()])];
  return keys.reduce((sum, key) => sum + differences(left.get(key), right.get(key)), 0);
}

function entriesOf(value: unknown): ReadonlyMap<string, unknown> | null {
  return typeof value === 'object' && value !== null ? new Map(Object.entries(value)) : null;
}

export function isRecord(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
