/* Sound, woken by the timer: after its alert it waits for a reset. Watch: hold.yaml. */
#include "dozewatch_rig.h"
#include <stdio.h>
#include <stdlib.h>

#define CHECK_MS 120000u
#define RECHECK_MS 60000u
#define RETRY_MS 60000u
#define THRESHOLD 3u
#define ATTEMPTS 3u

DW_RETAINED static struct {
    unsigned open_checks : 2;
    unsigned failures : 2;
    unsigned pending : 1;
} kept;

static void send_pending(void)
{
    char *text = malloc(64);
    int delivered;
    snprintf(text, 64, "The goose-house hatch is open; %u mV", (unsigned)dw_battery_mv());
    delivered = dw_send_alert(text);
    free(text);
    if (delivered) {
        kept.pending = 0;
        kept.failures = 0;
        dw_idle_until_reset();
    }
    kept.failures += 1;
    if (kept.failures < ATTEMPTS) dw_sleep_ms(RETRY_MS);
    kept.failures = 0;
    dw_sleep_ms(CHECK_MS);
}

void dw_wake(dw_cause cause)
{
    int open = dw_contact_is_open();
    (void)cause;
    if (!open) kept.open_checks = 0;
    else if (kept.open_checks < THRESHOLD) kept.open_checks += 1;
    if (open && kept.open_checks >= THRESHOLD) kept.pending = 1;
    if (kept.pending) send_pending();
    dw_sleep_ms(open && kept.open_checks < THRESHOLD ? RECHECK_MS : CHECK_MS);
}
