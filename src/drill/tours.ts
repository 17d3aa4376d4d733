// Longer ways, on which one thing after another is shown: from where a route stands, always on to the nearest that is
// still wanted, as long as that is nearer than it is from a new start.

import { itemAt } from '../base/index.js';
import { mostTourBans, mostTourLegs } from '../model/index.js';
import type { Explored, Place, Way } from './explore.js';
import { placeOf } from './explore.js';
import { moved, type Route } from './route.js';
import type { Stage } from './stage.js';

export interface TourOrder {
  /** Numbers of reactions. */
  readonly wanted: ReadonlySet<number>;
  /** A step with more is no longer for a person. */
  readonly mostActions: number;
  /** What a new step costs, besides the way to where it goes on. */
  readonly anewMs: number;
}

/** The route from power-on, at each point at which it has shown something that was wanted. */
export function tourOf(
  stage: Stage,
  { places }: Explored,
  on: TourOrder & { readonly from: Route },
): readonly Route[] {
  const points: Route[] = [];
  const wanted = new Set(on.wanted);
  const banned = new Set<Way>();
  let route = on.from;
  for (const one of route.made) wanted.delete(one);
  for (let leg = 0; leg < mostTourLegs && banned.size < mostTourBans; leg += 1) {
    const ways = nearest(places, placeOf(route), { ...on, wanted, banned });
    if (ways === null) break;
    let gained = false;
    for (const way of ways) {
      const next = moved(stage, route, way.move);
      const further = next !== null && next.actions.length <= on.mostActions ? next : null;
      if (further === null) {
        banned.add(way);
        break;
      }
      for (const one of further.made.slice(route.made.length)) {
        gained = wanted.delete(one) || gained;
      }
      const strays = placeOf(further) !== way.to;
      route = further;
      if (strays) break;
    }
    if (gained) points.push(route);
  }
  return points;
}

/** The end of a chain of ways. */
interface Led {
  readonly key: string;
  readonly atMs: number;
  readonly by: { readonly way: Way; readonly from: Led } | null;
}

/** The ways to the nearest reaction that is wanted; null: nothing leads there, or it is nearer from a new start. */
function nearest(
  places: ReadonlyMap<string, Place>,
  from: string,
  on: {
    readonly wanted: ReadonlySet<number>;
    readonly banned: ReadonlySet<Way>;
    readonly anewMs: number;
  },
): readonly Way[] | null {
  const waiting: Led[] = [{ key: from, atMs: 0, by: null }];
  const seen = new Set<string>();
  for (let one = waiting.pop(); one !== undefined; one = waiting.pop()) {
    const { key, atMs, by } = one;
    if (by?.way.makes.some((made) => on.wanted.has(made)) === true) return waysTo(one);
    const place = places.get(key);
    if (place === undefined || seen.has(key) || atMs > on.anewMs) continue;
    seen.add(key);
    for (const way of place.ways) {
      // A power loss is a new start, and steps have those between them.
      if (way.move === 'power' || on.banned.has(way)) continue;
      const next = { key: way.to, atMs: atMs + way.costMs, by: { way, from: one } };
      let index = waiting.length;
      while (index > 0 && itemAt(waiting, index - 1).atMs < next.atMs) index -= 1;
      waiting.splice(index, 0, next);
    }
  }
  return null;
}

function waysTo(end: Led): readonly Way[] {
  const ways: Way[] = [];
  for (let { by } = end; by !== null; { by } = by.from) ways.push(by.way);
  return ways.reverse();
}
