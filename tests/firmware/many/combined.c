/* The timer-woken watch of timer.yaml with one mistake each that shows only after a certain combination of events: -D MISTAKE=n; with
   -D AFTER=n only after a number of days. `npm run soak:late` measures how many seeds of the default hunt find each of them.
    1 gives up on an outage          2 the third reset               3 a reset while an alert is pending  4 each week, the pending alert
    5 cooldown from the decision     6 twenty failures in a row      7 failures are never cleared         8 failures are added up
    9 a reset within a cooldown     10 the same, alerts again       11 two resets within an hour         12 a reset during a send
   13 a reset while it is open      14 a reset after three failures 15 a reset between two open checks   16 a reset after the door shut, alert pending
   17 two resets and a failure      18 the third power-on           19 the fifth boot                    20 a power loss after ten days
   21 each day, the pending alert   22 each week, everything        23 open over midnight                24 an alert after a day of rest, in an outage
   25 the second outage             26 an outage at a repeat        27 the last retry, door shut         28 an outage hours after another
   29 a failure with the door shut  30 half an hour without network 31 the first opening in two weeks    32 twenty brief visits in a row
   33 four brief visits in a row    34 an opening after a late send 35 forty alerts                      36 eight alerts in a day
   37 open again, alert pending     38 open again within minutes    39 open for more than a day          40 open for twelve repeats
   41 power lost during a send      42 power lost during a write    43 a write over two pages            44, 45 garbage in retained memory
   46 open for three repeats        47 shut, alert pending          48 open at power-on                  49 a repeat never returns
   51 the last minutes of an hour   52 longer sleeps after two weeks 54 a cooldown in 16 bits of seconds */
#include "dozewatch_rig.h"
#include <string.h>
#ifndef AFTER
#define AFTER 0
#endif
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
DW_RETAINED static uint8_t sending = 0, resets = 0, outages = 0, brief = 0, repeats = 0, sent_shut = 0, in_row = 0, day_alerts = 0;
DW_RETAINED static uint64_t delivered_ms = 0, decided_ms = 0, opened_ms = 0, shut_ms = 0, reset_ms = 0, failed_ms = 0;
DW_RETAINED static uint32_t openings = 0, delivered = 0, failed = 0, day = 0;
DW_RETAINED_NOINIT static uint32_t noinit_mark;
DW_RETAINED_NOINIT static uint32_t noinit_dead;

static struct { uint8_t boots, sending, state, sum; uint32_t days; } store;

static int is_late(uint64_t now) { return now >= AFTER * DAY; }

static void save(void) { store.sum = (uint8_t)(store.boots + store.state); dw_store_write(0, &store, sizeof store); }

static void gave_up(void) { pending = 0; failures = 0; }

static void send_pending(uint64_t now)
{
    int late = is_late(now), ok;
    (void)late;
    sending = 1;
#if MISTAKE == 41
    store.sending = 1; save();
#endif
    ok = dw_send_alert("open");
    sending = 0;
#if MISTAKE == 41
    store.sending = 0; save();
#elif MISTAKE == 42
    if (ok) { store.state = 2; save(); store.state = 1; save(); }
#elif MISTAKE == 43
    if (ok && late) { uint8_t two[2] = {1, 1}; dw_store_write(255, two, 2); two[0] = two[1] = 0; dw_store_write(255, two, 2); }
#endif
    if (ok) {
#if MISTAKE == 25
        if (failures) outages += 1;
#endif
        pending = 0; cooling_down = 1; delivered += 1; repeats += 1; day_alerts += 1;
#if MISTAKE != 7
        failures = 0;
#endif
        if (!was_open) sent_shut = 1;
#if MISTAKE == 5
        delivered_ms = late ? decided_ms : dw_clock_ms();
#else
        delivered_ms = dw_clock_ms();
#endif
        in_row = 0;
        return;
    }
    failures += 1; failed += 1; in_row += 1;
#if MISTAKE == 1
    if (late) gave_up();
#elif MISTAKE == 6
    if (in_row > 20 && late) gave_up();
#elif MISTAKE == 7
    if (failures > 8 && late) { pending = 0; }
#elif MISTAKE == 8
    if (failed > 45 && late) gave_up();
#elif MISTAKE == 24
    if (now - delivered_ms > DAY && delivered_ms && late) gave_up();
#elif MISTAKE == 25
    if (outages > 0 && late) gave_up();
#elif MISTAKE == 26
    if (repeats > 0 && was_open && late) gave_up();
#elif MISTAKE == 27
    if (failures == ATTEMPTS && !was_open && late) gave_up();
#elif MISTAKE == 28
    if (failed_ms && now - failed_ms > HOUR && now - failed_ms < 12 * HOUR && late) gave_up();
#elif MISTAKE == 29
    if (!was_open && late) dead = 1;
#endif
    failed_ms = now;
#if MISTAKE == 30
    if (in_row > 30 && late) { in_row = 0; dw_sleep_ms(6 * HOUR); }
#endif
#if MISTAKE == 7
    if (failures % ATTEMPTS) dw_sleep_ms(RETRY_MS);
#else
    if (failures < ATTEMPTS) dw_sleep_ms(RETRY_MS);
    failures = 0;
#endif
    dw_sleep_ms(CHECK_MS);
}

