/* Mistake: the sleep is worked out in 16 bits, overflows to a negative number, and becomes an endless sleep in 64. Watch: timer.yaml. */
#include "timer.h"
#include "send-pending.h"

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
    if (open && open_checks < THRESHOLD) dw_sleep_ms(RECHECK_MS);
    {
        int16_t check_ms = (int16_t)(35 * 1000);
        dw_sleep_ms((uint64_t)check_ms);
    }
}
