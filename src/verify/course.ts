// A bound is reached: one concrete course of the device, played with the statechart instant by instant. At one instant
// the door and the network have already changed; then come power loss, reset, the end of a send, the check, the timer,
// the edge.
import type { WakeCause } from '../machine/index.js';
import { refuseUnlikely } from './course-limits.js';
import type { Course, Span } from './format.js';
import type { Then } from './machine.js';
import type { Range, Sleep } from './readings.js';
import { RefusedError, refuse } from './refusal.js';
import type { Rules } from './rules.js';

/** What a course is to come to, in milliseconds from the start of the opening. */
export interface Goal {
  /** `rest`: nothing happens before the opening. */
  readonly from: 'rest' | 'any state';
  /** The opening's first alert decided, its own alert delivered, or the device awake for ever without any. */
  readonly what: 'decision' | 'delivery' | 'hold';
  /** Null for a hold. */
  readonly afterMs: number | null;
}

/** More wakes than any course takes. */
const mostWakes = 1_000_000;

/** Plays a course. @throws RefusedError when it is impossible, or does not come to its goal. */
export function playCourse(rules: Rules, course: Course, goal: Goal, place: string): void {
  refuseUnlikely(rules, course, place);
  const play = openPlay(rules, course, { goal, place });
  for (let wakes = 0; play.wake !== null && !hasCome(play); wakes += 1) {
    if (wakes > mostWakes) refuse(place, 'this course does not come to an end');
    oneWake(play, play.wake);
  }
  if (goal.from === 'rest' && !play.rested) {
    refuse(place, 'the opening does not meet the device at rest');
  }
  const expected = goal.afterMs;
  const found = goal.what === 'decision' ? play.decisionMs : play.deliveryMs;
  if (!hasCome(play) || found !== expected) {
    refuse(place, 'this course does not come to the bound', { found, expected });
  }
}

function hasCome({ goal, decisionMs, deliveryMs, wake }: Play): boolean {
  switch (goal.what) {
    case 'decision':
      return decisionMs !== null;
    case 'delivery':
      return deliveryMs !== null;
    case 'hold':
      return wake === null && decisionMs === null;
  }
}

/** Whether a course can be taken, and comes to its goal. */
export function comesTo(rules: Rules, course: Course, goal: Goal): boolean {
  try {
    playCourse(rules, course, goal, '');
    return true;
  } catch (error) {
    if (error instanceof RefusedError) return false;
    throw error;
  }
}

interface Wake {
  readonly atMs: number;
  readonly cause: WakeCause;
}

interface Play {
  readonly rules: Rules;
  readonly course: Course;
  readonly goal: Goal;
  readonly place: string;
  readonly faults: readonly (readonly [atMs: number, backMs: number])[];
  readonly edges: readonly number[];
  readonly boot: () => number;
  readonly connect: () => number;
  readonly sleep: (range: Sleep) => number;
  state: number;
  then: Then | null;
  wake: Wake | null;
  fault: number;
  awakeSinceMs: number;
  /** The device's clock less true time. */
  aheadMs: number;
  cooledAtMs: number;
  heartbeatAtMs: number;
  /** The pending alert is the opening's own. */
  own: boolean;
  /** The device was at rest at its last check before the opening; with heartbeats, after one was sent. */
  rested: boolean;
  heartbeatSent: boolean;
  decisionMs: number | null;
  deliveryMs: number | null;
}

function openPlay(rules: Rules, course: Course, on: { goal: Goal; place: string }): Play {
  const { place } = on;
  const { opensAtMs, doorOpenMs, powerLostMs, resetsMs } = course;
  const faults = [...powerLostMs, ...resetsMs.map((atMs) => [atMs, atMs] as const)];
  return {
    rules,
    course,
    ...on,
    faults: faults.sort((one, other) => one[0] - other[0]),
    edges: [...doorOpenMs.flat(), opensAtMs],
    boot: inTurn(rules.boot, course.bootsMs, `${place}/bootsMs`),
    connect: inTurn(rules.connect, course.connectsMs, `${place}/connectsMs`),
    sleep: sleepsOf(rules, course, place),
    state: rules.machine.off,
    then: null,
    wake: { atMs: 0, cause: 'power-on' },
    fault: 0,
    awakeSinceMs: 0,
    aheadMs: 0,
    cooledAtMs: Number.NEGATIVE_INFINITY,
    heartbeatAtMs: rules.heartbeatMs,
    own: false,
    rested: false,
    heartbeatSent: false,
    decisionMs: null,
    deliveryMs: null,
  };
}

/** Times one after the other, each in its range. */
function inTurn(range: Range, listed: readonly number[], place: string): () => number {
  let index = -1;
  return () => {
    if (range.least === range.most) return range.most;
    index += 1;
    return refuseOutside(range, listed[index], `${place}/${String(index)}`);
  };
}

function sleepsOf(
  { sleeps }: Rules,
  { sleepsMs }: Course,
  place: string,
): (range: Sleep) => number {
  const varies = Object.values(sleeps).some(({ least, most }) => least !== most);
  let index = -1;
  return (range) => {
    if (!varies) return range.most;
    index += 1;
    return refuseOutside(range, sleepsMs[index], `${place}/sleepsMs/${String(index)}`);
  };
}

