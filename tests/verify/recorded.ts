// Recorded certificates, with a part of them changed or not, and the checker's verdict on them.
import { readFileSync } from 'node:fs';
import { sealed, type Verdict, verifyCertificate } from '../../src/verify/index.js';
import { watchWith } from '../support/experiments.js';
import { drained, resealed } from './places.js';
import { type RecordedCase, type RecordedName, recordedCases } from './recorded-cases.js';

function isRecorded(name: string): name is RecordedName {
  return Object.hasOwn(recordedCases, name);
}

export const recordedNames = Object.keys(recordedCases).filter(isRecorded);

/** A new copy each time. */
export function recorded(name: RecordedName): Record<string, unknown> {
  return JSON.parse(readFileSync(`tests/verify/recorded/${name}.json`, 'utf8'));
}

/** The watch that the certificate must be of, its settings changed or not. */
export function ofCase(name: RecordedName, changes: Partial<RecordedCase> = {}) {
  const { watch, timing, reset }: RecordedCase = { ...recordedCases[name], ...changes };
  return { watch: watchWith(watch), timing, reset };
}

export function verdictOnRecorded(name: RecordedName, json: unknown): Verdict {
  return drained(verifyCertificate(json, ofCase(name)));
}

export type Change = readonly [pointer: string, value: unknown];

/** The certificate with other values at some JSON pointers, its checksums as they were. */
export function changed(name: RecordedName, ...changes: readonly Change[]) {
  const json = recorded(name);
  for (const [pointer, value] of changes) {
    const keys = pointer.split('/').slice(1);
    const last = keys.pop() ?? '';
    let part: object = json;
    for (const key of keys) part = Reflect.get(part, key);
    Reflect.set(part, last, value);
  }
  return json;
}

/** The same by somebody who makes the checksums again. */
export function forged(name: RecordedName, ...changes: readonly Change[]): unknown {
  return resealed(changed(name, ...changes));
}

/** The value at a JSON pointer. */
export function valueAt(json: unknown, pointer: string): unknown {
  let value = json;
  for (const key of pointer.split('/').slice(1)) value = Reflect.get(Object(value), key);
  return value;
}

export { sealed };
