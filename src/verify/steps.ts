// Everything that can come next: the door, the network and the faults do what they like within the rules, and the device
// answers. A step is one activity of the device, to its end or to what cuts it short. Written from what a device does,
// and from nothing of how its bounds were searched for.
// At one instant the door has already moved; then come power loss, reset, the end of a send, the check, the timer, the edge.
import type { ContactReading, WakeCause } from '../machine/index.js';
import type { Device } from './device.js';
import type { Rules } from './rules.js';
import {
  allZero,
  passed,
  type Sleep,
  type Span,
  set,
  slept,
  spanOf,
  within,
  type Zone,
} from './zone.js';

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
  readonly door: ContactReading | 'either';
  /** The opening has had an alert decided. */
  readonly alerted: boolean;
  /** Faults that may still begin. */
  readonly left: Readonly<Record<Fault, number>>;
  readonly zone: Zone;
}

/** Whether the opening has begun. */
export function isOpen({ phase }: Pick<Spot, 'phase'>): boolean {
  return phase === 'during' || phase === 'decided';
}

export type Fault = 'outage' | 'chatter' | 'powerLoss' | 'reset';

export interface Outcome {
  readonly spot: Spot;
  /** The first alert of the opening is decided; its own alert is delivered; the device idles until a reset that need not come. */
  readonly event: 'decided' | 'delivered' | 'held' | null;
}

type Outcomes = Generator<Outcome, void>;

const endless = Number.POSITIVE_INFINITY;
const begun: Span = { least: 0, most: endless };
const zero: Span = { least: 0, most: 0 };

/** What can come first: a power-on, with the opening or before it; at rest a check, with heartbeats one just to be sent. */
export function firstOf(rules: Rules, from: 'rest' | 'any state'): readonly Outcome[] {
  const { environment, off: device } = rules;
  const left = {
    outage: environment.longestOutageMs > 0 ? environment.outages : 0,
    chatter: environment.longestChatterMs > 0 ? 1 : 0,
    powerLoss: environment.powerLosses,
    reset: environment.resets,
  };
  const zone = past(rules, allZero, 'outage', 'chatter');
  const dark: Spot = { device, phase: 'before', door: 'either', alerted: false, left, zone };
  const on = woken(rules, dark, 'power-on');
  if (from === 'any state') {
    return [woken(rules, { ...dark, phase: 'during', door: 'open' }, 'power-on'), on];
  }
  const check = { type: 'check', contact: 'shut', cooldownOver: true } as const;
  const resting: Spot = { ...on.spot, phase: 'rest', door: 'shut' };
  return [reacting(rules, resting, { ...check, heartbeatDue: rules.watch.heartbeats })];
}

/** What ends an activity: its own end, a fault, or an armed contact edge. */
interface Ending {
  readonly by: 'itself' | 'reset' | 'powerLoss' | 'edge';
  readonly within: Span | Sleep;
}

/** Whatever can come next. */
export function* after(rules: Rules, spot: Spot): Outcomes {
  if (spot.door === 'either' && edgesWake(rules, spot)) {
    yield* after(rules, { ...spot, door: 'shut' });
    yield* after(rules, { ...spot, door: 'open' });
    return;
  }
  for (const ending of endingsOf(rules, spot)) {
    for (const ended of meanwhile(rules, spot, ending)) yield* next(rules, ended, ending.by);
  }
}

/** Edges that end a sleep; once the opening has begun there are none. */
function edgesWake({ watch, sleeps }: Rules, spot: Spot): boolean {
  return !isOpen(spot) && watch.wakeOn !== 'timer' && spot.device.activity in sleeps;
}

function* endingsOf(rules: Rules, spot: Spot): Generator<Ending> {
  const { device, door, left } = spot;
  const whole = rules.lasts[device.activity];
  const { least, most } = whole;
  // No time at all is a case of its own: the door cannot move in it.
  const parts = least === 0 && most > 0 ? [zero, { least: 1, most }] : [whole];
  for (const part of parts) yield { by: 'itself', within: part };
  if (edgesWake(rules, spot)) {
    // Where only an opening wakes it, an open door shuts first.
    const first = door === 'open' && rules.watch.wakeOn === 'opening' ? 2 : 1;
    if (first < most) yield { by: 'edge', within: { least: first, most: most - 1 } };
  }
  if (device.activity === 'dark' || most < 1) return;
  if (left.reset > 0) yield { by: 'reset', within: { least: 1, most } };
  if (left.powerLoss > 0) yield { by: 'powerLoss', within: { least: 1, most } };
}

