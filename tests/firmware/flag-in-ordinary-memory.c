/* Mistake: the count of open checks is in ordinary memory, and gone with each sleep. Watch: timer.yaml. */
#include "dozewatch_rig.h"

#define CHECK_MS 120000u
#define RECHECK_MS 120000u
#define RETRY_MS 60000u
#define COOLDOWN_MS 600000u
#define THRESHOLD 2
#define ATTEMPTS 5

static uint8_t open_checks = 0;
DW_RETAINED static uint8_t pending = 0;
DW_RETAINED static uint8_t failures = 0;
DW_RETAINED static uint8_t cooling_down = 0;
DW_RETAINED static uint64_t delivered_ms = 0;

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
    dw_sleep_ms(open && open_checks < THRESHOLD ? RECHECK_MS : CHECK_MS);
}
