// From one check to every possible next one: the door and the environment are the adversary, the watch is not.
// Everything that can lie between two checks is here: sends, sleeps, edges, boots, resets, power losses.
import { effectBit, inputCode, inputCodes } from '../machine/index.js';
import { edgeWakes } from './edges.js';
import { after, afterAll, type Model, mark, normalized, type Step, type Track } from './track.js';

/** A check and what it led to; the search's only kind of node. */
export interface Checked extends Track {
  /** The table's effects of the check. */
  readonly effects: number;
  readonly readsOpen: boolean;
  /** This check decided the first alert of the opening under study. */
  readonly decidesFirst: boolean;
}

/** What can come of a check: a next check, the delivery of the opening's own alert, or nothing ever again. */
export interface Courses {
  readonly checks: readonly Checked[];
  readonly deliveries: readonly Track[];
  /** The device holds, and only a reset could end it, while the opening has no alert. */
  readonly stuck: readonly Track[];
}

interface Sink {
  readonly model: Model;
  readonly checks: Checked[];
  readonly deliveries: Track[];
  readonly stuck: Track[];
}

/** The device at its first power-on. */
export function firstChecks(model: Model, off: Track): readonly Checked[] {
  const sink: Sink = { model, checks: [], deliveries: [], stuck: [] };
  wake(sink, off, 'power-on');
  return sink.checks;
}

/** Every course from a check on. */
export function coursesFrom(model: Model, from: Checked): Courses {
  const sink: Sink = { model, checks: [], deliveries: [], stuck: [] };
  const sends = from.effects & (effectBit.attemptAlert | effectBit.attemptHeartbeat);
  if (sends === 0) fallAsleep(sink, from, { effects: from.effects, doorOpen: from.readsOpen });
  else send(sink, from, (from.effects & effectBit.attemptAlert) !== 0 ? 'alert' : 'heartbeat');
  return sink;
}

function next(model: Model, state: number, code: number): { state: number; effects: number } {
  const at = state * inputCodes + code;
  return { state: model.table.next[at] ?? 0, effects: model.table.effects[at] ?? 0 };
}

function send(sink: Sink, from: Track, kind: 'alert' | 'heartbeat'): void {
  const { model } = sink;
  const { connectMs } = model.times;
  const begun = mark(
    kind === 'heartbeat'
      ? (after({ ...from, heartbeatDue: false }, { op: 'restart', clocks: ['heartbeat'] }) ?? from)
      : from,
    'send begins',
  );
  strike(sink, begun, { what: 'send', leastMs: 1, mostMs: connectMs.most });
  const ended = after(begun, {
    op: 'advance',
    what: 'send',
    leastMs: connectMs.least,
    mostMs: connectMs.most,
  });
  if (ended === null) return;
  const code = kind === 'alert' ? inputCode.alertDelivered : inputCode.heartbeatDelivered;
  if (kind === 'alert') fail(sink, ended);
  const answer = next(model, ended.state, code);
  const outage = ended.outage === 'active' ? 'spent' : ended.outage;
  const sent = mark(
    { ...ended, state: answer.state, outage: kind === 'alert' ? outage : ended.outage },
    'delivered',
  );
  if (kind === 'alert' && sent.phase === 'decided') {
    sink.deliveries.push(sent);
    return;
  }
  const cooled =
    kind === 'alert'
      ? after(
          { ...sent, cooldownOver: model.times.cooldownMs === 0 },
          { op: 'restart', clocks: ['cooldown'] },
        )
      : sent;
  if (cooled === null) return;
  if ((answer.effects & effectBit.hold) !== 0) hold(sink, cooled);
  else fallAsleep(sink, cooled, { effects: answer.effects, doorOpen: null });
}

/** The network is down at the end of the send, if there is outage left for it. */
function fail(sink: Sink, ended: Track): void {
  const { model } = sink;
  const { longestOutageMs } = model.environment;
  if (longestOutageMs === 0 || ended.outage === 'spent') return;
  const down =
    ended.outage === 'unused'
      ? after({ ...ended, outage: 'active' }, { op: 'restart', clocks: ['outage'] })
      : after(ended, { op: 'at most', clock: 'outage', value: longestOutageMs - 1 });
  if (down === null) return;
  const answer = next(model, down.state, inputCode.alertFailed);
  const failed = mark({ ...down, state: answer.state }, 'failed');
  fallAsleep(sink, failed, { effects: answer.effects, doorOpen: null });
}

