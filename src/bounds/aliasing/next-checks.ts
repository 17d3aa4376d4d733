// From one check to every next one, for a door whose openings are counted and a device with which nothing goes wrong.
import { effectBit, inputCode, sleepIn } from '../../machine/index.js';
import type { RangeMs, SleepRange } from '../../model/index.js';
import { effectsOf, nextState } from '../checks.js';

import { type Draft, draftOf, type Model, note, type Step, take } from '../track.js';
import type { ClockName } from '../zone.js';
import {
  awakeFor,
  type Door,
  justOpened,
  movesDuring,
  type Stretch,
  shutFrom,
} from './door-moves.js';

/** A check and what it led to. */
export interface CountedCheck extends Door {
  readonly effects: number;
}

interface Asleep {
  readonly door: Door;
  readonly which: 0 | 1 | 2;
  readonly range: SleepRange;
}

/** @param leaveOpenAfterMs every opening is shorter. */
export function nextChecks(
  model: Model,
  from: CountedCheck,
  leaveOpenAfterMs: number,
): readonly CountedCheck[] {
  const booted =
    model.wakeOn === 'timer'
      ? unwatched(model, from, leaveOpenAfterMs)
      : afterSend(model, from, leaveOpenAfterMs).flatMap((asleep) =>
          wakes(model, asleep, leaveOpenAfterMs),
        );
  return booted.flatMap((door) => checksOf(model, door, leaveOpenAfterMs));
}

const noTime: RangeMs = { least: 0, most: 0 };

/** How a check ends: the send that it begins, if any, and the sleep. */
function ending(
  model: Model,
  from: CountedCheck,
): { readonly draft: Draft; readonly sendMs: RangeMs; readonly which: 0 | 1 | 2 } {
  const draft = draftOf(from.draft);
  let { effects } = from;
  const beats = (effects & effectBit.attemptHeartbeat) !== 0;
  const sends = beats || (effects & effectBit.attemptAlert) !== 0;
  if (sends) {
    if (beats) take(draft, { op: 'restart', clocks: ['heartbeat'] });
    if (beats) draft.heartbeatDue = false;
    const code = beats ? inputCode.heartbeatDelivered : inputCode.alertDelivered;
    effects = effectsOf(model, draft.state, code);
    draft.state = nextState(model, draft.state, code);
    note(draft, 'send begins');
  }
  return { draft, sendMs: sends ? model.times.connectMs : noTime, which: sleepIn(effects) ?? 0 };
}

/** Nothing but the timer wakes the device: from check to check is one stretch. */
function unwatched(model: Model, from: CountedCheck, leaveOpenAfterMs: number): readonly Door[] {
  const { draft, sendMs, which } = ending(model, from);
  const { bootMs, sleeps } = model.times;
  const range = sleeps[which];
  const send: Step = {
    op: 'advance',
    what: 'send',
    leastMs: sendMs.least,
    mostMs: sendMs.most,
  };
  const steps: readonly Step[] = [
    ...(sendMs.most > 0 ? [send] : []),
    { op: 'sleep', which, range },
    { op: 'mark', moment: 'timer' },
    { op: 'advance', what: 'boot', leastMs: bootMs.least, mostMs: bootMs.most },
  ];
  const leastMs = sendMs.least + range.leastMs + bootMs.least;
  const stretch: Stretch = {
    lasting: (neededMs) => (neededMs > leastMs ? null : steps),
    fromStart: false,
  };
  return movesDuring({ ...from, draft }, stretch, leaveOpenAfterMs).map((door) =>
    awakened(model, door, 'timer'),
  );
}

function afterSend(model: Model, from: CountedCheck, leaveOpenAfterMs: number): readonly Asleep[] {
  const { draft, sendMs, which } = ending(model, from);
  const door: Door = { ...from, draft };
  const range = model.times.sleeps[which];
  if (sendMs.most === 0) return [{ door, which, range }];
  const send = awakeFor('send', sendMs, false);
  return movesDuring(door, send, leaveOpenAfterMs).map((moved) => ({ door: moved, which, range }));
}

/** Every way to wake where edges do, up to the end of the boot. */
function wakes(model: Model, asleep: Asleep, leaveOpenAfterMs: number): readonly Door[] {
  const { bootMs } = model.times;
  const byTimer = sleptThrough(model, asleep, leaveOpenAfterMs).flatMap((door) =>
    movesDuring(awakened(model, door, 'timer'), awakeFor('boot', bootMs, true), leaveOpenAfterMs),
  );
  const byEdge = wokenByEdge(model, asleep, leaveOpenAfterMs).flatMap((door) =>
    movesDuring(
      awakened(model, door, 'contact'),
      awakeFor('boot', bootMs, false),
      leaveOpenAfterMs,
    ),
  );
  return [...byTimer, ...byEdge];
}

