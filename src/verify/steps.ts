// Everything that can come next: the door, the network and the faults do what they like within the rules, and the device
// answers. A step is one activity of the device, to its end or to what cuts it short. Written from what a device does,
// and from nothing of how its bounds were searched for.
// At one instant the door has already moved; then come power loss, reset, the end of a send, the check, the timer, the edge.
import type { ContactReading, DeviceInput, WakeCause } from '../machine/index.js';
import { type Device, isSend, sendWaiting, waiting } from './device.js';
import type { Fault, Rules } from './rules.js';
import { allZero, passed, type Sleep, type Span, set, spanOf, within, type Zone } from './zone.js';

/**
 * Of the opening in question, which never ends. `rest`: the door is shut and was seen shut, and nothing has gone wrong;
 * `stirred`: since the last check at rest something has, and it begins before the next one; `before`: it has not begun,
 * whatever went before; `during`: it has, and no alert was decided in it; `decided`: one is to be sent; `lost`: one was,
 * and was dropped or went with the power.
 */
export type Phase = 'rest' | 'stirred' | 'before' | 'during' | 'decided' | 'lost';

/** Where everything stands as an activity of the device begins. */
export interface Spot {
  readonly device: Device;
  readonly phase: Phase;
  readonly door: ContactReading;
  /** Faults that may still begin. */
  readonly left: Readonly<Record<Fault, number>>;
  readonly zone: Zone;
}

export type Milestone = 'decided' | 'delivered' | 'held';

export interface Outcome {
  readonly spot: Spot;
  /** What the device has learned, or that it waits for the network now. */
  readonly input: DeviceInput | 'waits';
  /** The first alert of the opening is decided; its own alert is delivered; the device does nothing until a reset that need not come. */
  readonly event: Milestone | null;
  /** Had the door shut at this instant, the opening might never be reported. */
  readonly unsure: boolean;
}

/** The result of a moment, before it is known whether the opening was sure to be reported. */
type Turn = Omit<Outcome, 'unsure'>;

type Outcomes = Generator<Outcome, void>;
type Turns = Generator<Turn, void>;

const endless = Number.POSITIVE_INFINITY;
/** Any time at all, or any reading. */
const any: Span = { least: -endless, most: endless };
const none: Span = { least: 0, most: 0 };
const wake = (cause: WakeCause): DeviceInput => ({ type: 'wake', cause });

/** Whether the opening has begun. */
export function isOpen({ phase }: Spot): boolean {
  return phase === 'during' || phase === 'decided' || phase === 'lost';
}

/** What can come first: a power-on, with the opening or before it; at rest a check, with heartbeats one just to be sent, with a low battery to report or without. */
export function firstOf(rules: Rules, from: 'rest' | 'any state'): readonly Outcome[] {
  const { off: device, left } = rules;
  const zone = limited.reduce((idle, clock) => past(rules, idle, clock), allZero);
  const shut: Spot = { device, phase: 'before', door: 'shut', left, zone };
  const open: Spot = { ...shut, door: 'open' };
  const first = (turn: Turn): Outcome => ({ ...turn, unsure: false });
  const on = (spot: Spot): Outcome => first(reacting(rules, spot, wake('power-on')));
  if (from === 'any state') return [on({ ...open, phase: 'during' }), on(shut), on(open)];
  const check = { type: 'check', contact: 'shut', cooldownOver: true, heartbeatDue: true } as const;
  const resting = { ...on(shut).spot, phase: 'rest' } as const;
  return (rules.watch.lowBattery === undefined ? [false] : [false, true]).map((lowBatteryDue) =>
    first(reacting(rules, resting, { ...check, lowBatteryDue })),
  );
}

/** What ends an activity: its own end (of a wait: the network is back), the end of the device's patience, an armed contact edge, or a fault. */
type End = 'itself' | 'patience' | 'edge' | 'reset' | 'clearingReset' | 'powerLoss';

