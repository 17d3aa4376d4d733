// An example of firmware around the emitted logic, against the header of the rig: on a board, another page of glue
// takes its place.

import { durationText } from '../../base/index.js';
import type { RangeMs } from '../../model/index.js';
import { cBanner } from './header.js';
import type { CSubject } from './subject.js';

export function rigText({ prefix, origin, config, folder, program, bootMs }: CSubject): string {
  const upper = prefix.toUpperCase();
  const { watch } = program;
  const heartbeat = watch.heartbeatIntervalMs !== null;
  const warns = watch.lowBattery !== undefined;
  const holds = watch.afterAlert === 'hold-until-reset';
  return `/* ${cBanner} from ${origin}: an example of firmware around ${prefix}.c that runs in the rig:
 *   npx dozewatch rig ${folder}${prefix}_rig.c first-scenario.yaml${config === '' ? ' --no-config' : ` -c ${config}`}
 * with the paths that these files have on your machine (npx dozewatch init writes a first-scenario.yaml).
 * On a board the calls that begin with dw_ are replaced by the board's own.
 */
#include "dozewatch_rig.h"
#include "${prefix}.c"

DW_RETAINED static ${prefix}_memory memory = ${upper}_MEMORY_AT_POWER_ON;

${causeText(prefix, upper)}
/* ${bootWords(bootMs)} */
#define BOOT_MS UINT64_C(${bootMs.least})

/* The clock as memory began: 0 at power-on; it runs on through a reset that clears memory. */
static uint64_t started_at(dw_cause cause)
{
    const uint64_t now = dw_clock_ms();
    return cause == DW_RESET && now > BOOT_MS ? now - BOOT_MS : 0u;
}

void dw_wake(dw_cause cause)
{
    ${prefix}_orders orders;
    ${prefix}_wake(&memory, cause_of(cause), memory.state == 0u ? started_at(cause) : dw_clock_ms());
    orders = ${prefix}_check(&memory, dw_contact_is_open(), ${warns ? 'dw_battery_is_low(), ' : ''}dw_clock_ms());
    if ((orders.does & ${upper}_BLINK) != 0u) {
        dw_blink();
    }
    if ((orders.does & ${upper}_SEND_ALERT) != 0u) {
        const int delivered = dw_send_alert("The door is open");
${
  warns
    ? `        if (delivered && (orders.does & ${upper}_SEND_LOW_BATTERY) != 0u) {
            (void)dw_send_low_battery("The battery is low");
        }
`
    : ''
}        orders = ${prefix}_alert_attempted(&memory, delivered, dw_clock_ms());
    }${
      heartbeat
        ? ` else if ((orders.does & ${upper}_SEND_HEARTBEAT) != 0u) {
        const int delivered = dw_send_heartbeat("The watch is alive");
        orders = ${prefix}_heartbeat_attempted(&memory, delivered);
    }`
        : ''
    }${
      warns
        ? ` else if ((orders.does & ${upper}_SEND_LOW_BATTERY) != 0u) {
        const int delivered = dw_send_low_battery("The battery is low");
        orders = ${prefix}_low_battery_attempted(&memory, delivered, dw_clock_ms());
    }`
        : ''
    }
${holds ? `    if ((orders.does & ${upper}_HOLD) != 0u) {\n        dw_idle_until_reset();\n    }\n` : ''}${armText(watch.wakeOn)}    dw_sleep_ms(orders.sleep_ms);
}
`;
}

function causeText(prefix: string, upper: string): string {
  return `static ${prefix}_cause cause_of(dw_cause cause)
{
    switch (cause) {
    case DW_POWER_ON:
        return ${upper}_POWER_ON;
    case DW_TIMER:
        return ${upper}_TIMER;
    case DW_CONTACT:
        return ${upper}_CONTACT;
    case DW_RESET:
    default:
        return ${upper}_RESET;
    }
}
`;
}

function armText(wakeOn: 'timer' | 'opening' | 'any-change'): string {
  if (wakeOn === 'timer') return '';
  if (wakeOn === 'opening') return '    dw_wake_on_opening(1);\n';
  return '    dw_wake_on_any_change(1);\n';
}

/** A reset that clears memory is dated back by this time: by the least, so that it is never dated before it came. */
function bootWords({ least, most }: RangeMs): string {
  return least === most
    ? 'How long a wake takes from its cause to here.'
    : `The least time from the cause of a wake to here. It may be up to ${durationText(most)}; a reset is then dated up to ${durationText(most - least)} too late.`;
}
