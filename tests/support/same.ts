// Deep equality at a tenth of the cost of `toEqual`, which then only has to explain a difference.
import { isDeepStrictEqual } from 'node:util';
import { expect } from 'vitest';

export function expectSame(actual: unknown, wanted: unknown): void {
  if (!isDeepStrictEqual(actual, wanted)) expect(actual).toStrictEqual(wanted);
}
