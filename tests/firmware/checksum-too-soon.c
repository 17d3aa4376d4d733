/* Mistake: the checksum over what is retained is taken before the last change. An alert that failed is forgotten. Watch: timer.yaml. */
#include "dozewatch_rig.h"

#include <stddef.h>
#include <string.h>

typedef struct {
    uint32_t open_run;
    uint8_t alerted, unsent, tries;
    uint64_t sent_at;
    uint32_t checksum;
} kept;

DW_RETAINED static kept store;

static uint32_t checksum_of(const kept *of)
{
    const uint8_t *bytes = (const uint8_t *)of;
    uint32_t sum = 17;
    for (size_t at = 0; at < offsetof(kept, checksum); at += 1) sum = sum * 31 + bytes[at];
    return sum;
}

DW_NORETURN static void rest(uint64_t ms)
{
    store.checksum = checksum_of(&store);
    dw_sleep_ms(ms);
}

void dw_wake(dw_cause cause)
{
    if (cause == DW_POWER_ON || store.checksum != checksum_of(&store)) memset(&store, 0, sizeof store);
    if (!dw_contact_is_open()) {
        store.open_run = 0;
        store.alerted = 0;
    } else if (store.open_run < 100) {
        store.open_run += 1;
    }
    if (store.open_run >= 2 && (!store.alerted || dw_clock_ms() - store.sent_at >= 600000)) store.unsent = 1;
    if (!store.unsent) rest(120000);
    if (dw_send_alert("the store is open")) {
        store.unsent = store.tries = 0;
        store.alerted = 1;
        store.sent_at = dw_clock_ms();
        rest(120000);
    }
    store.checksum = checksum_of(&store);
    store.tries = (uint8_t)((store.tries + 1) % 5);
    dw_sleep_ms(store.tries == 0 ? 120000 : 60000);
}
