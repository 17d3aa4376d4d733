/* Sound: the default watch by hand, decision for decision. Check every 2 min, alert at the second open check in a row,
   30 min of quiet after a delivery unless the door was seen shut, five tries a minute apart before it goes on slowly. */
#include "dozewatch_rig.h"

#ifndef CHECK_MS
#define CHECK_MS 120000u
#define RETRY_MS 60000u
#define COOLDOWN_MS 1800000u
#endif
#define THRESHOLD 2
#define ATTEMPTS 5

DW_RETAINED static uint8_t open_checks = 0;
DW_RETAINED static uint8_t alert_pending = 0;
DW_RETAINED static uint8_t failed_attempts = 0;
DW_RETAINED static uint8_t cooling_down = 0;
DW_RETAINED static uint64_t delivered_ms = 0;

static void send_pending(void)
{
    if (dw_send_alert("The door has been left open")) {
        alert_pending = 0;
        failed_attempts = 0;
        cooling_down = 1;
        delivered_ms = dw_clock_ms();
        return;
    }
    failed_attempts += 1;
    if (failed_attempts < ATTEMPTS) dw_sleep_ms(RETRY_MS);
    failed_attempts = 0;
    dw_sleep_ms(CHECK_MS);
}

void dw_wake(dw_cause cause)
{
    (void)cause;
    if (dw_contact_is_open()) {
        dw_blink();
        if (open_checks < THRESHOLD) open_checks += 1;
    } else {
        open_checks = 0;
        cooling_down = 0;
    }
    if (!alert_pending && open_checks >= THRESHOLD) {
        if (!cooling_down || dw_clock_ms() - delivered_ms >= COOLDOWN_MS) {
            alert_pending = 1;
            failed_attempts = 0;
        }
    }
    if (alert_pending) send_pending();
    dw_sleep_ms(CHECK_MS);
}