function refuseOutside(range: Range, value: number | undefined, place: string): number {
  if (value !== undefined && value >= range.least && value <= range.most) return value;
  return refuse(place, 'the device cannot take this long', {
    found: value,
    expected: `from ${String(range.least)} to ${String(range.most)}`,
  });
}

function oneWake(play: Play, { atMs, cause }: Wake): void {
  const { rules, course } = play;
  const { machine } = rules;
  play.awakeSinceMs = atMs;
  play.state = machine.react(play.state, { type: 'wake', cause }).state;
  const checkMs = atMs + play.boot();
  if (struckBy(play, checkMs)) return;
  const open = isOpen(course, checkMs) && !isWithin(course.readsShutMs, checkMs);
  const clockMs = checkMs + play.aheadMs;
  const answer = machine.react(play.state, {
    type: 'check',
    contact: open ? 'open' : 'shut',
    cooldownOver: clockMs >= play.cooledAtMs || !machine.memory(play.state).coolingDown,
    heartbeatDue: clockMs >= play.heartbeatAtMs,
  });
  play.state = answer.state;
  play.then = answer.then;
  const inOpening = checkMs >= course.opensAtMs;
  if (!inOpening) noteRest(play, checkMs);
  if (answer.decides) {
    play.own = inOpening;
    if (inOpening) play.decisionMs ??= checkMs - course.opensAtMs;
  }
  if (hasCome(play)) return;
  const endMs = sendEndsMs(play, checkMs);
  if (endMs !== null && !hasCome(play)) sleepFrom(play, endMs);
}

/** When the wake's work is done; null when it never is. */
function sendEndsMs(play: Play, checkMs: number): number | null {
  const { then, rules, course } = play;
  if (then !== 'alert' && then !== 'heartbeat') return checkMs;
  const endMs = checkMs + play.connect();
  if (then === 'heartbeat') {
    play.heartbeatAtMs = checkMs + play.aheadMs + rules.heartbeatMs;
    play.heartbeatSent ||= checkMs < course.opensAtMs;
  }
  if (struckBy(play, endMs)) return null;
  const delivered = !isWithin(course.networkDownMs, endMs);
  const type = then === 'alert' ? 'alertAttempted' : 'heartbeatAttempted';
  const answer = rules.machine.react(play.state, { type, delivered });
  play.state = answer.state;
  play.then = answer.then;
  if (then === 'alert' && delivered) {
    play.cooledAtMs = endMs + play.aheadMs + rules.cooldownMs;
    if (play.own) play.deliveryMs = endMs - course.opensAtMs;
  }
  return endMs;
}

function sleepFrom(play: Play, fromMs: number): void {
  const { rules, edges, then } = play;
  if (then !== 'check' && then !== 'recheck' && then !== 'retry') {
    // Awake until a fault, if there still is one.
    if (!struckBy(play, Number.POSITIVE_INFINITY)) play.wake = null;
    return;
  }
  const range = rules.sleeps[then];
  const lengthMs = play.sleep(range);
  const timerMs = fromMs + lengthMs;
  const { wakeOn } = rules.watch;
  const edgeMs = edges.find(
    (atMs, index) =>
      atMs > fromMs &&
      atMs < timerMs &&
      (wakeOn === 'any-change' || (wakeOn === 'opening' && index % 2 === 0)),
  );
  if (struckBy(play, edgeMs ?? timerMs)) return;
  if (edgeMs === undefined) play.aheadMs += range.counted - lengthMs;
  play.wake =
    edgeMs === undefined ? { atMs: timerMs, cause: 'timer' } : { atMs: edgeMs, cause: 'contact' };
}

/** The next fault, if it comes at `untilMs` or before. */
function struckBy(play: Play, untilMs: number): boolean {
  const [atMs, backMs] = play.faults[play.fault] ?? [];
  if (atMs === undefined || backMs === undefined || atMs > untilMs) return false;
  if (atMs <= play.awakeSinceMs)
    refuse(play.place, 'nothing strikes a device without power, or as it boots', { found: atMs });
  play.fault += 1;
  play.wake = { atMs: backMs, cause: backMs === atMs ? 'reset' : 'power-on' };
  if (backMs > atMs) {
    play.state = play.rules.machine.react(play.state, { type: 'powerLost' }).state;
    play.heartbeatAtMs = backMs + play.aheadMs + play.rules.heartbeatMs;
    play.cooledAtMs = Number.NEGATIVE_INFINITY;
    play.own = false;
  }
  return true;
}

function isOpen({ opensAtMs, doorOpenMs }: Course, atMs: number): boolean {
  return atMs >= opensAtMs || isWithin(doorOpenMs, atMs);
}

function isWithin(spans: readonly Span[], atMs: number): boolean {
  return spans.some(([from, to]) => atMs >= from && atMs < to);
}

/** At rest, at a check before the opening, the door has been shut and nothing has gone wrong. */
function noteRest(play: Play, checkMs: number): void {
  const { course, rules, fault, heartbeatSent } = play;
  const stirred = fault > 0 || course.doorOpenMs.some(([from]) => from <= checkMs);
  const beaten = !rules.watch.heartbeats || heartbeatSent || play.then === 'heartbeat';
  play.rested = !stirred && beaten;
}