function awakened(model: Model, door: Door, cause: 'timer' | 'contact'): Door {
  const draft = draftOf(door.draft);
  draft.state = nextState(model, draft.state, inputCode.wake[cause]);
  return { ...door, draft };
}

/** No armed edge comes: the door stays, or shuts where that does not wake the device. */
function sleptThrough(
  model: Model,
  { door, which, range }: Asleep,
  leaveOpenAfterMs: number,
): readonly Door[] {
  const slept: Step = { op: 'sleep', which, range };
  const stays = draftOf(door.draft);
  take(stays, slept);
  note(stays, 'timer');
  const ways: Door[] = [{ ...door, draft: stays }];
  if (model.wakeOn !== 'opening' || !door.open || range.leastMs < 2) return ways;
  const shut = shutFrom(door, false, leaveOpenAfterMs);
  if (shut === null) return ways;
  take(shut, slept);
  note(shut, 'timer');
  return [...ways, { ...door, draft: shut, open: false }];
}

/** An armed edge before the timer is due. */
function wokenByEdge(
  model: Model,
  { door, range }: Asleep,
  leaveOpenAfterMs: number,
): readonly Door[] {
  const toOpen = model.wakeOn === 'opening' || !door.open;
  // Waking on opening alone, a door that is open must shut before it can open again.
  const leastMs = toOpen && door.open ? 2 : 1;
  const { mostMs: ofMs } = range;
  if (ofMs - 1 < leastMs) return [];
  const cut: Step = { op: 'advance', what: 'part of a sleep', leastMs, mostMs: ofMs - 1, ofMs };
  const before =
    toOpen && door.open ? shutFrom(door, false, leaveOpenAfterMs) : draftOf(door.draft);
  if (before === null) return [];
  take(before, cut);
  if (toOpen) {
    note(before, 'contact');
    return [justOpened(before, door.openings)];
  }
  const shut = shutFrom({ ...door, draft: before }, true, leaveOpenAfterMs);
  if (shut === null) return [];
  note(shut, 'contact');
  return [{ ...door, draft: shut, open: false }];
}

/** What the check reads, with a heartbeat due or not. */
function checksOf(model: Model, door: Door, leaveOpenAfterMs: number): readonly CountedCheck[] {
  const draft = draftOf(door.draft);
  // It may shut a millisecond after the check, and is brief even so.
  const latest: Step = { op: 'at most', clock: 'opening', value: leaveOpenAfterMs - 2 };
  if (door.open && !take(draft, latest)) return [];
  note(draft, door.open ? 'reads open' : 'reads shut');
  return partedByHeartbeat(model, draft).map(({ draft: parted, due }) => {
    const code =
      inputCode.check +
      inputCode.checkCooldownOver +
      (door.open ? inputCode.checkReadsOpen : 0) +
      (due ? inputCode.checkHeartbeatDue : 0);
    const effects = effectsOf(model, parted.state, code);
    parted.state = nextState(model, parted.state, code);
    parted.heartbeatDue = due;
    const idle: ClockName[] = ['cooldown', 'outage', 'chatter'];
    if (!door.open) idle.push('opening');
    if (due || model.times.heartbeatMs === Number.POSITIVE_INFINITY) idle.push('heartbeat');
    take(parted, { op: 'restart', clocks: idle });
    return { draft: parted, open: door.open, openings: door.openings, effects };
  });
}

function partedByHeartbeat(
  { times, heartbeats }: Model,
  draft: Draft,
): readonly { readonly draft: Draft; readonly due: boolean }[] {
  const { heartbeatMs } = times;
  if (draft.heartbeatDue) return [{ draft, due: true }];
  if (heartbeatMs === Number.POSITIVE_INFINITY) return [{ draft, due: false }];
  const early = draftOf(draft);
  const free = heartbeats === 'free';
  const isEarly =
    free || take(early, { op: 'at most', clock: 'heartbeat', value: heartbeatMs - 1 });
  const late = draftOf(draft);
  const isLate = free || take(late, { op: 'at least', clock: 'heartbeat', value: heartbeatMs });
  if (free) for (const one of [early, late]) take(one, { op: 'restart', clocks: ['heartbeat'] });
  return [
    ...(isEarly ? [{ draft: early, due: false }] : []),
    ...(isLate ? [{ draft: late, due: true }] : []),
  ];
}
