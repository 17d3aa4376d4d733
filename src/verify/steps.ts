// Everything that can come next: the door, the network and the faults do what they like within the rules, and the device
// answers. A step is one activity of the device, to its end or to what cuts it short. Written from what a device does,
// and from nothing of how its bounds were searched for.
// At one instant the door has already moved; then come power loss, reset, the end of a send, the check, the timer, the edge.
import type { ContactReading, DeviceInput } from '../machine/index.js';
import type { Device } from './device.js';
import type { Rules } from './rules.js';
import { allZero, passed, type Sleep, type Span, set, spanOf, within, type Zone } from './zone.js';

/**
 * Of the opening in question, which never ends. `rest`: the door is shut and was seen shut, and nothing has gone wrong;
 * `stirred`: since the last check at rest something has, and it begins before the next one; `before`: it has not begun,
 * whatever went before; `during`: it has, with no alert of its own to be sent; `decided`: with one.
 */
export type Phase = 'rest' | 'stirred' | 'before' | 'during' | 'decided';

/** Where everything stands as an activity of the device begins. */
export interface Spot {
  readonly device: Device;
  readonly phase: Phase;
  readonly door: ContactReading;
  /** The opening has had an alert decided. */
  readonly alerted: boolean;
  /** Faults that may still begin. */
  readonly left: Readonly<Record<Fault, number>>;
  readonly zone: Zone;
}

export type Fault = 'outage' | 'chatter' | 'powerLoss' | 'reset';

export interface Outcome {
  readonly spot: Spot;
  /** The first alert of the opening is decided; its own alert is delivered; the device idles until a reset that need not come. */
  readonly event: 'decided' | 'delivered' | 'held' | null;
}

type Outcomes = Generator<Outcome, void>;

/** Clocks with a limit. */
export const limited = ['outage', 'chatter', 'cooldown', 'heartbeat'] as const;

/** Whether the opening has begun. */
export function isOpen({ phase }: Spot): boolean {
  return phase === 'during' || phase === 'decided';
}

/** What can come first: a power-on, with the opening or before it; at rest a check, with heartbeats one just to be sent. */
export function firstOf(rules: Rules, from: 'rest' | 'any state'): readonly Outcome[] {
  const { environment, off: device, watch } = rules;
  const left = {
    outage: environment.longestOutageMs > 0 ? environment.outages : 0,
    chatter: environment.longestChatterMs > 0 ? 1 : 0,
    powerLoss: environment.powerLosses,
    reset: environment.resets,
  };
  const zone = past(rules, allZero, 'outage', 'chatter');
  const dark: Spot = { device, phase: 'before', door: 'shut', alerted: false, left, zone };
  const on = (spot: Spot): Outcome => reacting(rules, spot, { type: 'wake', cause: 'power-on' });
  if (from === 'any state') {
    const open = { ...dark, door: 'open' } as const;
    return [on({ ...open, phase: 'during' }), on(dark), on(open)];
  }
  const check = { type: 'check', contact: 'shut', cooldownOver: true } as const;
  const rest = { ...on(dark).spot, phase: 'rest' } as const;
  return [reacting(rules, rest, { ...check, heartbeatDue: watch.heartbeats })];
}

/** What ends an activity: its own end, a fault, or an armed contact edge. */
type End = 'itself' | 'reset' | 'powerLoss' | 'edge';

/** Whatever can come next. */
export function* after(rules: Rules, spot: Spot): Outcomes {
  const { device, door, left } = spot;
  const whole = rules.lasts[device.activity];
  const { least, most } = whole;
  // No time at all is a case of its own: the door cannot move in it.
  const parts = least === 0 && most > 0 ? [still, { least: 1, most }] : [whole];
  for (const part of parts) yield* endingWithin(rules, spot, 'itself', part);
  // Where only an opening wakes it, an open door shuts first.
  const first = door === 'open' && rules.watch.wakeOn === 'opening' ? 2 : 1;
  if (edgesWake(rules, spot) && first < most) {
    yield* endingWithin(rules, spot, 'edge', { least: first, most: most - 1 });
  }
  if (device.activity === 'dark' || most < 1) return;
  for (const fault of ['reset', 'powerLoss'] as const) {
    if (left[fault] > 0) yield* endingWithin(rules, spot, fault, { least: 1, most });
  }
}

/** Edges that end a sleep; once the opening has begun there are none. */
function edgesWake({ watch, sleeps }: Rules, spot: Spot): boolean {
  return !isOpen(spot) && watch.wakeOn !== 'timer' && spot.device.activity in sleeps;
}

/** Time passes until the activity ends; meanwhile the opening may begin, or the door move. */
function* endingWithin(rules: Rules, spot: Spot, by: End, time: Span | Sleep): Outcomes {
  const { phase, door } = spot;
  const zone = passed(spot.zone, time);
  if (isOpen(spot)) return yield* ended(rules, { ...spot, zone }, by);
  const { wakeOn } = rules.watch;
  const edges = edgesWake(rules, spot);
  // An open door shuts first: an edge of its own where any change wakes the device.
  const shuts = edges && wakeOn === 'any-change' && door === 'open';
  // Below zero until it begins. Where edges wake the device, it begins as the sleep ends: it is an edge itself.
  const coming = set(spot.zone, 'opening', { least: -endless, most: door === 'open' ? -2 : -1 });
  const opened = within(passed(coming, time), 'opening', edges ? still : begun);
  if (opened !== null && !shuts) {
    yield* ended(rules, { ...spot, phase: 'during', door: 'open', zone: opened }, by);
  }
  const calm = phase === 'rest' && by === 'itself';
  // Unseen in a send, the door may open and shut: where edges wake the device that matters.
  const unseen = wakeOn !== 'timer' && spot.device.activity === 'heartbeat' && time.most > 0;
  if (calm) yield* ended(rules, { ...spot, zone }, by);
  if (calm && !unseen) return;
  const moved = time.most === 0 ? [door] : by === 'edge' ? [shuts ? shut : open] : [shut, open];
  for (const to of moved) {
    yield* ended(
      rules,
      { ...spot, phase: phase === 'rest' ? 'stirred' : phase, door: to, zone },
      by,
    );
  }
}

