// The seed of the property tests: always the same, so that a red run is about the change. DOZEWATCH_SEED sets another;
// the soak is what looks for new ones.

const usualSeed = 1;

/** @throws RangeError for a seed that the property tests cannot take. */
export function seedOfTests(): number {
  const text = process.env['DOZEWATCH_SEED'];
  if (text === undefined || text === '') return usualSeed;
  const seed = Number(text);
  if (/^-?\d{1,10}$/u.test(text) && seed === (seed | 0)) return seed;
  throw new RangeError(`DOZEWATCH_SEED must be a whole number of 32 bits, and is ${text}`);
}
