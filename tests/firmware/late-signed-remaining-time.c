/* Mistake: what is left of the cooldown is a signed number of 32 bits, which is positive again from 24.9 days after an alert. Watch: timer.yaml. */
#include "dozewatch_rig.h"

#define CHECK_MS 120000u
#define RECHECK_MS 120000u
#define RETRY_MS 60000u
#define COOLDOWN_MS 600000u
#define THRESHOLD 2
#define ATTEMPTS 5

#include "retained.h"
DW_RETAINED static uint32_t quiet_until_ms = 0;

static void send_pending(void)
{
    if (dw_send_alert("The door of the cool store has been left open")) {
        pending = 0;
        failures = 0;
        cooling_down = 1;
        delivered_ms = dw_clock_ms();
        quiet_until_ms = (uint32_t)dw_clock_ms() + COOLDOWN_MS;
        return;
    }
    failures += 1;
    if (failures < ATTEMPTS) dw_sleep_ms(RETRY_MS);
    failures = 0;
    dw_sleep_ms(CHECK_MS);
}

void dw_wake(dw_cause cause)
{
    int open = dw_contact_is_open();
    (void)cause;
    if (!open) {
        open_checks = 0;
        cooling_down = 0;
    } else if (open_checks < THRESHOLD) {
        open_checks += 1;
    }
    if (cooling_down && dw_clock_ms() - delivered_ms >= COOLDOWN_MS) cooling_down = 0;
    if (open && open_checks >= THRESHOLD && !cooling_down) pending = 1;
    if (pending && open && !failures && (int32_t)(quiet_until_ms - (uint32_t)dw_clock_ms()) > 0) pending = 0;
    if (pending) send_pending();
    dw_sleep_ms(open && open_checks < THRESHOLD ? RECHECK_MS : CHECK_MS);
}
