// Some parts could be changed without any contradiction (which environment was meant, which of many equally good runs,
// which of several equal states), so they carry a checksum for accidents: FNV-1a, 32 bits, of the JSON text without
// spaces and without the checksum.
import { fnv1a32 } from '../base/index.js';
import { refuse } from './refusal.js';

/** @param part an object with a `checksum` of its own, whatever it says. */
export function checksumOf(part: object): string {
  const text = JSON.stringify({ ...part, checksum: undefined });
  return fnv1a32(text).toString(16).padStart(8, '0');
}

/** A part of a certificate with its checksum. */
export function sealed<Part extends object>(part: Part): Part & { readonly checksum: string } {
  return { ...part, checksum: checksumOf(part) };
}

/** @throws RefusedError where the checksum of a part is not its own. */
export function refuseChanged(part: { readonly checksum: string }, place: string): void {
  const expected = checksumOf(part);
  if (expected === part.checksum) return;
  const message = 'this part was changed after it was written';
  refuse(`${place}/checksum`, message, { found: part.checksum, expected });
}