/** Awake until a reset, if ever one comes. */
function hold(sink: Sink, held: Track): void {
  if (held.phase !== 'before') sink.stuck.push(held);
  // The cooldown may run out while it holds, or not: no later check can tell more.
  strike(sink, held, { what: 'held', leastMs: 1, mostMs: sink.model.times.cooldownMs + 1 });
}

/** @param end.doorOpen what the door does as the device falls asleep; null: either, after a send that took time. */
function fallAsleep(
  sink: Sink,
  track: Track,
  end: { readonly effects: number; readonly doorOpen: boolean | null },
): void {
  const { model } = sink;
  const which = (end.effects & effectBit.sleepMask) / effectBit.sleepCheck - 1;
  const at = which === 1 ? 1 : which === 2 ? 2 : 0;
  const range = model.times.sleeps[at];
  for (const cuttable of quietlyAsleep(model, track, end.doorOpen)) {
    strike(sink, cuttable.track, {
      what: 'part of a sleep',
      leastMs: 1,
      mostMs: range.mostMs,
      ...(cuttable.then === null ? {} : { then: cuttable.then }),
    });
  }
  if (model.wakeOn !== 'timer' && (track.phase === 'before' || track.phase === 'starting')) {
    for (const woken of edgeWakes(model, track, { which: at, range, doorOpen: end.doorOpen })) {
      wake(sink, woken.track, woken.cause, woken.readings);
    }
    return;
  }
  const slept = after(track, { op: 'sleep', which: at, range });
  if (slept !== null) wake(sink, slept, 'timer');
}

/**
 * A sleep that a fault cuts short: where edges wake the device, the opening under study has begun before it, unseen
 * during a send, or does not begin until the fault.
 */
function quietlyAsleep(
  model: Model,
  track: Track,
  doorOpen: boolean | null,
): readonly { readonly track: Track; readonly then: Step | null }[] {
  if (model.wakeOn === 'timer' || track.phase !== 'starting') return [{ track, then: null }];
  const begun = after(track, { op: 'at least', clock: 'opening', value: 0 });
  const mustShutAwake = model.wakeOn === 'any-change' && doorOpen === true;
  const then: Step = { op: 'at most', clock: 'opening', value: mustShutAwake ? -1 : 0 };
  return [...(begun === null ? [] : [{ track: begun, then: null }]), { track, then }];
}

/** Resets and power losses that cut a stretch of time short. */
function strike(
  sink: Sink,
  track: Track,
  stretch: {
    readonly what: 'boot' | 'send' | 'part of a sleep' | 'held';
    readonly leastMs: number;
    readonly mostMs: number;
    /** What must hold as the fault strikes. */
    readonly then?: Step;
  },
): void {
  const { model } = sink;
  if (stretch.mostMs < stretch.leastMs) return;
  const { what, leastMs, mostMs, then } = stretch;
  const cutBy: Step[] = [
    { op: 'advance', what, leastMs, mostMs },
    ...(then === undefined ? [] : [then]),
  ];
  if (track.resetsLeft > 0) {
    const cut = afterAll(track, cutBy);
    if (cut !== null) wake(sink, { ...cut, resetsLeft: cut.resetsLeft - 1 }, 'reset');
  }
  // Before the opening a power loss only leads back to the first power-on, with less left to do harm.
  if (track.lossesLeft > 0 && track.phase !== 'before') {
    const off = next(model, track.state, inputCode.powerLost).state;
    const cut = afterAll(track, cutBy);
    if (cut === null) return;
    const dark = afterAll(
      mark({ ...cut, state: off, lossesLeft: cut.lossesLeft - 1 }, 'power lost'),
      [
        { op: 'advance', what: 'off', leastMs: 1, mostMs: model.environment.longestPowerLossMs },
        { op: 'restart', clocks: ['heartbeat'] },
      ],
    );
    if (dark === null) return;
    const phase = dark.phase === 'decided' ? 'during' : dark.phase;
    wake(sink, { ...dark, phase, heartbeatDue: false }, 'power-on');
  }
}

/** What the next check can read, where the way the device woke decides it. */
export type Readings = 'any' | 'open' | 'shut';

