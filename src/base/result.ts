// What may fail because of the user's input is a value, not an exception.
import type { Diagnostic } from './diagnostic.js';

/** A checked value with the warnings met on the way, or everything that is wrong with the input. */
export type Result<T> =
  | { readonly ok: true; readonly value: T; readonly warnings: readonly Diagnostic[] }
  | { readonly ok: false; readonly errors: readonly Diagnostic[] };

export function ok<T>(value: T, warnings: readonly Diagnostic[] = []): Result<T> {
  return { ok: true, value, warnings };
}

export function err(...errors: readonly Diagnostic[]): {
  readonly ok: false;
  readonly errors: readonly Diagnostic[];
} {
  return { ok: false, errors };
}