/** Time passes until an ending; the opening may begin. */
function* meanwhile(rules: Rules, spot: Spot, { by, within: time }: Ending): Generator<Spot> {
  const { phase, door, zone } = spot;
  const lapse = (from: Zone): Zone => ('counted' in time ? slept(from, time) : passed(from, time));
  if (isOpen(spot)) {
    yield { ...spot, zone: lapse(zone) };
    return;
  }
  const edges = edgesWake(rules, spot);
  const { wakeOn } = rules.watch;
  // An open door shuts first: an edge of its own where any change wakes the device.
  if (!(edges && wakeOn === 'any-change' && door === 'open')) {
    // Below zero until it begins. Where edges wake the device, it begins as the sleep ends: it is an edge itself.
    const coming = set(zone, 'opening', { least: -endless, most: door === 'open' ? -2 : -1 });
    const opened = within(lapse(coming), 'opening', edges ? zero : begun);
    if (opened !== null) yield { ...spot, phase: 'during', door: 'open', zone: opened };
  }
  const undisturbed = by === 'itself' && phase === 'rest';
  const shutting = by === 'edge' && wakeOn === 'any-change' && door === 'open';
  const moved = undisturbed || shutting ? 'shut' : by === 'edge' ? 'open' : 'either';
  yield {
    ...spot,
    phase: phase === 'rest' && !undisturbed ? 'stirred' : phase,
    door: time.most === 0 ? door : moved,
    zone: lapse(zone),
  };
  // Unseen in a send, the door may also open and shut before: where edges wake the device it matters.
  if (undisturbed && wakeOn !== 'timer' && spot.device.activity === 'heartbeat' && time.most > 0) {
    yield { ...spot, phase: 'stirred', door: 'either', zone: lapse(zone) };
  }
}

function* next(rules: Rules, spot: Spot, by: Ending['by']): Outcomes {
  const { activity } = spot.device;
  if (by === 'edge') yield woken(rules, spot, 'contact');
  else if (by === 'reset') yield woken(rules, spent(spot, 'reset'), 'reset');
  else if (by === 'powerLoss') {
    const phase = spot.phase === 'decided' ? 'during' : spot.phase;
    yield reacting(rules, { ...spent(spot, 'powerLoss'), phase }, { type: 'powerLost' });
  } else if (activity === 'boot') yield* checked(rules, spot);
  else if (activity === 'alert') yield* sent(rules, spot);
  else if (activity === 'heartbeat') {
    yield reacting(rules, spot, { type: 'heartbeatAttempted', delivered: true });
    yield reacting(rules, spot, { type: 'heartbeatAttempted', delivered: false });
  } else yield woken(rules, spot, activity === 'dark' ? 'power-on' : 'timer');
}

function spent(spot: Spot, fault: Fault): Spot {
  return { ...spot, left: { ...spot.left, [fault]: spot.left[fault] - 1 } };
}

function woken(rules: Rules, spot: Spot, cause: WakeCause): Outcome {
  const zone = cause === 'power-on' ? set(spot.zone, 'heartbeat', zero) : spot.zone;
  return reacting(rules, { ...spot, zone }, { type: 'wake', cause });
}

function reacting(rules: Rules, spot: Spot, input: Parameters<Device['react']>[0]): Outcome {
  return outcome(rules, { ...spot, device: spot.device.react(input).device });
}

