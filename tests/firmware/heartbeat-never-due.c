/* Mistake: the wakes until the next heartbeat are counted in ordinary memory. Watch: heartbeat.yaml. */
#include "dozewatch_rig.h"

#define CHECK_MS 120000u
#define RECHECK_MS 120000u
#define RETRY_MS 60000u
#define COOLDOWN_MS 600000u
#define WAKES_TO_HEARTBEAT 180
#define THRESHOLD 2
#define ATTEMPTS 5

#include "retained.h"
static uint8_t wakes = 0;

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
    wakes += 1;
    if (!pending && wakes >= WAKES_TO_HEARTBEAT) {
        wakes = 0;
        dw_send_heartbeat("alive");
    }
    if (pending) send_pending();
    dw_sleep_ms(open && open_checks < THRESHOLD ? RECHECK_MS : CHECK_MS);
}
