/* Mistake: after its first alert it stays awake for ever, waiting for a reset that nobody knows of. Watch: timer.yaml. */
#include "timer.h"

static void send_pending(void)
{
    if (dw_send_alert("The door of the cool store has been left open")) {
        pending = 0;
        failures = 0;
        cooling_down = 1;
        delivered_ms = dw_clock_ms();
        dw_idle_until_reset();
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
    if (pending) send_pending();
    dw_sleep_ms(open && open_checks < THRESHOLD ? RECHECK_MS : CHECK_MS);
}
