/* Sound, woken by the timer: three of the last four checks, and heartbeats. Watch: ring.yaml. */
#include "dozewatch_rig.h"

#define CHECK_MS 120000u
#define RECHECK_MS 30000u
#define RETRY_MS 60000u
#define COOLDOWN_MS 600000u
#define HEARTBEAT_MS 21600000u
#define LAST 4

/* A ring with a pointer to its next place, both retained. */
typedef enum { NOTHING = -1, SHUT, OPEN } reading;
DW_RETAINED static int8_t ring[LAST] = { NOTHING, NOTHING, NOTHING, NOTHING };
DW_RETAINED static int8_t *place = ring;
DW_RETAINED static struct {
    uint8_t shut_run, failures;
    unsigned pending : 1, cooling_down : 1;
    uint64_t delivered_ms, heartbeat_ms;
} kept;

static int opens(void)
{
    int count = 0, index;
    for (index = 0; index < LAST; index += 1) count += ring[index] == OPEN;
    return count;
}

static void remember(reading what)
{
    *place = (int8_t)what;
    place = place == ring + LAST - 1 ? ring : place + 1;
}

static void forget(void)
{
    int index;
    for (index = 0; index < LAST; index += 1) ring[index] = NOTHING;
    kept.cooling_down = 0;
}

static void look(int open)
{
    if (open) {
        kept.shut_run = 0;
        remember(OPEN);
        return;
    }
    if (opens() > 0) remember(SHUT);
    if (kept.shut_run < 2) kept.shut_run += 1;
    if (kept.shut_run == 2) forget();
}

static void send_pending(void)
{
    if (dw_send_alert("The door of the drying room has been left open")) {
        kept.pending = 0;
        kept.failures = 0;
        kept.cooling_down = 1;
        kept.delivered_ms = dw_clock_ms();
        return;
    }
    kept.failures += 1;
    if (kept.failures < 5) dw_sleep_ms(RETRY_MS);
    kept.failures = 0;
    dw_sleep_ms(CHECK_MS);
}

void dw_wake(dw_cause cause)
{
    int open = dw_contact_is_open(), escalated;
    (void)cause;
    look(open);
    if (kept.cooling_down && dw_clock_ms() - kept.delivered_ms >= COOLDOWN_MS) kept.cooling_down = 0;
    escalated = open && opens() >= 3;
    if (escalated && !kept.cooling_down) kept.pending = 1;
    if (kept.pending) {
        send_pending();
    } else if (dw_clock_ms() - kept.heartbeat_ms >= HEARTBEAT_MS) {
        kept.heartbeat_ms = dw_clock_ms();
        dw_send_heartbeat("alive");
    }
    dw_sleep_ms(open && !escalated ? RECHECK_MS : CHECK_MS);
}