/** Whatever can come next. @param lasting only what comes after such a time. */
export function* after(rules: Rules, spot: Spot, lasting = any): Outcomes {
  const { device, door, left } = spot;
  const whole = rules.lasts[device.activity];
  const cut = { least: 1, most: device.activity === 'dark' ? 0 : whole.most };
  // Where only an opening wakes it, an open door shuts first.
  const toEdge = door === 'open' && rules.watch.wakeOn === 'opening' ? 2 : 1;
  const ends: [End, Span | Sleep][] = [['itself', whole]];
  if (sendWaiting(device) !== null)
    ends.push(['patience', { least: whole.most, most: whole.most }]);
  if (edgesWake(rules, spot)) ends.push(['edge', { least: toEdge, most: whole.most - 1 }]);
  if (left.reset > 0 && rules.resets.keep) ends.push(['reset', cut]);
  if (left.reset > 0 && rules.resets.clear) ends.push(['clearingReset', cut]);
  if (left.powerLoss > 0) ends.push(['powerLoss', cut]);
  for (const [by, time] of ends) {
    const [least, most] = [Math.max(time.least, lasting.least), Math.min(time.most, lasting.most)];
    if (least <= most) yield* endingWithin(rules, spot, { ...time, least, most }, by);
  }
}

/** Edges that end a sleep; once the opening has begun there are none. */
function edgesWake({ watch, sleeps }: Rules, spot: Spot): boolean {
  return !isOpen(spot) && watch.wakeOn !== 'timer' && spot.device.activity in sleeps;
}

/** Time passes until the activity ends; meanwhile the opening may begin, or the door move. */
function* endingWithin(rules: Rules, spot: Spot, time: Span | Sleep, by: End): Outcomes {
  const { phase, door } = spot;
  const passing = { ...spot, zone: passed(spot.zone, time) };
  if (isOpen(spot)) return yield* ended(rules, passing, by);
  const { wakeOn } = rules.watch;
  const edges = edgesWake(rules, spot);
  // An open door shuts first: an edge of its own where any change wakes the device.
  const shuts = edges && wakeOn === 'any-change' && door === 'open';
  // Below zero until it begins. Where edges wake the device, it begins as the sleep ends: it is an edge itself.
  const coming = set(spot.zone, 'opening', { least: -endless, most: door === 'open' ? -2 : -1 });
  const zone = within(passed(coming, time), 'opening', edges ? none : { ...any, least: 0 });
  if (zone !== null && !shuts) {
    yield* ended(rules, { ...spot, phase: 'during', door: 'open', zone }, by);
  }
  const calm = phase === 'rest' && by === 'itself';
  if (calm) yield* ended(rules, passing, by);
  // Unseen in a send, the door may open and shut: where edges wake the device that matters.
  const sends = spot.device.activity === 'heartbeat' || spot.device.activity === 'lowBattery';
  if (calm && (wakeOn === 'timer' || !sends)) return;
  const other = { ...spot, phase: phase === 'rest' ? 'stirred' : phase } as const;
  for (const to of ['shut', 'open'] as const) {
    if (by === 'edge' && (to === 'shut') !== shuts) continue;
    const least = Math.max(time.least, to === door && !calm ? 0 : 1);
    const moved = { ...other, door: to, zone: passed(spot.zone, { ...time, least }) };
    if (least <= time.most) yield* ended(rules, moved, by);
  }
}

/** An activity has ended, and the device learns of it. */
function* ended(rules: Rules, passing: Spot, by: End): Outcomes {
  const spot = stillDown(rules, passing, by);
  if (spot === null) return;
  const unsure = isUnsure(spot, by);
  for (const turn of turns(rules, spot, by)) yield { ...turn, unsure };
}

/**
 * While the device waits the network is down, up to the millisecond before it is back or something cuts the wait short; where
 * the device gives up, still then. Null: no outage lasts as long as that. The next one may begin as long after that as after a failed send.
 */
function stillDown({ limitMs }: Rules, spot: Spot, by: End): Spot | null {
  if (sendWaiting(spot.device) === null) return spot;
  const isDown = by === 'patience';
  const most = isDown ? limitMs.outage - 1 : limitMs.outage;
  const zone = within(spot.zone, 'outage', { ...any, most });
  const ago = isDown ? 0 : 1;
  return zone && { ...spot, zone: set(zone, 'failed', { least: ago, most: ago }) };
}

/**
 * No alert of the opening is pending; or this is a check, and if it found the door shut it would not go on with the alert.
 * A pending alert that is attempted at every check is delivered in the end, for outages end; and power that fails after the
 * door has shut does no more harm than power that fails just before.
 */