void dw_wake(dw_cause cause)
{
    int open = dw_contact_is_open();
    uint64_t now = dw_clock_ms();
    int late = is_late(now);
    (void)late;
    dw_store_read(0, &store, sizeof store);
    if (store.boots == 0xff) memset(&store, 0, sizeof store);
    if (cause == DW_RESET) {
        resets += 1;
#if MISTAKE == 2
        if (resets >= 3 && late) dead = 1;
#elif MISTAKE == 3
        if (pending && late) gave_up();
#elif MISTAKE == 9
        if (cooling_down && late) { cooling_down = 1; delivered_ms = now + 30 * DAY; }
#elif MISTAKE == 10
        if (cooling_down && late) cooling_down = 0;
#elif MISTAKE == 11
        if (reset_ms && now - reset_ms < HOUR && late) dead = 1;
#elif MISTAKE == 12
        if (sending && late) dead = 1;
#elif MISTAKE == 13
        if (open && late) skip = 1;
#elif MISTAKE == 14
        if (failures >= 3 && late) dead = 1;
#elif MISTAKE == 15
        if (open_checks == 1 && late) skip = 1;
#elif MISTAKE == 16
        if (!open && pending && late) gave_up();
#elif MISTAKE == 17
        if (resets == 2 && failed > 0 && late) dead = 1;
#endif
        reset_ms = now;
    }
#if MISTAKE == 12
    sending = 0;
#elif MISTAKE == 18 || MISTAKE == 19 || MISTAKE == 41
    if (cause == DW_POWER_ON) { store.boots += 1; save(); }
    if (cause == DW_RESET && MISTAKE == 19) { store.boots += 1; save(); }
    if (MISTAKE == 18 && store.boots >= 3) dead = 1;
    if (MISTAKE == 19 && store.boots >= 5) dead = 1;
    if (MISTAKE == 41 && store.sending) dead = 1;
#elif MISTAKE == 20
    if (store.days != now / DAY && cause != DW_POWER_ON) { store.days += 1; save(); }
    if (cause == DW_POWER_ON && store.days > 10) dead = 1;
#elif MISTAKE == 42
    if (store.state == 2) dead = 1;
#elif MISTAKE == 43
    { uint8_t two[2]; dw_store_read(255, two, 2); if (two[0] != two[1]) dead = 1; }
#elif MISTAKE == 44
    if (cause == DW_POWER_ON && noinit_mark != 0) { noinit_dead = 0; noinit_mark = 0x600d; }
    if ((noinit_dead & 0xff) != 0) dead = 1;
#elif MISTAKE == 45
    if (cause == DW_POWER_ON && noinit_mark != 0xffffffffu) { noinit_dead = 0; noinit_mark = 0x600d; }
    if ((noinit_dead & 0xff) != 0) dead = 1;
#endif
    if (now / DAY != day) {
        day = (uint32_t)(now / DAY); day_alerts = 0;
#if MISTAKE == 4
        if (day % 7 == 0) gave_up();
#elif MISTAKE == 21
        gave_up();
#elif MISTAKE == 22
        if (day % 7 == 0) { open_checks = 0; pending = 0; failures = 0; cooling_down = 0; }
#elif MISTAKE == 23
        if (open && late) skip = 1;
#endif
    }
    if (open && !was_open) {
        openings += 1; repeats = 0;
#if MISTAKE == 31
        if (now - shut_ms > 14 * DAY) skip = 1;
#elif MISTAKE == 32
        if (brief >= 20) skip = 1;
#elif MISTAKE == 33
        if (brief >= 4 && late) skip = 1;
#elif MISTAKE == 34
        if (sent_shut && late) skip = 1;
#elif MISTAKE == 35
        if (delivered >= 40) skip = 1;
#elif MISTAKE == 36
        if (day_alerts >= 8 && late) skip = 1;
#elif MISTAKE == 37
        if (pending && late) gave_up();
#elif MISTAKE == 38
        if (now - shut_ms < 4 * MINUTE && late) skip = 1;
#endif
        sent_shut = 0;
        opened_ms = now;
    }
    if (!open && was_open) {
        shut_ms = now; skip = 0;
        brief = open_checks < THRESHOLD ? brief + 1 : 0;
#if MISTAKE == 39
        if (now - opened_ms > DAY) dead = 1;
#elif MISTAKE == 40
        if (repeats > 12) dead = 1;
#elif MISTAKE == 46
        if (repeats > 3 && late) dead = 1;
#elif MISTAKE == 47
        if (pending && late) gave_up();
#endif
    }
    was_open = (uint8_t)open;
#if MISTAKE == 48
    if (cause == DW_POWER_ON && open) skip = 1;
#elif MISTAKE == 49
    if (open && repeats > 0 && late && now - delivered_ms > COOLDOWN_MS) for (;;) { }
#elif MISTAKE == 51
    if (open && open_checks == 1 && now % HOUR > 58 * MINUTE && late) skip = 1;
#elif MISTAKE == 52
    if (!open && now - shut_ms > 14 * DAY) dw_sleep_ms(4 * HOUR);
#endif
    if (!open) { open_checks = 0; cooling_down = 0; }
    else if (open_checks < THRESHOLD) open_checks += 1;
#if MISTAKE == 54
    if (cooling_down && (uint16_t)(now / 1000) >= (uint16_t)(delivered_ms / 1000 + 600)) cooling_down = 0;
#else
    if (cooling_down && (int64_t)(now - delivered_ms) >= (int64_t)COOLDOWN_MS) cooling_down = 0;
#endif
    if (open && open_checks >= THRESHOLD && !cooling_down && !pending && !skip) {
        pending = 1; decided_ms = now;
    }
    if (pending && !dead) send_pending(now);
    dw_sleep_ms(CHECK_MS);
}
