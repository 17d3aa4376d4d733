// The source: tables of the automaton, one commented row a state, and the few lines that walk them.

import { invariant } from '../../base/index.js';
import { inputCode, type Phase } from '../../machine/index.js';
import { functionsText } from './functions.js';
import { cBanner } from './header.js';
import type { CSubject } from './subject.js';

/** Where each phase's states begin, and how many there are. */
export type Layout = Readonly<Record<Phase, { readonly first: number; readonly count: number }>>;

export function sourceText(subject: CSubject): string {
  const { prefix, origin, automaton } = subject;
  const layout = layoutOf(subject);
  const upper = prefix.toUpperCase();
  const { heartbeats, lowBattery } = subject.program.watch;
  const warns = lowBattery !== undefined;
  return `/* ${cBanner} from ${origin}. See ${prefix}.h. */
#include "${prefix}.h"

/* States are numbered by what they wait for: power, a check, the end of an attempt, a wake, a reset. */
enum {
    ${upper}_OFF = 0,
    ${upper}_AWAKE = ${layout.awake.first},
    ${upper}_SENDING_ALERT = ${layout.sendingAlert.first},
${heartbeats ? `    ${upper}_SENDING_HEARTBEAT = ${layout.sendingHeartbeat.first},\n` : ''}${warns ? `    ${upper}_SENDING_LOW_BATTERY = ${layout.sendingLowBattery.first},\n` : ''}    ${upper}_ASLEEP = ${layout.asleep.first},
    ${upper}_HOLDING = ${layout.holding.first},
    ${upper}_STATES = ${automaton.states.length}
};

/* Bits 6 and 7 of a reaction name its sleep. */
enum { ${upper}_SLEEP_SHIFT = 6, ${upper}_SLEEP_CHECK = 1, ${upper}_SLEEP_RECHECK = 2, ${upper}_SLEEP_RETRY = 3 };

/*
 * All tables are constant, and each of their items has ${itemBits(subject)} bits. A processor that keeps constants in
 * flash and reads them in another way than memory needs one or both of these, from the command line or the build:
 * the words before the type of a table, and the way to read an item of a table.
 */
#ifndef ${upper}_TABLE
#define ${upper}_TABLE
#endif
#ifndef ${upper}_READ
#define ${upper}_READ(item) (item)
#endif
typedef uint${itemBits(subject)}_t ${prefix}_item;

${afterResetTable(subject)}
${afterTimerTable(subject, layout)}
${reactionTable(subject, layout.awake, {
  name: 'after_check',
  codes: checkCodes(subject),
  comment: checkComment(subject),
})}
${reactionTable(subject, layout.sendingAlert, {
  name: 'after_alert',
  codes: [inputCode.alertFailed, inputCode.alertDelivered],
  comment: 'The attempt to send an alert failed, or the alert was delivered.',
})}${
  heartbeats
    ? `
${reactionTable(subject, layout.sendingHeartbeat, {
  name: 'after_heartbeat',
  codes: [inputCode.heartbeatFailed, inputCode.heartbeatDelivered],
  comment: 'The attempt to send a heartbeat failed, or it was delivered.',
})}`
    : ''
}${
  warns
    ? `
${reactionTable(subject, layout.sendingLowBattery, {
  name: 'after_low_battery',
  codes: [inputCode.lowBatteryFailed, inputCode.lowBatteryDelivered],
  comment: 'The attempt to send a low-battery message failed, or it was delivered.',
})}`
    : ''
}
${functionsText(subject, { heartbeats, warns })}`;
}

/** Of the items of all tables: the number of a state, and what a reaction does. */
function itemBits({ automaton, program }: CSubject): 8 | 16 {
  const fits = automaton.states.length <= 256 && program.watch.lowBattery === undefined;
  return fits ? 8 : 16;
}