function isUnsure({ phase, device }: Spot, by: End): boolean {
  if (phase !== 'decided') return phase === 'during' || phase === 'lost';
  if (by !== 'itself' || device.activity !== 'boot') return false;
  const shut = { type: 'check', contact: 'shut', cooldownOver: true, heartbeatDue: true } as const;
  return device.react(shut).device.activity !== 'alert';
}

function* turns(rules: Rules, spot: Spot, by: End): Turns {
  const { activity } = spot.device;
  if (by === 'powerLoss') {
    yield reacting(rules, { ...spent(spot, by), phase: losing(spot) }, { type: 'powerLost' });
  } else if (by === 'reset') yield reacting(rules, spent(spot, by), wake('reset'));
  else if (by === 'clearingReset') {
    // The statechart starts as if it had been without power, but no time passes.
    const blank = { ...spent(spot, 'reset'), phase: losing(spot), device: rules.off };
    yield { ...reacting(rules, blank, wake('power-on')), input: wake('reset') };
  } else if (by === 'edge') yield reacting(rules, spot, wake('contact'));
  else if (activity === 'boot') yield* checked(rules, spot);
  else if (by === 'patience') yield failing(rules, spot);
  else if (sendWaiting(spot.device) !== null) yield delivering(rules, spot);
  else if (activity === 'heartbeat' && rules.lasts['heartbeat waits'].most === 0) {
    // Nothing depends on how it ends.
    yield reacting(rules, spot, { type: 'heartbeatAttempted', delivered: true });
    yield reacting(rules, spot, { type: 'heartbeatAttempted', delivered: false });
  } else if (isSend(activity)) yield* sent(rules, spot);
  else yield reacting(rules, spot, wake(activity === 'dark' ? 'power-on' : 'timer'));
}

function spent(spot: Spot, fault: Fault): Spot {
  return { ...spot, left: { ...spot.left, [fault]: spot.left[fault] - 1 } };
}

/** An alert that is to be sent is dropped, or lost with retained memory. */
function losing({ phase }: Spot): Phase {
  return phase === 'decided' ? 'lost' : phase;
}

/** The connect time of a send is over: the network is up, and any outage is over, or down; then the device waits, or has failed. */
function* sent(rules: Rules, spot: Spot): Turns {
  yield delivering(rules, spot);
  const phase = spot.phase === 'rest' ? 'stirred' : spot.phase;
  const waits = rules.lasts['alert waits'].most > 0;
  for (const { zone, left } of suffering(rules, spot, 'outage')) {
    const down = { ...spot, phase, left, zone: set(zone, 'failed', none) };
    yield waits
      ? {
          spot: settled(rules, { ...down, device: waiting(spot.device) }),
          input: 'waits',
          event: null,
        }
      : failing(rules, down);
  }
}

const lessons = {
  alert: 'alertAttempted',
  heartbeat: 'heartbeatAttempted',
  lowBattery: 'lowBatteryAttempted',
} as const;

/** The send of a spot, at the end of its connect time or of a wait. */
function sendOf({ device }: Spot): keyof typeof lessons {
  const { activity } = device;
  return isSend(activity) ? activity : (sendWaiting(device) ?? 'alert');
}

/** From a delivery on a cooldown counts, or the time to the next low-battery message. */
function delivering(rules: Rules, spot: Spot): Turn {
  const send = sendOf(spot);
  const over = past(rules, spot.zone, 'outage');
  const since = send === 'alert' ? 'cooldown' : 'warning';
  const up = { ...spot, zone: send === 'heartbeat' ? over : set(over, since, none) };
  const event = send === 'alert' && spot.phase === 'decided' ? 'delivered' : null;
  return reacting(rules, up, { type: lessons[send], delivered: true }, event);
}

function failing(rules: Rules, down: Spot): Turn {
  return reacting(rules, down, { type: lessons[sendOf(down)], delivered: false });
}

