// Places in the JSON of a certificate, to be changed.
import { sealed } from '../../src/verify/index.js';

/** What a generator returns in the end. */
export function drained<T>(steps: Generator<number, T>): T {
  for (;;) {
    const step = steps.next();
    if (step.done === true) return step.value;
  }
}

/** A number somewhere in parsed JSON. */
export interface Place {
  /** JSON pointer. */
  readonly pointer: string;
  readonly value: number;
  set(value: unknown): void;
}

/** Every number in parsed JSON, in the order of the text. */
export function numbersIn(json: unknown): readonly Place[] {
  const places: Place[] = [];
  const walk = (value: unknown, pointer: string, set: Place['set']): void => {
    if (typeof value === 'number') places.push({ pointer, value, set });
    else if (typeof value === 'object' && value !== null) {
      for (const [key, item] of Object.entries(value)) {
        walk(item, `${pointer}/${key}`, (other) => Reflect.set(value, key, other));
      }
    }
  };
  walk(json, '', () => undefined);
  return places;
}

/** One place of each kind: of states in a list, and of steps in a run, those at `turn`, counted round. */
export function oneOfEachKind(places: readonly Place[], turn = 0): readonly Place[] {
  const kinds = new Map<string, Place[]>();
  for (const place of places) {
    const kind = place.pointer.replaceAll(/\/\d+/gu, '/*');
    kinds.set(kind, [...(kinds.get(kind) ?? []), place]);
  }
  return [...kinds.values()].flatMap((alike) => alike[turn % alike.length] ?? []);
}

/** What a JSON pointer leads to; the last key may be missing. */
export function leadsSomewhere(json: unknown, pointer: string): boolean {
  let value = json;
  for (const key of pointer.split('/').slice(1)) {
    if (typeof value !== 'object' || value === null) return false;
    value = Object.getOwnPropertyDescriptor(value, key)?.value;
  }
  return true;
}

/** The certificate with checksums that fit: what a forger would hand in. */
export function resealed(json: unknown): unknown {
  if (typeof json !== 'object' || json === null) return json;
  if (Array.isArray(json)) return json.map(resealed);
  const parts = Object.fromEntries(
    Object.entries(json).map(([key, part]): [string, unknown] => [key, resealed(part)]),
  );
  return Object.hasOwn(parts, 'checksum') ? sealed(parts) : parts;
}
