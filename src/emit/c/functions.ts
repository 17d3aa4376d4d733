// The C functions that walk the tables. What they decide is in the tables; here are only clocks and guards.
import type { CSubject } from './subject.js';

export function functionsText({ prefix }: CSubject, heartbeats: boolean): string {
  const upper = prefix.toUpperCase();
  return [
    `/* Whether a time has passed. A clock that went back counts as passed: rather an alert too many than none. */
static int ${prefix}_has_passed(uint64_t length_ms, uint64_t since_ms, uint64_t clock_ms)
{
    return clock_ms - since_ms >= length_ms;
}
`,
    ordersText(prefix, upper),
    wakeText(prefix, upper, heartbeats),
    checkText(prefix, upper, heartbeats),
    attemptText(prefix, upper, {
      name: 'alert_attempted',
      table: 'after_alert',
      from: 'SENDING_ALERT',
      to: heartbeats ? 'SENDING_HEARTBEAT' : 'ASLEEP',
      clock: true,
    }),
    ...(heartbeats
      ? [
          attemptText(prefix, upper, {
            name: 'heartbeat_attempted',
            table: 'after_heartbeat',
            from: 'SENDING_HEARTBEAT',
            to: 'ASLEEP',
            clock: false,
          }),
        ]
      : []),
  ].join('\n');
}

function ordersText(prefix: string, upper: string): string {
  return `/* Takes a reaction: remembers where it leads and tells what to do. */
static ${prefix}_orders ${prefix}_take(${prefix}_memory *memory, ${prefix}_reaction reaction)
{
    ${prefix}_orders orders;
    memory->state = reaction.to;
    orders.does = (uint8_t)(reaction.does & 63u);
    orders.sleep_ms = 0u;
    switch (reaction.does >> ${upper}_SLEEP_SHIFT) {
    case ${upper}_SLEEP_CHECK:
        orders.sleep_ms = ${upper}_CHECK_INTERVAL_MS;
        break;
    case ${upper}_SLEEP_RECHECK:
        orders.sleep_ms = ${upper}_RECHECK_INTERVAL_MS;
        break;
    case ${upper}_SLEEP_RETRY:
        orders.sleep_ms = ${upper}_RETRY_INTERVAL_MS;
        break;
    default:
        return orders;
    }
    orders.does = (uint8_t)(orders.does | ${upper}_SLEEP);
    return orders;
}

/* A call that does not fit the state changes nothing: sleep, and let the next wake find its way. */
static ${prefix}_orders ${prefix}_out_of_turn(void)
{
    ${prefix}_orders orders;
    orders.does = ${upper}_SLEEP;
    orders.sleep_ms = ${upper}_CHECK_INTERVAL_MS;
    return orders;
}
`;
}

function wakeText(prefix: string, upper: string, heartbeats: boolean): string {
  return `void ${prefix}_wake(${prefix}_memory *memory, ${prefix}_cause cause, uint64_t clock_ms)
{
    const uint16_t state = memory->state;
    if (cause == ${upper}_POWER_ON || state == ${upper}_OFF || state >= ${upper}_STATES) {
        /* Memory that makes no sense is as good as lost. */
        memory->state = ${prefix}_after_reset[${upper}_OFF];
        memory->delivered_ms = clock_ms;
${heartbeats ? '        memory->heartbeat_ms = clock_ms;\n' : ''}    } else if (cause != ${upper}_RESET && state >= ${upper}_ASLEEP && state < ${upper}_HOLDING) {
        memory->state = ${prefix}_after_sleep[state - ${upper}_ASLEEP];
    } else {
        memory->state = ${prefix}_after_reset[state];
    }
}
`;
}

function checkText(prefix: string, upper: string, heartbeats: boolean): string {
  const due = heartbeats
    ? `
    if (${prefix}_has_passed(${upper}_HEARTBEAT_INTERVAL_MS, memory->heartbeat_ms, clock_ms)) {
        found += 4u;
    }`
    : '';
  const sent = heartbeats
    ? `
    if ((reaction.does & ${upper}_SEND_HEARTBEAT) != 0u) {
        memory->heartbeat_ms = clock_ms;
    }`
    : '';
  return `${prefix}_orders ${prefix}_check(${prefix}_memory *memory, int reads_open, uint64_t clock_ms)
{
    ${prefix}_reaction reaction;
    unsigned found = reads_open != 0 ? 1u : 0u;
    if (memory->state < ${upper}_AWAKE || memory->state >= ${upper}_SENDING_ALERT) {
        ${prefix}_wake(memory, ${upper}_RESET, clock_ms);
    }
    if (${prefix}_has_passed(${upper}_ALERT_COOLDOWN_MS, memory->delivered_ms, clock_ms)) {
        found += 2u;
    }${due}
    reaction = ${prefix}_after_check[memory->state - ${upper}_AWAKE][found];${sent}
    return ${prefix}_take(memory, reaction);
}
`;
}

function attemptText(
  prefix: string,
  upper: string,
  names: {
    readonly name: string;
    readonly table: string;
    readonly from: string;
    readonly to: string;
    readonly clock: boolean;
  },
): string {
  const clock = names.clock ? ', uint64_t clock_ms' : '';
  const stamp = names.clock
    ? `    if (delivered != 0) {
        memory->delivered_ms = clock_ms;
    }
`
    : '';
  return `${prefix}_orders ${prefix}_${names.name}(${prefix}_memory *memory, int delivered${clock})
{
    if (memory->state < ${upper}_${names.from} || memory->state >= ${upper}_${names.to}) {
        return ${prefix}_out_of_turn();
    }
${stamp}    return ${prefix}_take(memory, ${prefix}_${names.table}[memory->state - ${upper}_${names.from}][delivered != 0]);
}
`;
}
