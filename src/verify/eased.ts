// States are widened, so that there are fewer: readings too many can make a bound worse, never better, and that it is no
// worse than it has to be the runs show. The checker looks that nothing is lost, so that this needs no belief.
import type { Task } from './format.js';
import type { Rules } from './rules.js';
import type { Spot } from './steps.js';
import { at, type Clock, clocks, each, includes, set, within, type Zone } from './zone.js';

/**
 * With readings added that are no worse for the watch, so that one state holds more: an opening that began later (or, for
 * the earliest alert, sooner), an outage and a chatter that have less of their length left, an outage that ended later, a low-battery message that did.
 */
export function easedFor(rules: Rules, { seek }: Task, spot: Spot): Spot {
  const shorter = eased(eased(spot.zone, 'outage', 'on'), 'chatter', 'on');
  const longer = eased(shorter, 'opening', seek === 'latest' ? 'back' : 'on');
  const later = eased(eased(longer, 'failed', 'back'), 'warning', 'back');
  const waits = spot.left.outage > 0 && !hasWaited(rules, later);
  return { ...spot, zone: waits ? later : set(later, 'failed', anything) };
}

const endless = Number.POSITIVE_INFINITY;
const anything = { least: -endless, most: endless };

/** Whether the next outage may begin, whatever the other clocks read. */
function hasWaited({ limitMs }: Rules, zone: Zone): boolean {
  const waited = within(zone, 'failed', { ...anything, least: limitMs.failed });
  return waited !== null && includes(eased(waited, 'failed', 'back'), zone);
}

/** With all readings added that have this clock further on (or further back), the others as they are. */
function eased(zone: Zone, clock: Clock, way: 'on' | 'back'): Zone {
  const index = clocks.indexOf(clock);
  const open = (row: number, column: number): boolean =>
    row !== column && (way === 'on' ? row : column) === index;
  return each((row, column) => (open(row, column) ? endless : at(zone, row, column)));
}
