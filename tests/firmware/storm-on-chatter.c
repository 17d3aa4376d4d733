/* Mistake: each edge of a bouncing contact counts as one more open check, and one brief opening is an alarm. Watch: bouncing.yaml. */
#include "opening.h"
#include "send-pending.h"

void dw_wake(dw_cause cause)
{
    int open = dw_contact_is_open();
    (void)cause;
    dw_wake_on_opening(1);
    if (!open) {
        open_checks = 0;
        cooling_down = 0;
    } else {
        dw_delay_ms(500); /* another look, for what the contact does meanwhile */
        if (dw_contact_is_open()) open_checks += 1;
    }
    if (open && open_checks < THRESHOLD) {
        open_checks += 1;
    }
    if (cooling_down && dw_clock_ms() - delivered_ms >= COOLDOWN_MS) cooling_down = 0;
    if (open && open_checks >= THRESHOLD && !cooling_down) pending = 1;
    if (pending) send_pending();
    dw_sleep_ms(open && open_checks < THRESHOLD ? RECHECK_MS : CHECK_MS);
}
