// Whether zones together cover another, where only the opening's clock and one more matter and greater readings of
// the opening's are sought: each zone then is a stretch of readings of the other clock with a ceiling over it, flat
// or rising one for one.
import { type ClockName, ceilingOver, greatest, least, type Zone } from './zone.js';

/** Walks along the other clock's readings as far as one zone after another holds the ceiling up. */
export function coveredTogether(
  zone: Zone,
  others: readonly (readonly { readonly at: { readonly zone: Zone } }[])[],
  along: ClockName,
): boolean {
  const last = greatest(zone, along);
  const flat = greatest(zone, 'opening');
  const rise = ceilingOver(zone, along);
  let reading = least(zone, along);
  for (;;) {
    let reach = reading - 1;
    for (const nodes of others) {
      for (const { at } of nodes) {
        reach = Math.max(reach, heldUpTo(at.zone, along, { reading, flat, rise }));
      }
    }
    if (reach < reading) return false;
    if (reach >= last) return true;
    reading = reach + 1;
  }
}

/** How far from a reading on a zone's ceiling is no lower than `min(flat, reading + rise)`. */
function heldUpTo(
  zone: Zone,
  along: ClockName,
  from: { readonly reading: number; readonly flat: number; readonly rise: number },
): number {
  const { reading, flat, rise } = from;
  const none = reading - 1;
  const last = greatest(zone, along);
  if (reading < least(zone, along) || reading > last) return none;
  const ownFlat = greatest(zone, 'opening');
  const ownRise = ceilingOver(zone, along);
  const needed = Math.min(flat, reading + rise);
  if (Math.min(ownFlat, reading + ownRise) < needed) return none;
  // The one sought rises until it is flat: a lower flat ceiling holds until then, a lower rising one from there on.
  return ownFlat >= flat ? last : Math.min(last, ownFlat - rise);
}
