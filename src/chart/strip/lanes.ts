// Where the lanes of a strip lie. All strips of a picture have the same lanes, so that the eye finds its way.
import type { StripFacts } from '../facts/strip-facts.js';

export interface Lane {
  readonly y: number;
  readonly height: number;
}

export interface Lanes {
  /** Labels of outages, power losses and resets. */
  readonly caps: Lane | null;
  /** Dimension lines and words on the door. */
  readonly words: Lane;
  readonly door: Lane;
  readonly contact: Lane | null;
  readonly checks: Lane | null;
  readonly memory: Lane | null;
  readonly alerts: Lane | null;
  readonly cooldown: Lane | null;
  readonly axis: Lane;
  readonly height: number;
}

/**
 * Lanes for everything that some of the strips have.
 * @param steady with those of the device in any case: what changes under a hand must not jump
 */
export function lanesFor(strips: readonly StripFacts[], steady = false): Lanes {
  const some = (has: (facts: StripFacts) => boolean): boolean => strips.some(has);
  const device = (has: (facts: StripFacts) => boolean): boolean => steady || some(has);
  let y = 0;
  const lane = (height: number, gap: number): Lane => {
    const taken = { y, height };
    y += height + gap;
    return taken;
  };
  const laneIf = (wanted: boolean, height: number, gap: number): Lane | null =>
    wanted ? lane(height, gap) : null;
  const caps = laneIf(some(hasCaps), 13, 1);
  const words = lane(19, 3);
  const door = lane(22, 6);
  const contact = laneIf(
    some(({ readsOpen }) => readsOpen !== null),
    6,
    8,
  );
  const checks = laneIf(
    device((facts) => facts.checks.length > 0),
    22,
    6,
  );
  const memory = laneIf(
    device((facts) => facts.memory.length > 0),
    13,
    7,
  );
  const alerts = laneIf(
    device((facts) => facts.alerts.length + facts.heartbeats.length + facts.lowBattery.length > 0),
    32,
    5,
  );
  const cooldown = laneIf(
    device((facts) => facts.cooldowns.length > 0),
    9,
    6,
  );
  const axis = lane(18, 0);
  return { caps, words, door, contact, checks, memory, alerts, cooldown, axis, height: y };
}

function hasCaps(facts: StripFacts): boolean {
  return facts.networkDown.length + facts.powerless.length + facts.resets.length > 0;
}
