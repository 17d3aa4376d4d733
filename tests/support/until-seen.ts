// A property that has to meet certain cases, and not by luck: with any seed it goes on drawing until it has met them.
import fc, { type IProperty, type Parameters } from 'fast-check';

/** Beyond this the cases are not rare: the generator no longer makes them. */
const mostRounds = 20;

/** Runs the property in rounds, each with the next seed, until `seenEnough`. */
export function assertUntil<Values>(
  property: IProperty<Values>,
  parameters: Parameters<Values>,
  seenEnough: () => boolean,
): void {
  const first = fc.readConfigureGlobal().seed ?? 0;
  for (let round = 0; round < mostRounds; round += 1) {
    fc.assert(property, { ...parameters, seed: (first + round) | 0 });
    if (seenEnough()) return;
  }
  throw new Error(`not enough was seen in ${String(mostRounds)} rounds`);
}