/** The alert's attempt ends: the network is up, and any outage is over, or down. */
function* sent(rules: Rules, spot: Spot): Outcomes {
  const up = { ...spot, zone: past(rules, spot.zone, 'outage') };
  if (spot.phase === 'decided') yield { spot: up, event: 'delivered' };
  else {
    const cooling = { ...up, zone: set(up.zone, 'cooldown', zero) };
    yield reacting(rules, cooling, { type: 'alertAttempted', delivered: true });
  }
  for (const down of suffering(rules, spot, 'outage')) {
    yield reacting(rules, down, { type: 'alertAttempted', delivered: false });
  }
}

/** A fault of limited length makes itself felt: it still goes on, or one begins. */
function* suffering(rules: Rules, spot: Spot, fault: 'outage' | 'chatter'): Generator<Spot> {
  const zone = within(spot.zone, fault, { least: 0, most: rules.limitMs[fault] - 1 });
  if (zone !== null) yield { ...spot, zone };
  if (spot.left[fault] > 0) yield { ...spent(spot, fault), zone: set(spot.zone, fault, zero) };
}

function* checked(rules: Rules, spot: Spot): Outcomes {
  switch (spot.phase) {
    case 'stirred':
      return;
    case 'rest':
    case 'before':
      if (spot.door !== 'open') yield* read(rules, spot, 'shut');
      if (spot.door !== 'shut') yield* read(rules, spot, 'open');
      return;
    case 'during':
    case 'decided':
      yield* read(rules, spot, 'open');
      for (const wrong of suffering(rules, spot, 'chatter')) yield* read(rules, wrong, 'shut');
  }
}

/** The check itself, for each answer that the device's clock may give. */
function* read(rules: Rules, spot: Spot, contact: ContactReading): Outcomes {
  const { heartbeats } = rules.watch;
  for (const [cooldownOver, cooled] of timed(rules, spot.zone, 'cooldown')) {
    for (const [due, zone] of timed(rules, cooled, 'heartbeat')) {
      const heartbeatDue = due && heartbeats;
      const check = { type: 'check', contact, cooldownOver, heartbeatDue } as const;
      const { device, decides, drops } = spot.device.react(check);
      const decided = decides && spot.phase === 'during';
      const dropped = drops && spot.phase === 'decided';
      const read: Spot = {
        ...spot,
        device,
        phase: decided ? 'decided' : dropped ? 'during' : spot.phase,
        door: spot.door === 'either' ? contact : spot.door,
        alerted: spot.alerted || decided,
        zone: device.activity === 'heartbeat' ? set(zone, 'heartbeat', zero) : zone,
      };
      const settled = outcome(rules, read);
      yield decided && !spot.alerted ? { ...settled, event: 'decided' } : settled;
    }
  }
}

/** The readings with which a timer still runs, and those with which it is over. */
function* timed(
  { limitMs }: Rules,
  zone: Zone,
  clock: 'cooldown' | 'heartbeat',
): Generator<readonly [over: boolean, zone: Zone]> {
  const running = within(zone, clock, { least: -endless, most: limitMs[clock] - 1 });
  if (running !== null) yield [false, running];
  const over = within(zone, clock, { least: limitMs[clock], most: endless });
  if (over !== null) yield [true, over];
}

/** Clocks that no longer matter read anything from their limits on. */
function past({ limitMs }: Rules, zone: Zone, ...clocks: (keyof Rules['limitMs'])[]): Zone {
  return clocks.reduce(
    (known, clock) => set(known, clock, { least: limitMs[clock], most: endless }),
    zone,
  );
}

/** A spot with the clocks set aside that do not matter in it. */
function outcome(rules: Rules, spot: Spot): Outcome {
  const { device } = spot;
  const idle = limited.filter(
    (clock) =>
      spanOf(spot.zone, clock).least >= rules.limitMs[clock] ||
      (clock === 'cooldown' && !device.coolingDown) ||
      (clock === 'heartbeat' && device.activity === 'dark'),
  );
  const zone = past(rules, spot.zone, ...idle);
  const unbegun = set(zone, 'opening', { least: -endless, most: endless });
  const settled = { ...spot, zone: isOpen(spot) ? zone : unbegun };
  return { spot: settled, event: device.activity === 'hold' ? 'held' : null };
}

/** Clocks with a limit. */
export const limited = ['outage', 'chatter', 'cooldown', 'heartbeat'] as const;
