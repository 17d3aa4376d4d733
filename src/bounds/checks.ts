// A check: what the contact can read at its instant, what the clocks say, and how the logic answers.
import { effectBit, inputCode, inputCodes } from '../machine/index.js';
import { isLosable } from './losable.js';
import {
  type Draft,
  draftOf,
  type Model,
  type Moment,
  normalize,
  note,
  require,
  type Track,
  take,
} from './track.js';

/** A check and what it led to; the search's only kind of node. */
export interface Checked extends Track {
  /** The table's effects of the check. */
  readonly effects: number;
  /** What the contact read; within the opening under study it may be wrong. */
  readonly readsOpen: boolean;
  /** This check decided the first alert of the opening under study. */
  readonly decidesFirst: boolean;
  /** Had the door shut at the instant of this check, the opening under study might never be reported. */
  readonly mayGoUnreported: boolean;
}

/** What can come of a check: a next check, the delivery of the opening's own alert, or nothing ever again. */
export interface Runs {
  readonly checks: readonly Checked[];
  readonly deliveries: readonly Track[];
  /** The device holds, and only a reset could end it, while the opening has no alert. */
  readonly stuck: readonly Track[];
}

/** Runs while they are gathered. */
export interface Sink extends Runs {
  readonly model: Model;
  readonly checks: Checked[];
  readonly deliveries: Track[];
  readonly stuck: Track[];
}

export function emptySink(model: Model): Sink {
  return { model, checks: [], deliveries: [], stuck: [] };
}

/** The logic's next state. */
export function nextState({ table }: Model, state: number, code: number): number {
  return table.next[state * inputCodes + code] ?? 0;
}

export function effectsOf({ table }: Model, state: number, code: number): number {
  return table.effects[state * inputCodes + code] ?? 0;
}

/** What the next check can read, where the way the device woke decides it. */
export type Readings = 'any' | 'open' | 'shut';

/** Every outcome of a check at the end of a boot. */
export function check(sink: Sink, booted: Draft, readings: Readings): void {
  if (booted.phase === 'before') {
    if (readings !== 'shut') read(sink, booted, 'reads open');
    if (readings !== 'open') read(sink, booted, 'reads shut');
    return;
  }
  const inside = draftOf(booted);
  if (inside.phase === 'starting') {
    if (!take(inside, { op: 'at least', clock: 'opening', value: 0 })) return;
    inside.phase = 'during';
  }
  if (readings !== 'shut') read(sink, inside, 'reads open');
  if (readings !== 'open' && readWrongly(sink.model, inside)) {
    read(sink, inside, 'reads shut wrongly');
  }
}

/** The contact reads shut now though the door is open. False: there is no chatter left for it. */
export function readWrongly({ environment }: Model, draft: Draft): boolean {
  const { longestChatterMs } = environment;
  if (longestChatterMs === 0 || draft.chatter === 'spent') return false;
  if (draft.chatter === 'active') {
    return take(draft, { op: 'at most', clock: 'chatter', value: longestChatterMs - 1 });
  }
  draft.chatter = 'active';
  return take(draft, { op: 'restart', clocks: ['chatter'] });
}

/** Splits by what the clocks say at the check, and lets the logic react. */
function read(
  sink: Sink,
  booted: Draft,
  moment: Extract<Moment, 'reads open' | 'reads shut' | 'reads shut wrongly'>,
): void {
  const { model } = sink;
  const readsOpen = moment === 'reads open';
  const code = inputCode.check + (readsOpen ? inputCode.checkReadsOpen : 0);
  const timers: Timers = {
    cooldown: { bit: inputCode.checkCooldownOver, timerMs: model.times.cooldownMs },
    heartbeat: { bit: inputCode.checkHeartbeatDue, timerMs: model.times.heartbeatMs },
  };
  for (const cooled of split(model, { track: booted, code }, { timers, clock: 'cooldown' })) {
    for (const beaten of split(model, cooled, { timers, clock: 'heartbeat' })) {
      note(beaten.track, moment);
      const warning = warned(model, beaten);
      sink.checks.push(react(model, beaten.track, { code: beaten.code, readsOpen }));
      if (warning === null) continue;
      sink.checks.push(react(model, warning.track, { code: warning.code, readsOpen }));
    }
  }
}

type Timers = Readonly<
  Record<'cooldown' | 'heartbeat', { readonly bit: number; readonly timerMs: number }>
>;

interface AtCheck {
  readonly track: Draft;
  readonly code: number;
}

