// What the environment has left to do in a search, as numbers, and their order: with more left, the environment can do
// all that it can with less.
import type { Beat, Budget, Model, Outage, Track, Warning } from './track.js';

const outageStates: readonly Outage[] = ['none', 'active', 'over'];
const beats: readonly Beat[] = ['late', 'timed', 'once'];
const warnings: readonly Warning[] = ['sent', 'may come'];
const budgets: readonly Budget[] = ['spent', 'active', 'unused'];

/** What the environment has left. */
type Left = Pick<
  Track,
  | 'decidedOnce'
  | 'beat'
  | 'warning'
  | 'outage'
  | 'outagesLeft'
  | 'chatter'
  | 'lossesLeft'
  | 'resetsLeft'
>;

/** Numbers for what the environment has left, and which of them leave no less. */
export function placesOf({ environment, warnings: warns }: Model): {
  of(left: Left): number;
  dominating(left: Left): readonly number[];
} {
  const { outages, powerLosses, resets } = environment;
  const placeOf = (left: Left): number => {
    let place = (left.decidedOnce ? beats.length : 0) + beats.indexOf(left.beat);
    place = place * warnings.length + warnings.indexOf(left.warning);
    place = place * outageStates.length + outageStates.indexOf(left.outage);
    place = place * (outages + 1) + left.outagesLeft;
    place = place * budgets.length + budgets.indexOf(left.chatter);
    place = place * (powerLosses + 1) + left.lossesLeft;
    return place * (resets + 1) + left.resetsLeft;
  };
  const find = function* ({ decidedOnce, chatter, ...left }: Left): Generator<number> {
    // An opening that has had no alert decided yet may still have its first.
    for (const decided of decidedOnce ? [true, false] : [false]) {
      for (const [freeBeat, freeChatter, warning] of atLeastAsFree(left, chatter, warns)) {
        for (const [outage, leastLeft] of noEarlier(left)) {
          for (let outagesLeft = leastLeft; outagesLeft <= outages; outagesLeft += 1) {
            for (let lossesLeft = left.lossesLeft; lossesLeft <= powerLosses; lossesLeft += 1) {
              for (let resetsLeft = left.resetsLeft; resetsLeft <= resets; resetsLeft += 1) {
                const budget = { outagesLeft, lossesLeft, resetsLeft, outage, warning };
                yield placeOf({
                  ...budget,
                  beat: freeBeat,
                  decidedOnce: decided,
                  chatter: freeChatter,
                });
              }
            }
          }
        }
      }
    }
  };
  const known: (readonly number[] | undefined)[] = [];
  return {
    of: placeOf,
    dominating: (left) => (known[placeOf(left)] ??= [...find(left)]),
  };
}

/**
 * An unused budget can do all that a spent one can; one in use is like no other. A heartbeat that may come at any check may
 * also come when its clock tells, or too late to matter; a low-battery message that may come need not.
 */
function* atLeastAsFree(
  { beat, warning }: Pick<Left, 'beat' | 'warning'>,
  budget: Budget,
  warns: Model['warnings'],
): Generator<readonly [Beat, Budget, Warning]> {
  const mayWarn = warns === 'never' || warning === 'may come' ? [warning] : warnings;
  for (const freeBeat of beat === 'once' ? [beat] : [beat, 'once' as const]) {
    for (const free of budget === 'spent' ? (['spent', 'unused'] as const) : [budget]) {
      for (const freeWarning of mayWarn) yield [freeBeat, free, freeWarning];
    }
  }
}

/** Where the network may fail no later and no shorter, with how many outages at least that have not begun. */
function noEarlier({
  outage,
  outagesLeft,
}: Pick<Left, 'outage' | 'outagesLeft'>): readonly (readonly [Outage, number])[] {
  // In the place of one that goes on a new one may begin; in that of a wait for the next, the next.
  return outage === 'none'
    ? [['none', outagesLeft]]
    : [
        [outage, outagesLeft],
        ['none', outage === 'active' ? outagesLeft + 1 : outagesLeft],
      ];
}