/** A fault of limited length makes itself felt: it still goes on, or one begins, outages at a distance from each other. */
function* suffering(rules: Rules, spot: Spot, fault: 'outage' | 'chatter'): Generator<Spot> {
  const { limitMs } = rules;
  const on = within(spot.zone, fault, { least: 0, most: limitMs[fault] - 1 });
  if (on !== null) yield { ...spot, zone: on };
  const since = { ...any, least: fault === 'outage' ? limitMs.failed : -endless };
  const zone = spot.left[fault] > 0 ? within(spot.zone, 'failed', since) : null;
  if (zone !== null) yield { ...spent(spot, fault), zone: set(zone, fault, none) };
}

function* checked(rules: Rules, spot: Spot): Turns {
  if (spot.phase === 'stirred') return;
  yield* read(rules, spot, spot.door);
  if (!isOpen(spot)) return;
  for (const wrong of suffering(rules, spot, 'chatter')) yield* read(rules, wrong, 'shut');
}

/** The check itself, for each answer that the device's clock may give. */
function* read(rules: Rules, spot: Spot, contact: ContactReading): Turns {
  for (const [cooldownOver, cooled] of timed(rules, spot.zone, 'cooldown')) {
    for (const [heartbeatDue, zone] of timed(rules, cooled, 'heartbeat')) {
      for (const [lowBatteryDue, known] of mayWarn(rules, zone)) {
        const check = {
          type: 'check',
          contact,
          cooldownOver,
          heartbeatDue,
          lowBatteryDue,
        } as const;
        const { decides, drops } = spot.device.react(check);
        const kept = drops ? losing(spot) : spot.phase;
        const phase = decides && isOpen(spot) ? 'decided' : kept;
        const event = decides && spot.phase === 'during' ? 'decided' : null;
        yield reacting(rules, { ...spot, phase, zone: known }, check, event);
      }
    }
  }
}

/** A low battery to report: not at any check, and at each that is late enough. */
function* mayWarn({ watch, limitMs }: Rules, zone: Zone) {
  yield [false, zone] as const;
  if (watch.lowBattery === undefined) return;
  const late = within(zone, 'warning', { ...any, least: limitMs.warning });
  if (late !== null) yield [true, late] as const;
}

/** The readings with which a timer still runs, and those with which it is over. */
function* timed({ limitMs }: Rules, zone: Zone, clock: LimitedClock) {
  const running = within(zone, clock, { ...any, most: limitMs[clock] - 1 });
  const over = within(zone, clock, { ...any, least: limitMs[clock] });
  if (running !== null) yield [false, running] as const;
  if (over !== null) yield [true, over] as const;
}

/** A clock that no longer matters reads anything from its limit on. */
function past({ limitMs }: Rules, zone: Zone, clock: LimitedClock): Zone {
  return set(zone, clock, { ...any, least: limitMs[clock] });
}

/** The device reacts; a heartbeat counts from its start or from power-on. */
function reacting(
  rules: Rules,
  spot: Spot,
  input: DeviceInput,
  event: Milestone | null = null,
): Turn {
  const { device } = spot.device.react(input);
  const starts = device.activity === 'heartbeat' || spot.device.activity === 'dark';
  let zone = starts ? set(spot.zone, 'heartbeat', none) : spot.zone;
  // No message is remembered, so the next may come at any check.
  if (spot.device.activity === 'dark') zone = past(rules, zone, 'warning');
  const held = device.activity === 'hold' ? 'held' : null;
  return { spot: settled(rules, { ...spot, device, zone }), input, event: event ?? held };
}

/** Clocks that do not matter are set aside. */
function settled(rules: Rules, spot: Spot): Spot {
  let { zone } = spot;
  if (!isOpen(spot)) zone = set(zone, 'opening', any);
  for (const clock of limited) {
    const idle = clock === 'cooldown' && !spot.device.coolingDown;
    if (idle || isPast(rules, zone, clock)) zone = past(rules, zone, clock);
  }
  return { ...spot, zone };
}

/** Clocks with a limit. */
export const limited = [
  ...(['outage', 'failed', 'chatter'] as const),
  ...(['cooldown', 'heartbeat', 'warning'] as const),
] as const;
type LimitedClock = (typeof limited)[number];

/** Whether it no longer matters what a clock reads. */
export function isPast({ limitMs }: Rules, zone: Zone, clock: LimitedClock): boolean {
  return spanOf(zone, clock).least >= limitMs[clock];
}