/** The track with its timer running and with it over, as far as each is possible. */
function split(
  model: Model,
  { track, code }: AtCheck,
  by: { readonly timers: Timers; readonly clock: 'cooldown' | 'heartbeat' },
): readonly AtCheck[] {
  const { clock } = by;
  const { bit, timerMs } = by.timers[clock];
  const known = clock === 'cooldown' ? track.cooldownOver : track.heartbeatDue;
  if (known) return [{ track: draftOf(track), code: code + bit }];
  if (clock === 'heartbeat' && track.beat !== 'timed')
    return splitBeat(model, { track, code }, bit);
  const freely = clock === 'heartbeat' && track.phase === 'before' && model.heartbeats === 'free';
  const never = timerMs === Number.POSITIVE_INFINITY;
  if (never || (freely && !matters(model, track.state, { code, bit }))) {
    return [{ track: draftOf(track), code }];
  }
  const ways: AtCheck[] = [];
  const running = draftOf(track);
  if (freely || take(running, { op: 'at most', clock, value: timerMs - 1 }))
    ways.push({ track: running, code });
  const over = draftOf(track);
  if (freely || take(over, { op: 'at least', clock, value: timerMs })) {
    if (clock === 'cooldown') over.cooldownOver = true;
    else over.heartbeatDue = true;
    ways.push({ track: over, code: code + bit });
  }
  return ways;
}

/**
 * The same check with a low battery to report, where that makes a difference; null: it makes none. With an alert the message
 * takes no time, and is better kept for later.
 */
function warned(model: Model, { track, code }: AtCheck): AtCheck | null {
  if (track.warning === 'sent' || model.warnings === 'never') return null;
  const isSent = effectBit.attemptAlert | effectBit.hold;
  if ((effectsOf(model, track.state, code) & isSent) !== 0) return null;
  const low = draftOf(track);
  note(low, 'battery low');
  return { track: low, code: code + inputCode.checkLowBatteryDue };
}

/** With a heartbeat that may become due at any check, or comes too late to matter. */
function splitBeat(model: Model, { track, code }: AtCheck, bit: number): readonly AtCheck[] {
  const { heartbeatMs } = model.times;
  const early = draftOf(track);
  const ways: AtCheck[] = [{ track: early, code }];
  if (track.beat === 'late' || !matters(model, track.state, { code, bit })) return ways;
  require(early, { op: 'at most', clock: 'heartbeat', value: heartbeatMs - 1 });
  const due = draftOf(track);
  require(due, { op: 'at least', clock: 'heartbeat', value: heartbeatMs });
  due.heartbeatDue = true;
  due.beat = 'late';
  return [...ways, { track: due, code: code + bit }];
}

/** Whether the logic looks at a timer in this check. */
function matters(
  model: Model,
  state: number,
  at: { readonly code: number; readonly bit: number },
): boolean {
  const { code, bit } = at;
  return (
    nextState(model, state, code) !== nextState(model, state, code + bit) ||
    effectsOf(model, state, code) !== effectsOf(model, state, code + bit)
  );
}

function react(
  model: Model,
  draft: Draft,
  input: { readonly code: number; readonly readsOpen: boolean },
): Checked {
  const effects = effectsOf(model, draft.state, input.code);
  const mayGoUnreported = isUnsure(model, draft, input);
  draft.state = nextState(model, draft.state, input.code);
  if ((effects & effectBit.dropAlert) !== 0 && draft.phase === 'decided') draft.phase = 'during';
  const decides = (effects & effectBit.decideAlert) !== 0 && draft.phase === 'during';
  const decidesFirst = decides && !draft.decidedOnce;
  if (decides) draft.phase = 'decided';
  if (decidesFirst) draft.decidedOnce = true;
  normalize(model, draft);
  return {
    state: draft.state,
    phase: draft.phase,
    decidedOnce: draft.decidedOnce,
    cooldownOver: draft.cooldownOver,
    heartbeatDue: draft.heartbeatDue,
    beat: draft.beat,
    warning: draft.warning,
    outage: draft.outage,
    outagesLeft: draft.outagesLeft,
    chatter: draft.chatter,
    lossesLeft: draft.lossesLeft,
    resetsLeft: draft.resetsLeft,
    zone: draft.zone,
    steps: draft.steps,
    effects,
    readsOpen: input.readsOpen,
    decidesFirst,
    mayGoUnreported,
  };
}

/** Before a check: no alert of the opening is pending, or it can be lost if the door shuts now. */
function isUnsure(
  model: Model,
  draft: Draft,
  { code, readsOpen }: { readonly code: number; readonly readsOpen: boolean },
): boolean {
  if (draft.phase !== 'decided') return draft.phase === 'during';
  return readsOpen && isLosable(model, { state: draft.state, code, resetsLeft: draft.resetsLeft });
}
