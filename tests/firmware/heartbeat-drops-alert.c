/* Mistake: a heartbeat that is due takes the place of an alert that is still to be sent. Watch: heartbeat.yaml. */
#include "dozewatch_rig.h"

#define CHECK_MS 120000u
#define RECHECK_MS 120000u
#define RETRY_MS 60000u
#define COOLDOWN_MS 600000u
#define HEARTBEAT_MS 21600000u
#define THRESHOLD 2
#define ATTEMPTS 5

#include "retained.h"
DW_RETAINED static uint64_t heartbeat_ms = 0;

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
    if (dw_clock_ms() - heartbeat_ms >= HEARTBEAT_MS) {
        heartbeat_ms = dw_clock_ms();
        dw_send_heartbeat("alive");
        pending = 0;
    }
    if (pending) send_pending();
    dw_sleep_ms(open && open_checks < THRESHOLD ? RECHECK_MS : CHECK_MS);
}