const endless = Number.POSITIVE_INFINITY;
const begun: Span = { least: 0, most: endless };
const still: Span = { least: 0, most: 0 };
const [shut, open] = ['shut', 'open'] as const;

function* ended(rules: Rules, spot: Spot, by: End): Outcomes {
  const { activity } = spot.device;
  if (by === 'powerLoss') {
    const phase = spot.phase === 'decided' ? 'during' : spot.phase;
    yield reacting(rules, { ...spent(spot, by), phase }, { type: 'powerLost' });
  } else if (by === 'reset') {
    yield reacting(rules, spent(spot, by), { type: 'wake', cause: 'reset' });
  } else if (activity === 'boot') yield* checked(rules, spot);
  else if (activity === 'alert') yield* sent(rules, spot);
  else if (activity === 'heartbeat') {
    for (const delivered of [true, false]) {
      yield reacting(rules, spot, { type: 'heartbeatAttempted', delivered });
    }
  } else {
    const cause = by === 'edge' ? 'contact' : activity === 'dark' ? 'power-on' : 'timer';
    yield reacting(rules, spot, { type: 'wake', cause });
  }
}

function spent(spot: Spot, fault: Fault): Spot {
  return { ...spot, left: { ...spot.left, [fault]: spot.left[fault] - 1 } };
}

/** The alert's attempt ends: the network is up, and any outage is over, or down. */
function* sent(rules: Rules, spot: Spot): Outcomes {
  const up = { ...spot, zone: set(past(rules, spot.zone, 'outage'), 'cooldown', still) };
  const event = spot.phase === 'decided' ? 'delivered' : null;
  yield reacting(rules, up, { type: 'alertAttempted', delivered: true }, event);
  for (const down of suffering(rules, spot, 'outage')) {
    yield reacting(rules, down, { type: 'alertAttempted', delivered: false });
  }
}

/** A fault of limited length makes itself felt: it still goes on, or one begins. */
function* suffering(rules: Rules, spot: Spot, fault: 'outage' | 'chatter'): Generator<Spot> {
  const zone = within(spot.zone, fault, { least: 0, most: rules.limitMs[fault] - 1 });
  if (zone !== null) yield { ...spot, zone };
  if (spot.left[fault] > 0) yield { ...spent(spot, fault), zone: set(spot.zone, fault, still) };
}

function* checked(rules: Rules, spot: Spot): Outcomes {
  if (spot.phase === 'stirred') return;
  yield* read(rules, spot, spot.door);
  if (!isOpen(spot)) return;
  for (const wrong of suffering(rules, spot, 'chatter')) yield* read(rules, wrong, 'shut');
}

/** The check itself, for each answer that the device's clock may give. */
function* read(rules: Rules, spot: Spot, contact: ContactReading): Outcomes {
  for (const [cooldownOver, cooled] of timed(rules, spot.zone, 'cooldown')) {
    for (const [due, zone] of timed(rules, cooled, 'heartbeat')) {
      const heartbeatDue = due && rules.watch.heartbeats;
      const check = { type: 'check', contact, cooldownOver, heartbeatDue } as const;
      const { decides, drops } = spot.device.react(check);
      const decided = decides && spot.phase === 'during';
      const phase = decided ? 'decided' : drops && spot.phase === 'decided' ? 'during' : spot.phase;
      const known = { ...spot, phase, alerted: spot.alerted || decided, zone };
      yield reacting(rules, known, check, decided && !spot.alerted ? 'decided' : null);
    }
  }
}

/** The readings with which a timer still runs, and those with which it is over. */
function timed({ limitMs }: Rules, zone: Zone, clock: 'cooldown' | 'heartbeat') {
  const running = within(zone, clock, { least: -endless, most: limitMs[clock] - 1 });
  const over = within(zone, clock, { least: limitMs[clock], most: endless });
  const answers = [[false, running] as const, [true, over] as const];
  return answers.flatMap(([is, some]) => (some === null ? [] : [[is, some] as const]));
}

/** Clocks that no longer matter read anything from their limits on. */
function past({ limitMs }: Rules, zone: Zone, ...idle: (keyof Rules['limitMs'])[]): Zone {
  return idle.reduce(
    (known, clock) => set(known, clock, { least: limitMs[clock], most: endless }),
    zone,
  );
}

/** The device reacts; a heartbeat counts from its start or from power-on, and clocks that do not matter are set aside. */
function reacting(rules: Rules, spot: Spot, input: DeviceInput, event: Outcome['event'] = null) {
  const { device } = spot.device.react(input);
  const on = input.type === 'wake' && input.cause === 'power-on';
  const counts = on || device.activity === 'heartbeat';
  const zone = counts ? set(spot.zone, 'heartbeat', still) : spot.zone;
  const idle = limited.filter(
    (clock) =>
      spanOf(zone, clock).least >= rules.limitMs[clock] ||
      (clock === 'cooldown' && !device.coolingDown) ||
      (clock === 'heartbeat' && device.activity === 'dark'),
  );
  const whenever: Span = { least: -endless, most: endless };
  const settled = past(rules, isOpen(spot) ? zone : set(zone, 'opening', whenever), ...idle);
  const held = device.activity === 'hold' ? 'held' : null;
  return { spot: { ...spot, device, zone: settled }, event: event ?? held };
}
