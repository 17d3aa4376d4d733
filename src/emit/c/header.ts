// The header: what firmware keeps, what it calls, and what it gets back.
import { durationText, ppmText } from '../../base/index.js';
import type { LowBatteryLevel, WatchSettings } from '../../machine/index.js';
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
 * firmware reports to it what happened and does what it answers. C99, no heap, no recursion, no library.
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

${intervalLines(upper, subject)}

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
    watch.lowBattery === undefined
      ? `  2. read the contact, then ${prefix}_check(&memory, reads_open, clock)`
      : `  2. read the contact and the battery, then ${prefix}_check(&memory, reads_open, battery_low, clock)`,
    `  3. do what the answer says: ${upper}_BLINK; then, if it says ${upper}_SEND_ALERT, send, and`,
    `     ${prefix}_alert_attempted(&memory, delivered, clock), which answers again;`,
    ...(watch.heartbeats
      ? [`     ${upper}_SEND_HEARTBEAT likewise with ${prefix}_heartbeat_attempted;`]
      : []),
    ...(watch.lowBattery === undefined
      ? []
      : [
          `     ${upper}_SEND_LOW_BATTERY with ${upper}_SEND_ALERT: after the alert, in its connection;`,
          `     without it: likewise with ${prefix}_low_battery_attempted;`,
        ]),
    `  4. ${upper}_SLEEP: sleep for sleep_ms; ${armWords(watch)}${watch.afterAlert === 'hold-until-reset' ? ';' : '.'}`,
    ...(watch.afterAlert === 'hold-until-reset'
      ? [`     ${upper}_HOLD: stay awake and do nothing until reset.`]
      : []),
  ];
}

