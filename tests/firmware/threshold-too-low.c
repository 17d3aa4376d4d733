/* Mistake: > for >= the other way round: one open check is enough. Watch: timer.yaml. */
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
    if (open && open_checks >= THRESHOLD - 1 && !cooling_down) pending = 1;
    if (pending) send_pending();
    dw_sleep_ms(open && open_checks < THRESHOLD ? RECHECK_MS : CHECK_MS);
}
