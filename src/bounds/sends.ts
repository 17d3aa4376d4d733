// Sends: they take the connect time, and an alert's or low-battery message's fails while the outage lasts.
import { effectBit, inputCode } from '../machine/index.js';
import { answerTo, type SendKind } from '../sim/index.js';
import { type Checked, effectsOf, nextState, type Sink } from './checks.js';
import { fallAsleep, hold } from './sleeps.js';
import { momentOrStretch } from './times.js';
import { type Draft, draftOf, endUnplanned, note, take } from './track.js';
import { strike } from './wakes.js';

/** Every course of a send that a check begins. */
export function send(sink: Sink, from: Checked, kind: SendKind): void {
  const { connectMs } = sink.model.times;
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
    if (kind === 'heartbeat') beat(sink, ended, contactOpen);
    else {
      fail(sink, ended, { contactOpen, code: answerTo(kind, false) });
      if (kind === 'alert') deliver(sink, ended, contactOpen);
      else warn(sink, ended, contactOpen);
    }
  }
}

/** Nothing depends on how a heartbeat's send ends. */
function beat(sink: Sink, ended: Draft, contactOpen: boolean | null): void {
  const effects = effectsOf(sink.model, ended.state, inputCode.heartbeatDelivered);
  ended.state = nextState(sink.model, ended.state, inputCode.heartbeatDelivered);
  note(ended, 'delivered');
  fallAsleep(sink, ended, { effects, contactOpen });
}

/** The low-battery message is delivered: the next one comes later. */
function warn(sink: Sink, ended: Draft, contactOpen: boolean | null): void {
  const { model } = sink;
  const effects = effectsOf(model, ended.state, inputCode.lowBatteryDelivered);
  const sent = draftOf(ended);
  sent.state = nextState(model, ended.state, inputCode.lowBatteryDelivered);
  if (sent.outage === 'active') endUnplanned(sent);
  if (model.warnings === 'seldom') sent.warning = 'sent';
  note(sent, 'delivered');
  fallAsleep(sink, sent, { effects, contactOpen });
}

function deliver(sink: Sink, ended: Draft, contactOpen: boolean | null): void {
  const { model } = sink;
  const effects = effectsOf(model, ended.state, inputCode.alertDelivered);
  const sent = draftOf(ended);
  sent.state = nextState(model, ended.state, inputCode.alertDelivered);
  if (sent.outage === 'active') endUnplanned(sent);
  note(sent, 'delivered');
  if (sent.phase === 'decided') {
    sink.deliveries.push(sent);
    return;
  }
  sent.cooldownOver = model.times.cooldownMs === 0;
  take(sent, { op: 'restart', clocks: ['cooldown'] });
  if ((effects & effectBit.hold) !== 0) hold(sink, sent);
  else fallAsleep(sink, sent, { effects, contactOpen });
}

interface FailedEnd {
  readonly contactOpen: boolean | null;
  /** How the logic learns of it. */
  readonly code: number;
}

/** The network is down at the end of the send: the outage goes on, or another one begins. It may end right after. */
function fail(sink: Sink, ended: Draft, end: FailedEnd): void {
  const { longestOutageMs, outagesApartMs } = sink.model.environment;
  if (longestOutageMs === 0) return;
  const down = draftOf(ended);
  if (ended.outage === 'active') {
    if (!take(down, { op: 'at most', clock: 'outage', value: longestOutageMs - 1 })) return;
  } else {
    if (ended.outagesLeft === 0) return;
    const apart = { op: 'at least', clock: 'outage', value: outagesApartMs + 1 } as const;
    if (ended.outage === 'over' && !take(down, apart)) return;
    note(down, 'outage begins');
    begin(down, 'active');
    down.outagesLeft -= 1;
  }
  failed(sink, draftOf(down), end);
  if (down.outagesLeft === 0) return;
  begin(down, 'over');
  failed(sink, down, end);
}

function begin(draft: Draft, outage: 'active' | 'over'): void {
  draft.outage = outage;
  take(draft, { op: 'restart', clocks: ['outage'] });
}

function failed(sink: Sink, down: Draft, { code, contactOpen }: FailedEnd): void {
  const { model } = sink;
  const effects = effectsOf(model, down.state, code);
  down.state = nextState(model, down.state, code);
  note(down, 'failed');
  fallAsleep(sink, down, { effects, contactOpen });
}
