// Everything that can come after a check: the door, the network and the faults do what they like within the rules, the
// statechart answers. Written from what the device does, and from nothing of how its bounds were searched for.
import type { ContactReading, WakeCause } from '../machine/index.js';
import {
  type ClockName,
  keeping,
  opensLater,
  passed,
  type Range,
  type Readings,
  slept,
  zeroed,
} from './readings.js';
import type { Rules } from './rules.js';
import { offSpot, type Spot, settled } from './spot.js';

export type Outcome =
  /** The next check. */
  | { readonly kind: 'check'; readonly spot: Spot; readonly decidesFirst: boolean }
  /** The opening's own alert is delivered. */
  | { readonly kind: 'delivery'; readonly readings: Readings }
  /** Awake and idle until a reset that need not come. */
  | { readonly kind: 'hold' };

type Outcomes = Generator<Outcome, void>;
type Door = ContactReading | 'either';

/** What can come after the check at `spot`. */
export function* afterCheck(rules: Rules, spot: Spot): Outcomes {
  const { then } = spot;
  if (then === 'alert' || then === 'heartbeat') yield* sending(rules, spot, then);
  else if (then === 'hold') yield { kind: 'hold' };
  else yield* asleep(rules, spot, { interval: then, door: spot.contact });
}

/** The same spot, with the opening to begin before the next check. An open door must first shut. */
export function beginning(spot: Spot): Spot {
  const latest = spot.contact === 'open' ? -2 : -1;
  return { ...spot, phase: 'starting', readings: opensLater(spot.readings, latest) };
}

/** The device gets its power for the first time; the opening may begin then, later in the boot, or after it. */
export function* firstPowerOn(rules: Rules): Outcomes {
  const off = offSpot(rules);
  yield* woken(rules, off, 'power-on');
  const readings = opensLater(off.readings, 0);
  yield* woken(rules, { ...off, phase: 'starting', readings }, 'power-on');
}

function* sending(rules: Rules, spot: Spot, what: 'alert' | 'heartbeat'): Outcomes {
  const readings = what === 'alert' ? spot.readings : zeroed(spot.readings, ['heartbeat']);
  const begun: Spot = { ...spot, due: what === 'heartbeat' ? false : spot.due, readings };
  yield* struck(rules, begun, rules.connect.most);
  for (const took of parts(rules, rules.connect)) {
    const ended = { ...begun, readings: passed(readings, took) };
    const door: Door = took.most === 0 ? spot.contact : 'either';
    for (const delivered of [true, false]) {
      const sent =
        what === 'heartbeat' ? ended : delivered ? arrived(rules, ended) : lost(rules, ended);
      if (sent === null) continue;
      if (what === 'alert' && delivered && sent.phase === 'decided') {
        yield { kind: 'delivery', readings: sent.readings };
        continue;
      }
      const type = what === 'alert' ? 'alertAttempted' : 'heartbeatAttempted';
      const { state, then } = rules.machine.react(sent.state, { type, delivered });
      if (then === 'check' || then === 'recheck' || then === 'retry') {
        yield* asleep(rules, { ...sent, state }, { interval: then, door });
      } else yield { kind: 'hold' };
    }
  }
}

/** The network is up: an outage that went on is over, and the cooldown begins. */
function arrived({ cooldownMs }: Rules, ended: Spot): Spot {
  const outage = ended.outage === 'active' ? 'spent' : ended.outage;
  const readings =
    ended.phase === 'decided' ? ended.readings : zeroed(ended.readings, ['cooldown']);
  return { ...ended, outage, cooled: cooldownMs === 0, readings };
}

/** The network is down; null when it cannot be, or no longer. */
function lost({ environment: { longestOutageMs } }: Rules, ended: Spot): Spot | null {
  return limited(ended, 'outage', longestOutageMs);
}

/** A fault of limited length makes itself felt: for the first time, or within that length from then on. */
function limited(spot: Spot, fault: 'outage' | 'chatter', longestMs: number): Spot | null {
  if (longestMs === 0 || spot[fault] === 'spent') return null;
  const readings =
    spot[fault] === 'unused'
      ? zeroed(spot.readings, [fault])
      : keeping(spot.readings, fault, 'at most', longestMs - 1);
  return readings === null ? null : { ...spot, [fault]: 'active', readings };
}

/** A duration; where edges wake the device it matters whether it is nothing at all. */
function parts({ watch }: Rules, range: Range): readonly Range[] {
  if (watch.wakeOn === 'timer' || range.least > 0 || range.most === 0) return [range];
  return [
    { least: 0, most: 0 },
    { least: 1, most: range.most },
  ];
}

