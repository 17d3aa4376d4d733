/* Mistake: the contact edge is armed at power-on only, and the timer is trusted to be needed once a day. Watch: edge.yaml. */
#include "dozewatch_rig.h"

#define CHECK_MS 86400000u
#define RECHECK_MS 60000u
#define RETRY_MS 60000u
#define COOLDOWN_MS 600000u
#define THRESHOLD 2
#define ATTEMPTS 5

#include "retained.h"

#include "send-pending.h"

void dw_wake(dw_cause cause)
{
    int open = dw_contact_is_open();
    (void)cause;
    if (cause == DW_POWER_ON) dw_wake_on_opening(1);
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
