/* Mistake: a state machine that starts again after a reset, also where an alert was not yet sent. Watch: timer.yaml. */
#include "dozewatch_rig.h"

enum state { SHUT, SEEN_OPEN, SENDING, QUIET };

DW_RETAINED static enum state state = SHUT;
DW_RETAINED static uint64_t quiet_since_ms;
DW_RETAINED static uint8_t failures;

void dw_wake(dw_cause cause)
{
    const int open = dw_contact_is_open();
    if (cause == DW_RESET && state == SENDING) state = SHUT;
    switch (state) {
    case SHUT:
        if (open) state = SEEN_OPEN;
        break;
    case SEEN_OPEN:
        state = open ? SENDING : SHUT;
        break;
    case QUIET:
        if (!open) state = SHUT;
        else if (dw_clock_ms() - quiet_since_ms >= 600000) state = SENDING;
        break;
    case SENDING:
        break;
    }
    if (state != SENDING) dw_sleep_ms(120000);
    if (dw_send_alert("the hatch is open")) {
        state = open ? QUIET : SHUT;
        failures = 0;
        quiet_since_ms = dw_clock_ms();
        dw_sleep_ms(120000);
    }
    failures = (uint8_t)((failures + 1) % 5);
    dw_sleep_ms(failures == 0 ? 120000 : 60000);
}
