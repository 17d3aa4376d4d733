// One possible run of a device between two moments: where its logic stands, what the environment has left to do,
// the zone of its clocks, and the steps that led here, each of which can be replayed.
import type { LogicTable } from '../machine/index.js';
import type { Environment, PossibleResets, SleepRange } from '../model/index.js';
import type { Times } from './times.js';
import {
  advance,
  atLeast,
  atMost,
  type ClockName,
  canExceed,
  copyClock,
  least,
  type OutageClock,
  restart,
  setWithin,
  sleepThrough,
  type Zone,
} from './zone.js';

/** A budget of the environment: not yet used, being used, or used up. */
export type Budget = 'unused' | 'active' | 'spent';

/** Of the network: none that matters, one that may go on, or one that failed its last send not long ago. */
export type Outage = OutageClock;

/**
 * Where the opening under study stands: `before` it is thought of, `starting` before the next check, `during` it
 * without an alert of its own, `decided` with one pending.
 */
export type Phase = 'before' | 'starting' | 'during' | 'decided';

/**
 * What is known of the next heartbeat: its clock tells; it may become due at any check, this once; or it comes too late to
 * matter.
 */
export type Beat = 'timed' | 'once' | 'late';

/** The low-battery message: it may be raised at any check, or one was delivered not long enough ago. */
export type Warning = 'may come' | 'sent';

export type Moment =
  | 'power-on'
  | 'reset'
  /** Just before a reset that clears retained memory. */
  | 'memory lost'
  | 'timer'
  | 'contact'
  | 'power lost'
  | 'reads open'
  | 'reads shut'
  | 'reads shut wrongly'
  /** At this check. */
  | 'battery low'
  | 'asleep, door open'
  | 'asleep, door shut'
  /** Within the opening: the contact, not the door. */
  | 'asleep, contact open'
  | 'asleep, contact shut'
  /** The opening under study has begun, and the contact has not shown it. */
  | 'begun unseen'
  | 'send begins'
  /** Of openings that are counted; `next` is a millisecond later. */
  | 'door opens'
  | 'door shuts'
  | 'door shuts next'
  | 'delivered'
  | 'outage begins'
  /** Without the network, the device waits for it; and up to here, after which it is back or may be. */
  | 'waits'
  | 'down until now'
  | 'failed';

/** A replayable step. `mark` notes a moment and changes nothing. */
export type Step =
  | {
      readonly op: 'advance';
      readonly what: 'boot' | 'send' | 'wait' | 'part of a sleep' | 'off' | 'held';
      readonly leastMs: number;
      readonly mostMs: number;
      /** The length that a sleep cut short would have had. */
      readonly ofMs?: number;
    }
  | { readonly op: 'sleep'; readonly which: 0 | 1 | 2; readonly range: SleepRange }
  | { readonly op: 'at most'; readonly clock: ClockName; readonly value: number }
  | { readonly op: 'at least'; readonly clock: ClockName; readonly value: number }
  /** Sets clocks to zero. */
  | { readonly op: 'restart'; readonly clocks: readonly ClockName[] }
  | { readonly op: 'set'; readonly clock: ClockName; readonly value: number }
  | { readonly op: 'copy'; readonly clock: ClockName; readonly from: ClockName }
  /** Any reading from zero on. */
  | { readonly op: 'free'; readonly clock: ClockName; readonly mostMs: number }
  | { readonly op: 'begin'; readonly mostMs: number }
  | { readonly op: 'mark'; readonly moment: Moment };

export interface Track {
  readonly state: number;
  readonly phase: Phase;
  /** The opening has had an alert of its own decided, which the environment then took away. */
  readonly decidedOnce: boolean;
  readonly cooldownOver: boolean;
  readonly heartbeatDue: boolean;
  readonly beat: Beat;
  readonly warning: Warning;
  readonly outage: Outage;
  /** Outages that have not begun. */
  readonly outagesLeft: number;
  readonly chatter: Budget;
  readonly lossesLeft: number;
  readonly resetsLeft: number;
  readonly zone: Zone;
  /** Since the last check. */
  readonly steps: Steps;
}