interface Sleeping {
  readonly interval: 'check' | 'recheck' | 'retry';
  /** The door as the device falls asleep. */
  readonly door: Door;
}

function* asleep(rules: Rules, spot: Spot, sleep: Sleeping): Outcomes {
  const { wakeOn } = rules.watch;
  const range = rules.sleeps[sleep.interval];
  const edges = wakeOn !== 'timer' && (spot.phase === 'before' || spot.phase === 'starting');
  if (edges && spot.phase === 'starting') {
    // Begun unseen during the send; or not begun, with all the door's edges after the fault or at its instant.
    const begun = kept(spot, 'opening', 'at least', 0);
    if (begun !== null) yield* struck(rules, begun, range.most);
    const latest = wakeOn === 'any-change' && sleep.door === 'open' ? -1 : 0;
    yield* struck(rules, spot, range.most, latest);
  } else yield* struck(rules, spot, range.most);
  if (!edges) {
    yield* woken(rules, { ...spot, readings: slept(spot.readings, range) }, 'timer');
    return;
  }
  const doors = sleep.door === 'either' ? (['shut', 'open'] as const) : [sleep.door];
  for (const door of doors) {
    const way = { interval: sleep.interval, door };
    yield* spot.phase === 'before'
      ? edgesBefore(rules, spot, way)
      : edgesStarting(rules, spot, way);
  }
}

/**
 * A sleep with any edges before the opening. An armed edge comes 1 ms after the device fell asleep at the earliest; where
 * only an opening wakes it and the door is open, 2 ms; and before the timer is due.
 */
function* edgesBefore(rules: Rules, spot: Spot, sleep: Sleeping): Outcomes {
  const range = rules.sleeps[sleep.interval];
  yield* woken(rules, { ...spot, readings: slept(spot.readings, range) }, 'timer');
  const onOpening = rules.watch.wakeOn === 'opening';
  const first = onOpening && sleep.door === 'open' ? 2 : 1;
  if (range.most - 1 < first) return;
  const readings = passed(spot.readings, { least: first, most: range.most - 1 });
  const edgeTo = onOpening || sleep.door === 'shut' ? 'open' : 'shut';
  yield* woken(rules, { ...spot, readings }, 'contact', edgeTo);
}

/** The same with the opening to begin; from its beginning on there are no edges. */
function* edgesStarting(rules: Rules, spot: Spot, sleep: Sleeping): Outcomes {
  const range = rules.sleeps[sleep.interval];
  const open = sleep.door === 'open';
  const anyChange = rules.watch.wakeOn === 'any-change';
  const begun = open ? kept(spot, 'opening', 'at least', 0) : null;
  if (begun !== null) {
    yield* woken(rules, { ...begun, readings: slept(begun.readings, range) }, 'timer');
  }
  // Not begun: an open door shuts first, which is an edge that wakes the device where any change does.
  const coming = kept(spot, 'opening', 'at most', open ? -2 : -1);
  if (coming === null) return;
  const untilEdge = (least: number): Spot | null =>
    range.most - 1 < least
      ? null
      : { ...coming, readings: passed(coming.readings, { least, most: range.most - 1 }) };
  // The opening itself wakes it.
  const own =
    open && anyChange
      ? null
      : kept(kept(untilEdge(1), 'opening', 'at most', 0), 'opening', 'at least', 0);
  if (own !== null) yield* woken(rules, own, 'contact');
  // The timer does, and the opening begins in the boot.
  const timer = { ...coming, readings: slept(coming.readings, range) };
  const unopened = kept(timer, 'opening', 'at most', open && anyChange ? -1 : 0);
  if (unopened !== null) yield* woken(rules, unopened, 'timer');
  // An earlier edge does: the shutting of the door, or an opening before, which must end first.
  const earlier = untilEdge(open && !anyChange ? 2 : 1);
  const unmoved = kept(earlier, 'opening', 'at most', open && anyChange ? -1 : -2);
  if (unmoved !== null) yield* woken(rules, unmoved, 'contact');
}

function kept(
  spot: Spot | null,
  name: ClockName,
  side: 'at most' | 'at least',
  value: number,
): Spot | null {
  const readings = spot === null ? null : keeping(spot.readings, name, side, value);
  return spot === null || readings === null ? null : { ...spot, readings };
}

/**
 * A reset or a power loss within the next `longestMs`, at their end included.
 * @param opening what the opening's clock may read then at most.
 */