function layoutOf({ automaton }: CSubject): Layout {
  const { states } = automaton;
  const at = (phase: Phase, after: number): { first: number; count: number } => {
    const count = states.filter((state) => state.phase === phase).length;
    const first = states.findIndex((state) => state.phase === phase);
    return { first: first < 0 ? after : first, count };
  };
  const off = at('off', 0);
  const awake = at('awake', 1);
  const sendingAlert = at('sendingAlert', awake.first + awake.count);
  const sendingHeartbeat = at('sendingHeartbeat', sendingAlert.first + sendingAlert.count);
  const sendingLowBattery = at(
    'sendingLowBattery',
    sendingHeartbeat.first + sendingHeartbeat.count,
  );
  const asleep = at('asleep', sendingLowBattery.first + sendingLowBattery.count);
  const holding = at('holding', asleep.first + asleep.count);
  return { off, awake, sendingAlert, sendingHeartbeat, sendingLowBattery, asleep, holding };
}

function toOf({ automaton }: CSubject, state: number, code: number): number {
  const to = automaton.states[state]?.reactions[code]?.to;
  invariant(to !== undefined, 'the input can come', { state, code });
  return to;
}

function afterResetTable(subject: CSubject): string {
  const { prefix, automaton } = subject;
  const { reset } = inputCode.wake;
  const powerOn = inputCode.wake['power-on'];
  const rows = automaton.states.map(({ phase, meaning }, state) => {
    const to = toOf(subject, state, phase === 'off' ? powerOn : reset);
    return `    ${to}, /* ${state}: ${meaning} */`;
  });
  return `/* Where a reset leads; without power: where power-on leads. */
static const ${prefix.toUpperCase()}_TABLE ${prefix}_item ${prefix}_after_reset[] = {
${rows.join('\n')}
};
`;
}

function afterTimerTable(subject: CSubject, { asleep }: Layout): string {
  const { prefix, automaton } = subject;
  const rows = statesOf(asleep).map((state) => {
    const to = toOf(subject, state, inputCode.wake.timer);
    const contact = automaton.states[state]?.reactions[inputCode.wake.contact];
    invariant(contact == null || contact.to === to, 'whatever ends a sleep leads to the same', {
      state,
    });
    return `    ${to}, /* ${state}: ${automaton.states[state]?.meaning ?? ''} */`;
  });
  return `/* Where the end of a sleep leads. */
static const ${prefix.toUpperCase()}_TABLE ${prefix}_item ${prefix}_after_sleep[] = {
${rows.join('\n')}
};
`;
}

function checkCodes({ program }: CSubject): readonly number[] {
  const count = program.watch.heartbeats ? 8 : 4;
  const codes = Array.from({ length: count }, (_, facts) => inputCode.check + facts);
  if (program.watch.lowBattery === undefined) return codes;
  return [...codes, ...codes.map((code) => code + inputCode.checkLowBatteryDue)];
}

function checkComment({ program }: CSubject): string {
  const heartbeat = program.watch.heartbeats ? ', + 4: a heartbeat is due' : '';
  const low =
    program.watch.lowBattery === undefined
      ? ''
      : `, + ${program.watch.heartbeats ? 8 : 4}: a low battery is to be reported`;
  return `A check, by what it found: 0: reads shut, 1: reads open, + 2: no cooldown runs${heartbeat}${low}.`;
}

function reactionTable(
  subject: CSubject,
  { first, count }: { readonly first: number; readonly count: number },
  table: { readonly name: string; readonly codes: readonly number[]; readonly comment: string },
): string {
  const { prefix, automaton } = subject;
  const rows = statesOf({ first, count }).map((state) => {
    const cells = table.codes.map((code) => {
      const reaction = automaton.states[state]?.reactions[code];
      invariant(reaction != null, 'the input can come', { state, code });
      return `{${reaction.to}, ${reaction.effects}}`;
    });
    return `    /* ${state}: ${automaton.states[state]?.meaning ?? ''} */\n    {${cells.join(', ')}},`;
  });
  return `/* ${table.comment} Each cell: the next state, and what to do. */
static const ${prefix.toUpperCase()}_TABLE ${prefix}_item ${prefix}_${table.name}[][${table.codes.length}][2] = {
${rows.join('\n')}
};
`;
}

function statesOf({ first, count }: { readonly first: number; readonly count: number }): number[] {
  return Array.from({ length: count }, (_, index) => first + index);
}
