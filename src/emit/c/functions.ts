// The C functions that walk the tables. What they decide is in the tables; here are only clocks and guards.
import type { CSubject } from './subject.js';

/** Which messages there are besides alerts. */
interface Messages {
  readonly heartbeats: boolean;
  readonly warns: boolean;
}

export function functionsText({ prefix }: CSubject, messages: Messages): string {
  const { heartbeats, warns } = messages;
  const upper = prefix.toUpperCase();
  return [
    `/* Whether a time has passed. A clock that went back counts as passed: rather an alert too many than none. */
static int ${prefix}_has_passed(uint64_t length_ms, uint64_t since_ms, uint64_t clock_ms)
{
    return clock_ms - since_ms >= length_ms;
}
`,
    ordersText(prefix, upper, warns),
    wakeText(prefix, upper, messages),
    checkText(prefix, upper, messages),
    attemptText(prefix, upper, {
      name: 'alert_attempted',
      table: 'after_alert',
      from: 'SENDING_ALERT',
      to: heartbeats ? 'SENDING_HEARTBEAT' : warns ? 'SENDING_LOW_BATTERY' : 'ASLEEP',
      stamps: ['delivered_ms'],
      stampsIfWarned: warns,
    }),
    ...(heartbeats
      ? [
          attemptText(prefix, upper, {
            name: 'heartbeat_attempted',
            table: 'after_heartbeat',
            from: 'SENDING_HEARTBEAT',
            to: warns ? 'SENDING_LOW_BATTERY' : 'ASLEEP',
            stamps: [],
          }),
        ]
      : []),
    ...(warns
      ? [
          attemptText(prefix, upper, {
            name: 'low_battery_attempted',
            table: 'after_low_battery',
            from: 'SENDING_LOW_BATTERY',
            to: 'ASLEEP',
            stamps: ['low_battery_ms'],
          }),
        ]
      : []),
  ].join('\n');
}

function ordersText(prefix: string, upper: string, warns: boolean): string {
  const [type, bits] = warns ? ['uint16_t', '319u'] : ['uint8_t', '63u'];
  const sleep = warns ? `(does >> ${upper}_SLEEP_SHIFT) & 3u` : `does >> ${upper}_SLEEP_SHIFT`;
  return `/* Takes a reaction: remembers where it leads and reports what to do. */
static ${prefix}_orders ${prefix}_take(${prefix}_memory *memory, uint16_t to, ${type} does)
{
    ${prefix}_orders orders;
    memory->state = to;
    orders.does = (${type})(does & ${bits});
    orders.sleep_ms = 0u;
    switch (${sleep}) {
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
    orders.does = (${type})(orders.does | ${upper}_SLEEP);
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

function wakeText(prefix: string, upper: string, { heartbeats, warns }: Messages): string {
  return `void ${prefix}_wake(${prefix}_memory *memory, ${prefix}_cause cause, uint64_t clock_ms)
{
    const uint16_t state = memory->state;
    if (cause == ${upper}_POWER_ON || state == ${upper}_OFF || state >= ${upper}_STATES) {
        /* Memory that makes no sense is as good as lost. */
        memory->state = ${upper}_READ(${prefix}_after_reset[${upper}_OFF]);
        memory->delivered_ms = clock_ms;
${heartbeats ? '        memory->heartbeat_ms = clock_ms;\n' : ''}${warns ? '        memory->warned = 0u;\n' : ''}    } else if (cause != ${upper}_RESET && state >= ${upper}_ASLEEP && state < ${upper}_HOLDING) {
        memory->state = ${upper}_READ(${prefix}_after_sleep[state - ${upper}_ASLEEP]);
    } else {
        memory->state = ${upper}_READ(${prefix}_after_reset[state]);
    }
}
`;
}

function checkText(prefix: string, upper: string, { heartbeats, warns }: Messages): string {
  const due = heartbeats
    ? `
    if (${prefix}_has_passed(${upper}_HEARTBEAT_INTERVAL_MS, memory->heartbeat_ms, clock_ms)) {
        found += 4u;
    }`
    : '';
  const sent = heartbeats
    ? `
    if ((does & ${upper}_SEND_HEARTBEAT) != 0u) {
        memory->heartbeat_ms = clock_ms;
    }`
    : '';
  const low = warns
    ? `
    if (battery_low != 0 && (memory->warned == 0u || ${prefix}_has_passed(${upper}_LOW_BATTERY_REPEAT_MS, memory->low_battery_ms, clock_ms))) {
        found += ${heartbeats ? 8 : 4}u;
    }`
    : '';
  const asked = warns
    ? `
    memory->warns = (does & ${upper}_SEND_LOW_BATTERY) != 0u;`
    : '';
  return `${prefix}_orders ${prefix}_check(${prefix}_memory *memory, int reads_open, ${warns ? 'int battery_low, ' : ''}uint64_t clock_ms)
{
    unsigned row;
    unsigned found = reads_open != 0 ? 1u : 0u;
    ${warns ? 'uint16_t' : 'uint8_t'} does;
    if (memory->state < ${upper}_AWAKE || memory->state >= ${upper}_SENDING_ALERT) {
        ${prefix}_wake(memory, ${upper}_RESET, clock_ms);
    }
    if (${prefix}_has_passed(${upper}_ALERT_COOLDOWN_MS, memory->delivered_ms, clock_ms)) {
        found += 2u;
    }${due}${low}
    row = (unsigned)memory->state - ${upper}_AWAKE;
    does = ${upper}_READ(${prefix}_after_check[row][found][1]);${sent}${asked}
    return ${prefix}_take(memory, ${upper}_READ(${prefix}_after_check[row][found][0]), does);
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
    /** What a delivery stamps. */
    readonly stamps: readonly ('delivered_ms' | 'low_battery_ms')[];
    /** And where a low-battery message went with it. */
    readonly stampsIfWarned?: boolean;
  },
): string {
  const clock = names.stamps.length > 0 ? ', uint64_t clock_ms' : '';
  const stamps = names.stamps.map((stamp) => `        memory->${stamp} = clock_ms;\n`).join('');
  const warned = names.stamps.includes('low_battery_ms') ? '        memory->warned = 1u;\n' : '';
  const along =
    names.stampsIfWarned === true
      ? `        if (memory->warns != 0u) {
            memory->low_battery_ms = clock_ms;
            memory->warned = 1u;
        }
`
      : '';
  const stamp = stamps === '' ? '' : `    if (delivered != 0) {\n${stamps}${warned}${along}    }\n`;
  return `${prefix}_orders ${prefix}_${names.name}(${prefix}_memory *memory, int delivered${clock})
{
    const unsigned row = (unsigned)memory->state - ${upper}_${names.from};
    const unsigned end = delivered != 0;
    if (memory->state < ${upper}_${names.from} || memory->state >= ${upper}_${names.to}) {
        return ${prefix}_out_of_turn();
    }
${stamp}    return ${prefix}_take(memory, ${upper}_READ(${prefix}_${names.table}[row][end][0]), ${upper}_READ(${prefix}_${names.table}[row][end][1]));
}
`;
}