function wake(
  sink: Sink,
  asleep: Track,
  cause: 'power-on' | 'reset' | 'timer' | 'contact',
  readings: Readings = 'any',
): void {
  const { model } = sink;
  const awake = mark(
    { ...asleep, state: next(model, asleep.state, inputCode.wake[cause]).state },
    cause,
  );
  const { bootMs } = model.times;
  strike(sink, awake, { what: 'boot', leastMs: 1, mostMs: bootMs.most });
  const booted = after(awake, {
    op: 'advance',
    what: 'boot',
    leastMs: bootMs.least,
    mostMs: bootMs.most,
  });
  if (booted !== null) check(sink, booted, readings);
}

function check(sink: Sink, booted: Track, readings: Readings): void {
  if (booted.phase === 'before') {
    if (readings !== 'shut') read(sink, booted, 'reads open');
    if (readings !== 'open') read(sink, booted, 'reads shut');
    return;
  }
  const open =
    booted.phase === 'starting'
      ? after(booted, { op: 'at least', clock: 'opening', value: 0 })
      : booted;
  if (open === null) return;
  const inside: Track = open.phase === 'starting' ? { ...open, phase: 'during' } : open;
  read(sink, inside, 'reads open');
  chatter(sink, inside);
}

/** The contact reads shut though the door is open, if there is chatter left for it. */
function chatter(sink: Sink, inside: Track): void {
  const { longestChatterMs } = sink.model.environment;
  if (longestChatterMs === 0 || inside.chatter === 'spent') return;
  const wrong =
    inside.chatter === 'unused'
      ? after({ ...inside, chatter: 'active' }, { op: 'restart', clocks: ['chatter'] })
      : after(inside, { op: 'at most', clock: 'chatter', value: longestChatterMs - 1 });
  if (wrong !== null) read(sink, wrong, 'reads shut wrongly');
}

/** Splits by what the clocks say at the check, and lets the logic react. */
function read(
  sink: Sink,
  booted: Track,
  moment: 'reads open' | 'reads shut' | 'reads shut wrongly',
): void {
  const { cooldownMs, heartbeatMs } = sink.model.times;
  for (const cooled of splitAt(booted, {
    known: booted.cooldownOver,
    clock: 'cooldown',
    timerMs: cooldownMs,
  })) {
    const beats = { known: booted.heartbeatDue, clock: 'heartbeat', timerMs: heartbeatMs } as const;
    for (const beaten of splitAt(cooled.track, beats)) {
      const code =
        inputCode.check +
        (moment === 'reads open' ? inputCode.checkReadsOpen : 0) +
        (cooled.over ? inputCode.checkCooldownOver : 0) +
        (beaten.over ? inputCode.checkHeartbeatDue : 0);
      const track = { ...beaten.track, cooldownOver: cooled.over, heartbeatDue: beaten.over };
      sink.checks.push(
        react(sink.model, mark(track, moment), { code, readsOpen: moment === 'reads open' }),
      );
    }
  }
}

function splitAt(
  track: Track,
  by: {
    readonly known: boolean;
    readonly clock: 'cooldown' | 'heartbeat';
    readonly timerMs: number;
  },
): readonly { readonly track: Track; readonly over: boolean }[] {
  if (by.known) return [{ track, over: true }];
  if (by.timerMs === Number.POSITIVE_INFINITY) return [{ track, over: false }];
  const running = after(track, { op: 'at most', clock: by.clock, value: by.timerMs - 1 });
  const over = after(track, { op: 'at least', clock: by.clock, value: by.timerMs });
  return [
    ...(running === null ? [] : [{ track: running, over: false }]),
    ...(over === null ? [] : [{ track: over, over: true }]),
  ];
}

function react(
  model: Model,
  track: Track,
  input: { readonly code: number; readonly readsOpen: boolean },
): Checked {
  const answer = next(model, track.state, input.code);
  const decides = (answer.effects & effectBit.decideAlert) !== 0;
  const drops = (answer.effects & effectBit.dropAlert) !== 0;
  const decidesFirst = decides && track.phase === 'during' && !track.decidedOnce;
  const phase =
    decides && track.phase === 'during'
      ? 'decided'
      : drops && track.phase === 'decided'
        ? 'during'
        : track.phase;
  const next_ = normalized(model, {
    ...track,
    state: answer.state,
    phase,
    decidedOnce: track.decidedOnce || decidesFirst,
  });
  return { ...next_, effects: answer.effects, readsOpen: input.readsOpen, decidesFirst };
}