function typesText(prefix: string, upper: string, watch: WatchSettings): string {
  const { heartbeats } = watch;
  const warns = watch.lowBattery !== undefined;
  const low = `    uint64_t low_battery_ms; /* clock at the last delivery of a low-battery message */
`;
  const flags = `    uint8_t warned; /* 1: one was delivered */
    uint8_t warns; /* 1: one goes with what is sent in this wake */
`;
  const zeros = [
    '0u',
    ...(heartbeats ? ['0u'] : []),
    ...(warns ? ['0u'] : []),
    '0u',
    ...(warns ? ['0u', '0u'] : []),
  ];
  const heartbeat =
    '    uint64_t heartbeat_ms; /* clock at the last heartbeat, or when memory got its initial value: at power-on, or at a reset that cleared it */\n';
  return `/* What woke the device. */
typedef enum {
    ${upper}_POWER_ON,
    ${upper}_RESET,
    ${upper}_TIMER,
    ${upper}_CONTACT
} ${prefix}_cause;

/* Retained memory: it must survive sleep and reset, and has the values below after a power loss. */
typedef struct {
    uint64_t delivered_ms; /* clock at the last delivery of an alert */
${heartbeats ? heartbeat : ''}${warns ? low : ''}    uint16_t state; /* which of the states in ${prefix}.c */
${warns ? flags : ''}} ${prefix}_memory;
#define ${upper}_MEMORY_AT_POWER_ON { ${zeros.join(', ')} }

/* What to do, as bits of \`does\`; several may be set. */
#define ${upper}_BLINK 1u /* show at the door that it was seen open */
#define ${upper}_DROP_ALERT 2u /* the alert not yet delivered is given up: nothing to do */
#define ${upper}_DECIDE_ALERT 4u /* a new alert is decided: ${upper}_SEND_ALERT is also set */
#define ${upper}_SEND_ALERT 8u /* connect and send the alert */
#define ${upper}_SEND_HEARTBEAT 16u /* connect and send 'alive' */
#define ${upper}_HOLD 32u /* stay awake and do nothing until reset */
#define ${upper}_SLEEP 64u /* sleep for sleep_ms */
${warns ? `#define ${upper}_SEND_LOW_BATTERY 256u /* send the low-battery message */\n` : ''}
typedef struct {
    uint64_t sleep_ms; /* 0 without ${upper}_SLEEP */
    ${warns ? 'uint16_t' : 'uint8_t'} does;
} ${prefix}_orders;
`;
}

function callsText(prefix: string, { heartbeats, lowBattery }: WatchSettings): string {
  const warns = lowBattery !== undefined;
  const low = `
/* An attempt to send the low-battery message alone is over, delivered or not. The clock is that at its end. */
${prefix}_orders ${prefix}_low_battery_attempted(${prefix}_memory *memory, int delivered, uint64_t clock_ms);
`;
  const heartbeat = `
/* An attempt to send the heartbeat is over, delivered or not. */
${prefix}_orders ${prefix}_heartbeat_attempted(${prefix}_memory *memory, int delivered);
`;
  return `/* Begins a wake. For power-on, and for a reset that cleared memory: the clock at that instant, not after booting. */
void ${prefix}_wake(${prefix}_memory *memory, ${prefix}_cause cause, uint64_t clock_ms);

/* The contact was read: reads_open is 0 for shut.${warns ? ' battery_low is 0 for a battery that is not low.' : ''} */
${prefix}_orders ${prefix}_check(${prefix}_memory *memory, int reads_open, ${warns ? 'int battery_low, ' : ''}uint64_t clock_ms);

/* An attempt to send the alert is over: delivered is 0 for failed. The clock is that at its end. */
${prefix}_orders ${prefix}_alert_attempted(${prefix}_memory *memory, int delivered, uint64_t clock_ms);
${heartbeats ? heartbeat : ''}${warns ? low : ''}`;
}

function armWords({ wakeOn }: WatchSettings): string {
  if (wakeOn === 'timer') return 'only the timer ends the sleep';
  return wakeOn === 'opening'
    ? 'the timer or a contact that opens ends the sleep'
    : 'the timer, or a contact that opens or shuts, ends the sleep';
}

function intervalLines(upper: string, { program, joinWaitMs }: CSubject): string {
  const { watch } = program;
  const rows: [name: string, ms: number][] = [
    ['CHECK_INTERVAL', watch.checkIntervalMs],
    ['RECHECK_INTERVAL', watch.recheckIntervalMs],
    ['RETRY_INTERVAL', watch.retryIntervalMs],
    ['ALERT_COOLDOWN', watch.alertCooldownMs],
  ];
  if (watch.heartbeatIntervalMs !== null) {
    rows.push(['HEARTBEAT_INTERVAL', watch.heartbeatIntervalMs]);
  }
  if (watch.lowBattery !== undefined) {
    rows.push(['LOW_BATTERY_REPEAT', watch.lowBattery.repeatMs]);
  }
  // The firmware's own send keeps to it: the logic learns only how the send ended.
  if (joinWaitMs > 0) rows.push(['JOIN_WAIT', joinWaitMs]);
  return rows
    .map(([name, ms]) => `#define ${upper}_${name}_MS UINT64_C(${ms}) /* ${durationText(ms)} */`)
    .join('\n');
}

function settingsLines(watch: WatchSettings): readonly string[] {
  const { open, outOf } = watch.escalationThreshold;
  return [
    `An alert is decided ${open === outOf ? (open === 1 ? 'at the first open check' : `after ${open} open checks in a row`) : `at an open check with ${open} open among the last ${outOf} checks`}.`,
    `${watch.clearThreshold === 1 ? 'One shut check' : `${watch.clearThreshold} shut checks in a row`}: the door counts as shut again${watch.cooldownEndsWhenShut ? ', which also ends the cooldown' : '; the cooldown runs on'}.`,
    `After ${watch.retryAttempts === 1 ? 'a failed attempt' : `${watch.retryAttempts} failed attempts in a row`} it falls back from the retry to the check interval.`,
    watch.unsentWhenShut === 'drop'
      ? 'An alert not yet delivered is dropped when the door is seen shut.'
      : 'An alert not yet delivered is sent even if the door is seen shut.',
    watch.afterAlert === 'hold-until-reset'
      ? 'After a delivery it holds until a reset.'
      : 'After a delivery it goes on watching.',
    ...(watch.lowBattery === undefined ? [] : [lowBatteryLine(watch.lowBattery.level)]),
  ];
}

function lowBatteryLine(level: LowBatteryLevel): string {
  const at =
    level.kind === 'share'
      ? `${ppmText(level.sharePpm)} of the usable charge`
      : `${level.voltageMv} mV at rest`;
  return `The battery is low at ${at} or less; the firmware finds that out.`;
}
