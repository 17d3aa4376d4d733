// Sends: they take the connect time. While the outage lasts they wait for the network if the device does, and then fail; a
// heartbeat matters to nothing else, and fails for nobody where it does not wait.
import { effectBit } from '../machine/index.js';
import { answerTo, type SendKind } from '../sim/index.js';
import { type Checked, effectsOf, nextState, type Sink } from './checks.js';
import { fallAsleep, hold } from './sleeps.js';
import { momentOrStretch } from './times.js';
import {
  afterAll,
  type Draft,
  draftOf,
  endUnplanned,
  type Model,
  note,
  type Step,
  take,
} from './track.js';
import { strike } from './wakes.js';

/** Every run of a send that a check begins. */
export function send(sink: Sink, from: Checked, kind: SendKind): void {
  const { connectMs, joinWaitMs } = sink.model.times;
  const begun = draftOf(from);
  if (kind === 'heartbeat') {
    begun.heartbeatDue = false;
    if (begun.beat === 'once') begun.beat = 'late';
    take(begun, { op: 'restart', clocks: ['heartbeat'] });
  }
  note(begun, 'send begins');
  strike(sink, begun, { what: 'send', leastMs: 1, mostMs: connectMs.most, then: [] });
  for (const range of momentOrStretch(connectMs)) {
    const ended = draftOf(begun);
    take(ended, { op: 'advance', what: 'send', leastMs: range.least, mostMs: range.most });
    // A send that takes no time leaves the contact none to move.
    const contactOpen = range.most === 0 ? from.readsOpen : null;
    // Without a wait nothing depends on how a heartbeat's send ends.
    if (kind === 'heartbeat' && joinWaitMs === 0) arrive(sink, ended, { kind, contactOpen });
    else {
      const down = isDown(sink.model, ended);
      if (down !== null && joinWaitMs > 0) wait(sink, down, kind);
      else if (down !== null) fail(sink, down, { kind, contactOpen });
      // An outage that might have gone on is over.
      if (ended.outage === 'active') endUnplanned(ended);
      arrive(sink, ended, { kind, contactOpen });
    }
  }
}

interface Ending {
  readonly kind: SendKind;
  readonly contactOpen: boolean | null;
}

/** The message is delivered. */
function arrive(sink: Sink, ended: Draft, { kind, contactOpen }: Ending): void {
  const { model } = sink;
  const code = answerTo(kind, true);
  const effects = effectsOf(model, ended.state, code);
  const sent = draftOf(ended);
  sent.state = nextState(model, ended.state, code);
  // The next low-battery message comes later.
  if (kind === 'lowBattery' && model.warnings === 'seldom') sent.warning = 'sent';
  note(sent, 'delivered');
  if (kind === 'alert') delivered(sink, sent, { effects, contactOpen });
  else fallAsleep(sink, sent, { effects, contactOpen });
}

function delivered(
  sink: Sink,
  sent: Draft,
  { effects, contactOpen }: { readonly effects: number; readonly contactOpen: boolean | null },
): void {
  if (sent.phase === 'decided') {
    sink.deliveries.push(sent);
    return;
  }
  sent.cooldownOver = sink.model.times.cooldownMs === 0;
  take(sent, { op: 'restart', clocks: ['cooldown'] });
  if ((effects & effectBit.hold) !== 0) hold(sink, sent);
  else fallAsleep(sink, sent, { effects, contactOpen });
}

/** The network is down where the send should end: the outage goes on, or another one begins. Null: it cannot be. */
function isDown({ environment }: Model, ended: Draft): Draft | null {
  const { longestOutageMs, outagesApartMs } = environment;
  if (longestOutageMs === 0) return null;
  const down = draftOf(ended);
  if (ended.outage === 'active') {
    return take(down, { op: 'at most', clock: 'outage', value: longestOutageMs - 1 }) ? down : null;
  }
  if (ended.outagesLeft === 0) return null;
  const apart = { op: 'at least', clock: 'outage', value: outagesApartMs + 1 } as const;
  if (ended.outage === 'over' && !take(down, apart)) return null;
  note(down, 'outage begins');
  begin(down, 'active');
  down.outagesLeft -= 1;
  return down;
}

/**
 * The device waits for the network: it comes back within the wait, the device gives up, or a fault cuts the wait short. What was
 * down a millisecond ago may be back now.
 */
function wait(sink: Sink, down: Draft, kind: SendKind): void {
  const { times, environment } = sink.model;
  const { longestOutageMs } = environment;
  const { joinWaitMs } = times;
  note(down, 'waits');
  const lasts: Step = { op: 'at most', clock: 'outage', value: longestOutageMs };
  const until: Step = { op: 'mark', moment: 'down until now' };
  const stretch = { what: 'wait', leastMs: 1, mostMs: joinWaitMs } as const;
  strike(sink, down, { ...stretch, then: [lasts, until] });
  const ending = draftOf(down);
  ending.outage = down.outagesLeft > 0 ? 'over' : 'none';
  const over: Step = { op: 'set', clock: 'outage', value: 1 };
  if (down.outagesLeft > 0) strike(sink, ending, { ...stretch, then: [lasts, until, over] });
  const back = afterAll(ending, [{ op: 'advance', ...stretch }, lasts, until, over]);
  if (back !== null) arrive(sink, back, { kind, contactOpen: null });
  const gaveUp = afterAll(down, [
    { op: 'advance', what: 'wait', leastMs: joinWaitMs, mostMs: joinWaitMs },
    { op: 'at most', clock: 'outage', value: longestOutageMs - 1 },
  ]);
  if (gaveUp !== null) fail(sink, gaveUp, { kind, contactOpen: null });
}

/** The send has failed. The outage may end right after. */
function fail(sink: Sink, down: Draft, ending: Ending): void {
  failed(sink, draftOf(down), ending);
  if (down.outagesLeft === 0) return;
  const over = draftOf(down);
  begin(over, 'over');
  failed(sink, over, ending);
}

function begin(draft: Draft, outage: 'active' | 'over'): void {
  draft.outage = outage;
  take(draft, { op: 'restart', clocks: ['outage'] });
}

function failed(sink: Sink, down: Draft, { kind, contactOpen }: Ending): void {
  const { model } = sink;
  const code = answerTo(kind, false);
  const effects = effectsOf(model, down.state, code);
  down.state = nextState(model, down.state, code);
  note(down, 'failed');
  fallAsleep(sink, down, { effects, contactOpen });
}
