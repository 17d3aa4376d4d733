// The header: what firmware keeps, what it calls, and what it gets back.
import { durationText } from '../../base/index.js';
import type { WatchSettings } from '../../machine/index.js';
import { writtenBy } from '../banner.js';
import type { CSubject } from './subject.js';

/** What the first line of every emitted C file begins with. */
export const cBanner = `${writtenBy} c`;

export function headerText(subject: CSubject): string {
  const { prefix, origin, program, automaton } = subject;
  const upper = prefix.toUpperCase();
  const { watch } = program;
  return `/* ${cBanner} from ${origin}. Change the watch file and run dozewatch emit again.
 *
 * The logic of a sleeping door watch: ${automaton.states.length} states. It keeps no time and touches no hardware: the
 * firmware tells it what happened and does what it answers. C99, no heap, no recursion, no library.
 *
 * ${settingsLines(watch).join('\n * ')}
 *
 * ${wakeLines(prefix, upper, watch).join('\n * ')}
 *
 * The clock counts milliseconds, runs on through sleep and reset, and begins at any value at power-on.
 */
#ifndef ${upper}_H
#define ${upper}_H

#include <stdint.h>

#ifdef __cplusplus
extern "C" {
#endif

${intervalLines(upper, watch)}

${typesText(prefix, upper, watch)}
${callsText(prefix, watch)}
#ifdef __cplusplus
}
#endif

#endif
`;
}

function wakeLines(prefix: string, upper: string, watch: WatchSettings): readonly string[] {
  return [
    'One wake:',
    `  1. ${prefix}_wake(&memory, cause, clock)`,
    `  2. read the contact, then ${prefix}_check(&memory, reads_open, clock)`,
    `  3. do what the answer says: ${upper}_BLINK; then, if it says ${upper}_SEND_ALERT, send, and`,
    `     ${prefix}_alert_attempted(&memory, delivered, clock), which answers again;`,
    ...(watch.heartbeats
      ? [`     ${upper}_SEND_HEARTBEAT likewise with ${prefix}_heartbeat_attempted;`]
      : []),
    `  4. ${upper}_SLEEP: sleep for sleep_ms; ${armWords(watch)}${watch.afterAlert === 'hold-until-reset' ? ';' : '.'}`,
    ...(watch.afterAlert === 'hold-until-reset'
      ? [`     ${upper}_HOLD: stay awake and do nothing until reset.`]
      : []),
  ];
}

function typesText(prefix: string, upper: string, { heartbeats }: WatchSettings): string {
  const heartbeat =
    '    uint64_t heartbeat_ms; /* clock at the last heartbeat, or at power-on */\n';
  return `/* What woke the device. */
typedef enum {
    ${upper}_POWER_ON,
    ${upper}_RESET,
    ${upper}_TIMER,
    ${upper}_CONTACT
} ${prefix}_cause;

/* Retained memory: it must survive sleep and reset, and start as below with power. */
typedef struct {
    uint64_t delivered_ms; /* clock at the last delivery of an alert */
${heartbeats ? heartbeat : ''}    uint16_t state; /* which of the states in ${prefix}.c */
} ${prefix}_memory;
#define ${upper}_MEMORY_AT_POWER_ON { ${heartbeats ? '0u, 0u, 0u' : '0u, 0u'} }

/* What to do, as bits of \`does\`; several may be set. */
#define ${upper}_BLINK 1u /* show at the door that it was seen open */
#define ${upper}_DROP_ALERT 2u /* the alert not yet delivered is given up: nothing to do */
#define ${upper}_DECIDE_ALERT 4u /* a new alert is decided: ${upper}_SEND_ALERT is set, too */
#define ${upper}_SEND_ALERT 8u /* connect and send the alert */
#define ${upper}_SEND_HEARTBEAT 16u /* connect and send 'alive' */
#define ${upper}_HOLD 32u /* stay awake and do nothing until reset */
#define ${upper}_SLEEP 64u /* sleep for sleep_ms */

typedef struct {
    uint64_t sleep_ms; /* 0 without ${upper}_SLEEP */
    uint8_t does;
} ${prefix}_orders;
`;
}

function callsText(prefix: string, { heartbeats }: WatchSettings): string {
  const heartbeat = `
/* An attempt to send the heartbeat is over, delivered or not. */
${prefix}_orders ${prefix}_heartbeat_attempted(${prefix}_memory *memory, int delivered);
`;
  return `/* Begins a wake. For power-on: the clock at power-on, not after booting. */
void ${prefix}_wake(${prefix}_memory *memory, ${prefix}_cause cause, uint64_t clock_ms);

/* The contact was read: reads_open is 0 for shut. */
${prefix}_orders ${prefix}_check(${prefix}_memory *memory, int reads_open, uint64_t clock_ms);

/* An attempt to send the alert is over: delivered is 0 for failed. The clock is that at its end. */
${prefix}_orders ${prefix}_alert_attempted(${prefix}_memory *memory, int delivered, uint64_t clock_ms);
${heartbeats ? heartbeat : ''}`;
}

function armWords({ wakeOn }: WatchSettings): string {
  if (wakeOn === 'timer') return 'only the timer ends the sleep';
  return wakeOn === 'opening'
    ? 'a contact that opens ends the sleep, too'
    : 'a contact that opens or shuts ends the sleep, too';
}

function intervalLines(upper: string, watch: WatchSettings): string {
  const rows: [name: string, ms: number][] = [
    ['CHECK_INTERVAL', watch.checkIntervalMs],
    ['RECHECK_INTERVAL', watch.recheckIntervalMs],
    ['RETRY_INTERVAL', watch.retryIntervalMs],
    ['ALERT_COOLDOWN', watch.alertCooldownMs],
  ];
  if (watch.heartbeatIntervalMs !== null) {
    rows.push(['HEARTBEAT_INTERVAL', watch.heartbeatIntervalMs]);
  }
  return rows
    .map(([name, ms]) => `#define ${upper}_${name}_MS UINT64_C(${ms}) /* ${durationText(ms)} */`)
    .join('\n');
}

function settingsLines(watch: WatchSettings): readonly string[] {
  const { open, outOf } = watch.escalationThreshold;
  return [
    `An alert is decided at an open check with ${open} open among the last ${outOf}.`,
    `${watch.clearThreshold} shut in a row: the door counts as shut again${watch.cooldownEndsWhenShut ? ', which also ends the cooldown' : '; the cooldown runs on'}.`,
    `After ${watch.retryAttempts} failed in a row it falls back from the retry to the check interval.`,
    watch.unsentWhenShut === 'drop'
      ? 'An alert not yet delivered is dropped when the door is seen shut.'
      : 'An alert not yet delivered is sent though the door is seen shut.',
    watch.afterAlert === 'hold-until-reset'
      ? 'After a delivery it holds until a reset.'
      : 'After a delivery it goes on watching.',
  ];
}
