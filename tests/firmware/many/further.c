/* The timer-woken watch of timer.yaml with one mistake each that makers make and that takes days, many events or a rare order of them to show:
   -D MISTAKE=n. `npm run soak:late` measures how many seeds of the default hunt find each of them.
    1 a count of alerts in 8 bits      2 a back-off that is never set back   3 a back-off that doubles for ever   4 a ring of events, one too far
    5 the heartbeat's time in 16 bits  6 disabled at the third power-on      7 the clock set back each week       8 a restart each day at three
    9 a restart each week, if failing 10 a queue of three events            11 the third outage                  12 power lost, alert pending
   13 a log that fills up             14 longer sleeps after each failure   15 two resets within a minute        16 an outage after a week of rest
   17 the last alert's week, 2 bits   18 after each outage one opening      19 a count of failures in 6 bits     20 an opening over two midnights */
#include "dozewatch_rig.h"
#include <string.h>
#define CHECK_MS 120000u
#define RETRY_MS 60000u
#define COOLDOWN_MS 600000u
#define THRESHOLD 2
#define ATTEMPTS 5
#define MINUTE 60000ull
#define HOUR (60 * MINUTE)
#define DAY (24 * HOUR)
#define WEEK (7 * DAY)
DW_RETAINED static uint8_t open_checks = 0, pending = 0, failures = 0, cooling_down = 0, was_open = 0, dead = 0, skip = 0;
DW_RETAINED static uint8_t sent8 = 0, outages = 0, backoff = 0, waiting = 0, failed6 = 0;
DW_RETAINED static uint16_t beat_minute = 0;
DW_RETAINED static uint32_t period = 0, openings = 0, sleep_ms = CHECK_MS;
DW_RETAINED static uint64_t delivered_ms = 0, opened_ms = 0, shut_ms = 0, reset_ms = 0, back_ms = 0;
DW_RETAINED static struct { uint8_t event[16]; uint8_t disabled; uint8_t at; } ring = {{0}, 0, 0};
static struct { uint8_t boots, pending, used, fine; } store;

static void save(void) { store.fine = 1; dw_store_write(0, &store, sizeof store); }

static void gave_up(void) { pending = 0; failures = 0; }

static void record(uint8_t what)
{
#if MISTAKE == 4
    /* There is no place 16. */
    ((volatile uint8_t *)&ring)[ring.at] = what;
    ring.at = ring.at >= 16 ? 0 : (uint8_t)(ring.at + 1);
#else
    (void)what;
#endif
}

static void send_pending(uint64_t now)
{
    (void)now;
#if MISTAKE == 12
    store.pending = 1; save();
#endif
    if (dw_send_alert("open")) {
        if (failures) outages += 1;
        pending = 0; failures = 0; cooling_down = 1; waiting = 0;
        delivered_ms = dw_clock_ms() - back_ms;
#if MISTAKE == 1
        sent8 += 1;
        if (sent8 == 0) dead = 1;
#elif MISTAKE == 3
        backoff = 0;
#elif MISTAKE == 12
        store.pending = 0; save();
#endif
        return;
    }
    failures += 1;
#if MISTAKE == 2
    if (backoff < 10) backoff += 1;
    dw_sleep_ms(MINUTE << backoff);
#elif MISTAKE == 3
    if (backoff < 40) backoff += 1;
    dw_sleep_ms(MINUTE << backoff);
#elif MISTAKE == 11
    if (outages >= 2) gave_up();
#elif MISTAKE == 14
    sleep_ms += 30000;
#elif MISTAKE == 16
    if (opened_ms - shut_ms > WEEK) gave_up();
#elif MISTAKE == 18
    skip = 2;
#elif MISTAKE == 19
    failed6 = (uint8_t)((failed6 + 1) & 63);
    if (failed6 == 0) gave_up();
#endif
    if (failures < ATTEMPTS) dw_sleep_ms(RETRY_MS);
    failures = 0;
    dw_sleep_ms(CHECK_MS);
}

void dw_wake(dw_cause cause)
{
    int open = dw_contact_is_open();
    uint64_t now = dw_clock_ms() - back_ms;
    dw_store_read(0, &store, sizeof store);
    if (store.fine != 1) memset(&store, 0, sizeof store);
    if (cause == DW_POWER_ON) {
#if MISTAKE == 6
        store.boots += 1; save();
#elif MISTAKE == 12
        if (store.pending) dead = 1;
#endif
    }
    if (cause == DW_RESET) {
#if MISTAKE == 15
        if (reset_ms && now - reset_ms < MINUTE) dead = 1;
#endif
        reset_ms = now;
    }
#if MISTAKE == 5
    if ((uint16_t)(now / MINUTE) >= (uint16_t)(beat_minute + 1440)) { beat_minute = (uint16_t)(now / MINUTE); dw_sleep_ms(CHECK_MS); }
#elif MISTAKE == 7
    if (now / WEEK != period && now / WEEK > period) { period = (uint32_t)(now / WEEK); back_ms += 2 * HOUR; now -= 2 * HOUR; }
#elif MISTAKE == 8
    if ((now + 21 * HOUR) / DAY != period) { period = (uint32_t)((now + 21 * HOUR) / DAY); gave_up(); open_checks = 0; }
#elif MISTAKE == 9
    if (now / WEEK != period) { period = (uint32_t)(now / WEEK); if (failures) gave_up(); }
#endif
    if (open && !was_open) {
        openings += 1; opened_ms = now;
        record(1);
#if MISTAKE == 10
        if (pending && ++waiting >= 3) gave_up();
#elif MISTAKE == 13
        if (openings > 100) skip = 1;
#endif
    }
    if (!open && was_open) {
        shut_ms = now; skip = skip == 2 ? 1 : 0;
        record(0);
#if MISTAKE == 20
        if (now / DAY > opened_ms / DAY + 1) dead = 1;
#endif
    }
    was_open = (uint8_t)open;
    if (!open) { open_checks = 0; cooling_down = 0; }
    else if (open_checks < THRESHOLD) open_checks += 1;
    if (cooling_down && now - delivered_ms >= COOLDOWN_MS) cooling_down = 0;
#if MISTAKE == 4
    if (ring.disabled) skip = 1;
#elif MISTAKE == 6
    if (store.boots >= 3) skip = 1;
#elif MISTAKE == 17
    if (delivered_ms && ((now / WEEK) & 3) < ((delivered_ms / WEEK) & 3)) skip = 1;
#endif
    if (open && open_checks >= THRESHOLD && !cooling_down && !pending && skip != 1) pending = 1;
    if (pending && !dead) send_pending(now);
    dw_sleep_ms(sleep_ms);
}