/** A track while it is made; nobody else has it yet. */
export type Draft = { -readonly [Key in keyof Track]: Track[Key] };

/** Steps as a chain, the newest first: runs that part share what they have in common. */
export type Steps = { readonly step: Step; readonly earlier: Steps } | null;

/** What a search runs on. */
export interface Model {
  readonly table: LogicTable;
  readonly times: Times;
  readonly environment: Environment;
  /** What the environment's resets may do to retained memory. */
  readonly resets: PossibleResets;
  readonly wakeOn: 'timer' | 'opening' | 'any-change';
  /**
   * `timed`: heartbeats are followed from power-on. `free`: before the opening under study one may come at any check,
   * and any part of the interval may be over as it begins; that allows all that can be, and perhaps more. `seldom`: no two
   * come so soon after each other that both matter (`areSeldom`), and one may come at any check.
   */
  readonly heartbeats: 'timed' | 'free' | 'seldom';
  /**
   * The low-battery message: `never` raised; `seldom`: no two come so soon after each other that both matter, so that after one
   * no other comes until the device rests; `free`: at any check, whatever went before, which allows all that can be, and more.
   */
  readonly warnings: 'never' | 'seldom' | 'free';
}

/** Longer ago than any gap between two checks. */
export const longAgoMs = 1e13;

/** Applies one step to a zone; null when no reading is left. */
export function stepZone(zone: Zone, step: Step): Zone | null {
  switch (step.op) {
    case 'advance':
      return advance(zone, step.leastMs, step.mostMs);
    case 'sleep':
      return sleepThrough(zone, step.range);
    case 'at most':
      return atMost(zone, step.clock, step.value);
    case 'at least':
      return atLeast(zone, step.clock, step.value);
    case 'restart':
      return restart(zone, step.clocks);
    case 'set':
      return setWithin(zone, step.clock, { least: step.value, most: step.value });
    case 'copy':
      return copyClock(zone, step.clock, step.from);
    case 'free':
      return setWithin(zone, step.clock, { least: 0, most: step.mostMs });
    case 'begin':
      return setWithin(zone, 'opening', { least: -longAgoMs, most: step.mostMs });
    case 'mark':
      return zone;
  }
}

/** A copy to be changed: fields are written out because this is done millions of times. */
export function draftOf(track: Track): Draft {
  return {
    state: track.state,
    phase: track.phase,
    decidedOnce: track.decidedOnce,
    cooldownOver: track.cooldownOver,
    heartbeatDue: track.heartbeatDue,
    beat: track.beat,
    warning: track.warning,
    outage: track.outage,
    outagesLeft: track.outagesLeft,
    chatter: track.chatter,
    lossesLeft: track.lossesLeft,
    resetsLeft: track.resetsLeft,
    zone: track.zone,
    steps: track.steps,
  };
}

/** Takes a step on a draft. False: it is impossible, and the draft is not to be used. */
export function take(draft: Draft, step: Step): boolean {
  const zone = stepZone(draft.zone, step);
  if (zone === null) return false;
  draft.zone = zone;
  draft.steps = { step, earlier: draft.steps };
  return true;
}

/** The track after several steps, as a draft; null when one of them is impossible. */
export function afterAll(track: Track, steps: readonly Step[]): Draft | null {
  const draft = draftOf(track);
  for (const step of steps) if (!take(draft, step)) return null;
  return draft;
}

/** Notes what must be so for a draft's run, where its zone does not tell. */
export function require(draft: Draft, step: Step): void {
  draft.steps = { step, earlier: draft.steps };
}

/** Notes a moment on a draft. */
export function note(draft: Draft, moment: Moment): void {
  draft.steps = { step: marks[moment], earlier: draft.steps };
}

function markOf(moment: Moment): Step {
  return { op: 'mark', moment };
}

