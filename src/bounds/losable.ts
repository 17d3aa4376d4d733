// Whether a pending alert can still be lost once the door has shut. Power losses and resets that clear memory are left out:
// they are no worse after the door shuts than while it is open, and the search lets them come then.
import { effectBit, inputCode, inputCodes, type LogicTable } from '../machine/index.js';
import type { Model } from './track.js';

/** A check that may find the door shut: where the logic is, and what its timers say. */
export interface ShutCheck {
  /** The device awake, before its check. */
  readonly state: number;
  /** The check, as it reads the contact open. */
  readonly code: number;
  readonly resetsLeft: number;
}

/**
 * Whether the opening's own alert, pending as the door shuts at the instant of this check, may never be delivered: it is
 * dropped, or never attempted again. Outages end, so an alert that is attempted again and again is delivered in the end.
 */
export function isLosable(model: Model, { state, code, resetsLeft }: ShutCheck): boolean {
  const { table, environment } = model;
  const shutCode = code - inputCode.checkReadsOpen;
  const first = cellAt(table, state, shutCode);
  if (loses(first.effects)) return true;
  const moves: Moves = {
    // An outage that is over before the device gives up fails no send.
    sendsFail: environment.longestOutageMs > model.times.joinWaitMs && environment.outages > 0,
    resets: resetsLeft > 0 && model.resets.keeping !== null,
    edgesWake: model.wakeOn !== 'timer',
    warns: model.warnings !== 'never',
  };
  return canLoseFrom(table, moves, first.next);
}

/** What the door and the environment can still do. */
interface Moves {
  readonly sendsFail: boolean;
  readonly resets: boolean;
  readonly edgesWake: boolean;
  readonly warns: boolean;
}

interface Edge {
  readonly to: number;
  /** An attempt of the alert, or a reset: an environment has only so many that fail, or come. */
  readonly isLimited: boolean;
}

/** For each table and what can still be done: whether an alert can be lost from a state. */
const known = new WeakMap<LogicTable, Map<number, Map<number, boolean>>>();

function knownOf(
  table: LogicTable,
  { sendsFail, resets, edgesWake, warns }: Moves,
): Map<number, boolean> {
  const byMoves = known.get(table) ?? new Map<number, Map<number, boolean>>();
  known.set(table, byMoves);
  const key = (sendsFail ? 1 : 0) + (resets ? 2 : 0) + (edgesWake ? 4 : 0) + (warns ? 8 : 0);
  const answers = byMoves.get(key) ?? new Map<number, boolean>();
  byMoves.set(key, answers);
  return answers;
}

/** Depth first over all that can follow; where nothing loses the alert, it is safe in all states on the way. */
function canLoseFrom(table: LogicTable, moves: Moves, start: number): boolean {
  const answers = knownOf(table, moves);
  const before = answers.get(start);
  if (before !== undefined) return before;
  const edges = new Map<number, readonly Edge[]>();
  const queue = [start];
  for (const state of queue) {
    if (edges.has(state) || answers.get(state) === false) continue;
    const out = answers.get(state) === true ? 'lost' : edgesFrom(table, moves, state);
    if (out === 'lost') {
      answers.set(start, true);
      return true;
    }
    edges.set(state, out);
    for (const { to } of out) queue.push(to);
  }
  const lost = goesRoundUnlimited(edges);
  if (lost) answers.set(start, true);
  else for (const state of edges.keys()) answers.set(state, false);
  return lost;
}

/** What can follow a state with the alert pending; `lost`: something that loses it. */
function edgesFrom(table: LogicTable, moves: Moves, state: number): readonly Edge[] | 'lost' {
  const edges: Edge[] = [];
  const go = (code: number, isLimited = false): void => {
    edges.push({ to: cellAt(table, state, code).next, isLimited });
  };
  if (moves.resets && table.phases[state] !== 'off') go(inputCode.wake.reset, true);
  switch (table.phases[state] ?? 'off') {
    case 'off':
    case 'holding':
      return 'lost';
    case 'asleep':
      go(inputCode.wake.timer);
      if (moves.edgesWake) go(inputCode.wake.contact);
      return edges;
    case 'sendingHeartbeat':
      go(inputCode.heartbeatDelivered);
      go(inputCode.heartbeatFailed);
      return edges;
    case 'sendingLowBattery':
      go(inputCode.lowBatteryDelivered);
      go(inputCode.lowBatteryFailed);
      return edges;
    case 'sendingAlert':
      if (moves.sendsFail) go(inputCode.alertFailed);
      return edges;
    case 'awake': {
      const codes = moves.warns ? 2 * checkCodes : checkCodes;
      for (let code: number = inputCode.check; code < inputCode.check + codes; code += 1) {
        const { next, effects } = cellAt(table, state, code);
        if (loses(effects)) return 'lost';
        edges.push({ to: next, isLimited: (effects & effectBit.attemptAlert) !== 0 });
      }
      return edges;
    }
  }
}

/** Readings of the contact, of the cooldown and of the heartbeat; as many with a low battery to report. */
const checkCodes = 8;

function loses(effects: number): boolean {
  return (effects & (effectBit.dropAlert | effectBit.decideAlert)) !== 0;
}

function cellAt(
  table: LogicTable,
  state: number,
  code: number,
): { readonly next: number; readonly effects: number } {
  const cell = state * inputCodes + code;
  return { next: table.next[cell] ?? 0, effects: table.effects[cell] ?? 0 };
}

/** Whether a device can go on for ever without attempts: states are taken away from which it cannot. */
function goesRoundUnlimited(edges: ReadonlyMap<number, readonly Edge[]>): boolean {
  const waysOn = new Map<number, number>();
  const comingFrom = new Map<number, number[]>();
  for (const [state, out] of edges) {
    const silent = out.filter(({ to, isLimited }) => !isLimited && edges.has(to));
    waysOn.set(state, silent.length);
    for (const { to } of silent) comingFrom.set(to, [...(comingFrom.get(to) ?? []), state]);
  }
  const ended = [...edges.keys()].filter((state) => waysOn.get(state) === 0);
  for (const state of ended) {
    for (const from of comingFrom.get(state) ?? []) {
      const left = (waysOn.get(from) ?? 0) - 1;
      waysOn.set(from, left);
      if (left === 0) ended.push(from);
    }
  }
  return ended.length < edges.size;
}
