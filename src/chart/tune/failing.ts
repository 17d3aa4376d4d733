// Which requirements a search failed on, and why it recommends nothing.
import type { RequirementName, TuneAnswer } from '../../tune/index.js';

/** The requirements that no settings meet with all others. */
export function failing({
  recommended,
  relaxations,
  nearest,
}: TuneAnswer): ReadonlySet<RequirementName> {
  if (recommended !== null) return new Set();
  const some = relaxations.length > 0 ? relaxations : (nearest?.shortfalls ?? []);
  return new Set(some.map(({ name }) => name));
}
