// For which openings bounds hold where the door has a real contact.
import type { Bounds } from '../bounds/index.js';

/** For which openings the bounds hold, in a clause; null: for all. */
export function gapsWords(gaps: Bounds['gaps']): string | null {
  if (gaps === null) return null;
  const { kind, overMm, opensAtLeastMm, sealMm } = gaps;
  if (kind === 'wider') return `for openings wider than ${String(overMm)} mm`;
  if (kind === 'blind') {
    return `the door may rest at ${String(opensAtLeastMm)} mm, and the contact can read shut up to ${String(overMm)} mm`;
  }
  return `assuming that the door never rests between ${String(sealMm)} and ${String(opensAtLeastMm)} mm`;
}