const marks: Readonly<Record<Moment, Step>> = {
  'power-on': markOf('power-on'),
  reset: markOf('reset'),
  'memory lost': markOf('memory lost'),
  timer: markOf('timer'),
  contact: markOf('contact'),
  'power lost': markOf('power lost'),
  'reads open': markOf('reads open'),
  'reads shut': markOf('reads shut'),
  'reads shut wrongly': markOf('reads shut wrongly'),
  'battery low': markOf('battery low'),
  'asleep, door open': markOf('asleep, door open'),
  'asleep, door shut': markOf('asleep, door shut'),
  'asleep, contact open': markOf('asleep, contact open'),
  'asleep, contact shut': markOf('asleep, contact shut'),
  'begun unseen': markOf('begun unseen'),
  'send begins': markOf('send begins'),
  'door opens': markOf('door opens'),
  'door shuts': markOf('door shuts'),
  'door shuts next': markOf('door shuts next'),
  delivered: markOf('delivered'),
  'outage begins': markOf('outage begins'),
  waits: markOf('waits'),
  'down until now': markOf('down until now'),
  failed: markOf('failed'),
};

/**
 * An outage that might have gone on is over. Others may follow only where it was to end with its last failed send, as
 * in another run.
 */
export function endUnplanned(draft: Draft): void {
  draft.outage = 'none';
  draft.outagesLeft = 0;
}

/** An outage is over for as long as the next has to wait, if it ended as early as it can have: it did. */
function forget(draft: Draft, apartMs: number): void {
  if (!canExceed(draft.zone, 'outage', apartMs)) return;
  take(draft, { op: 'at least', clock: 'outage', value: apartMs + 1 });
  draft.outage = 'none';
}

/** Any time may have passed since the last message; and a model without it has it behind it. */
export function warningAtRest({ warnings }: Model): Warning {
  return warnings === 'never' ? 'sent' : 'may come';
}

/** Puts clocks that no longer matter to zero, so that tracks alike in all that matters are alike. */
export function normalize(model: Model, draft: Draft): void {
  const { table, times, environment } = model;
  const cooling = table.memories[draft.state]?.coolingDown === true;
  if (!cooling || least(draft.zone, 'cooldown') >= times.cooldownMs) draft.cooldownOver = true;
  if (draft.beat === 'timed' && least(draft.zone, 'heartbeat') >= times.heartbeatMs)
    draft.heartbeatDue = true;
  const { outage } = draft;
  const ended = outage === 'active' && least(draft.zone, 'outage') >= environment.longestOutageMs;
  if (ended) endUnplanned(draft);
  if (outage === 'over') forget(draft, environment.outagesApartMs);
  if (draft.chatter === 'active' && least(draft.zone, 'chatter') > environment.longestChatterMs) {
    draft.chatter = 'spent';
  }
  // Where no clock runs any time may pass, until another heartbeat is due, too.
  const rests = draft.phase === 'before' && draft.cooldownOver && draft.outage === 'none';
  if (rests && draft.beat === 'late' && !draft.heartbeatDue) draft.beat = 'once';
  if (rests) draft.warning = warningAtRest(model);
  const idle: ClockName[] = [];
  if (draft.phase === 'before') idle.push('opening');
  if (draft.cooldownOver) idle.push('cooldown');
  const beatsFreely = draft.phase === 'before' && model.heartbeats === 'free';
  const noBeat = draft.heartbeatDue || times.heartbeatMs === Number.POSITIVE_INFINITY;
  if (draft.beat !== 'timed') draft.zone = restart(draft.zone, ['heartbeat']);
  else if (noBeat || beatsFreely) idle.push('heartbeat');
  if (draft.outage === 'none') idle.push('outage');
  if (draft.chatter !== 'active') idle.push('chatter');
  if (idle.length > 0) take(draft, { op: 'restart', clocks: idle });
}

/** The steps of a chain, oldest first. */
export function stepsOf(chain: Steps): readonly Step[] {
  const steps: Step[] = [];
  for (let link = chain; link !== null; link = link.earlier) steps.push(link.step);
  return steps.reverse();
}