function* struck(rules: Rules, spot: Spot, longestMs: number, opening?: number): Outcomes {
  if (longestMs < 1 || spot.phase === 'rest') return;
  const passing = { ...spot, readings: passed(spot.readings, { least: 1, most: longestMs }) };
  const cut = opening === undefined ? passing : kept(passing, 'opening', 'at most', opening);
  if (cut === null) return;
  if (cut.resetsLeft > 0) {
    yield* woken(rules, { ...cut, resetsLeft: cut.resetsLeft - 1 }, 'reset');
  }
  // Before the opening a power loss leads to the first power-on once more, with less left to go wrong.
  if (cut.lossesLeft === 0 || cut.phase === 'before') return;
  const dark = passed(cut.readings, { least: 1, most: rules.environment.longestPowerLossMs });
  const back: Spot = {
    ...cut,
    state: rules.machine.react(cut.state, { type: 'powerLost' }).state,
    phase: cut.phase === 'decided' ? 'during' : cut.phase,
    cooled: true,
    due: !rules.watch.heartbeats,
    lossesLeft: cut.lossesLeft - 1,
    readings: zeroed(dark, ['cooldown', 'heartbeat']),
  };
  yield* woken(rules, back, 'power-on');
}

/** @param edgeTo what the edge that woke the device led to, which a check without boot time reads. */
function* woken(rules: Rules, spot: Spot, cause: WakeCause, edgeTo?: ContactReading): Outcomes {
  const { state } = rules.machine.react(spot.state, { type: 'wake', cause });
  const awake = { ...spot, state };
  yield* struck(rules, awake, rules.boot.most);
  for (const boot of parts(rules, rules.boot)) {
    const booted = { ...awake, readings: passed(awake.readings, boot) };
    yield* checked(rules, booted, boot.most === 0 ? edgeTo : undefined);
  }
}

function* checked(rules: Rules, booted: Spot, edgeTo: ContactReading | undefined): Outcomes {
  switch (booted.phase) {
    case 'rest':
      yield* read(rules, booted, 'shut');
      return;
    case 'before':
      if (edgeTo !== 'shut') yield* read(rules, booted, 'open');
      if (edgeTo !== 'open') yield* read(rules, booted, 'shut');
      return;
    case 'starting':
    case 'during':
    case 'decided': {
      const open = booted.phase === 'starting' ? kept(booted, 'opening', 'at least', 0) : booted;
      if (open === null) return;
      const inside: Spot = open.phase === 'starting' ? { ...open, phase: 'during' } : open;
      yield* read(rules, inside, 'open');
      const wrong = limited(inside, 'chatter', rules.environment.longestChatterMs);
      if (wrong !== null) yield* read(rules, wrong, 'shut');
    }
  }
}

/** The check itself, for each answer that the device's clock may give. */
function* read(rules: Rules, spot: Spot, contact: ContactReading): Outcomes {
  for (const cooldown of timed(spot.readings, 'cooldown', spot.cooled ? null : rules.cooldownMs)) {
    const dueAtMs = spot.due ? null : rules.heartbeatMs;
    for (const heartbeat of timed(cooldown.readings, 'heartbeat', dueAtMs)) {
      const answer = rules.machine.react(spot.state, {
        type: 'check',
        contact,
        cooldownOver: cooldown.over,
        heartbeatDue: heartbeat.over && rules.watch.heartbeats,
      });
      const decides = answer.decides && spot.phase === 'during';
      const drops = answer.drops && spot.phase === 'decided';
      const next: Spot = {
        ...spot,
        state: answer.state,
        then: answer.then ?? 'hold',
        contact,
        phase: decides ? 'decided' : drops ? 'during' : spot.phase,
        alerted: spot.alerted || decides,
        cooled: cooldown.over,
        due: heartbeat.over,
        readings: heartbeat.readings,
      };
      yield { kind: 'check', spot: settled(rules, next), decidesFirst: decides && !spot.alerted };
    }
  }
}

/** The readings split at a timer that is still running; null: it is not. */
function timed(readings: Readings, name: ClockName, timerMs: number | null) {
  if (timerMs === null) return [{ over: true, readings }];
  const running = keeping(readings, name, 'at most', timerMs - 1);
  const over = keeping(readings, name, 'at least', timerMs);
  return [
    ...(running === null ? [] : [{ over: false, readings: running }]),
    ...(over === null ? [] : [{ over: true, readings: over }]),
  ];
}
