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
  constructor(readonly refusal: Refusal) {
    super(refusal.message);
  }
}

/** @throws RefusedError always. */
export function refuse(
  place: string,
  message: string,
  facts: { readonly found?: unknown; readonly expected?: unknown } = {},
): never {
  const texts = Object.entries(facts).map(([name, value]) => [name, valueText(value)] as const);
  throw new RefusedError({ place, message, ...Object.fromEntries(texts) });
}

const mostText = 160;

/** A value for people, whatever its size and depth; a text as it is, cut short. */
export function valueText(value: unknown): string {
  if (value === undefined) return 'nothing';
  if (Array.isArray(value)) return 'a list';
  if (typeof value === 'object' && value !== null) return 'an object';
  const text = typeof value === 'string' ? value : JSON.stringify(value);
  return text.length > mostText ? `${text.slice(0, mostText)}…` : text;
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

function entriesOf(value: unknown): ReadonlyMap<string, unknown> | null {
  return typeof value === 'object' && value !== null ? new Map(Object.entries(value)) : null;
}
