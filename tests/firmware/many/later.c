/* The timer-woken watch of timer.yaml with one mistake each that shows only after days or weeks, most of them also only at some hours or after
   something else has happened: -D MISTAKE=n. `npm run soak:late` measures how many seeds of the default hunt find each of them. */
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
DW_RETAINED static uint8_t open_checks = 0, pending = 0, failures = 0, cooling_down = 0, was_open = 0, lost = 0;
DW_RETAINED static uint64_t delivered_ms = 0, opened_ms = 0, shut_ms = 0, week_seen = 0;
DW_RETAINED static uint32_t wakes = 0, openings = 0, since_quiet = 0, delivered = 0;
DW_RETAINED static int16_t wakes16 = 0;
DW_RETAINED static char diary[2400] = {0};
DW_RETAINED static uint16_t written = 0;

static void send_pending(uint64_t now)
{
    (void)now;
    if (dw_send_alert("open")) {
        pending = 0; failures = 0; cooling_down = 1; delivered += 1;
        delivered_ms = dw_clock_ms();
        return;
    }
#if MISTAKE == 11
    /* The list of what is to be sent again has room for two weeks. */
    if (now > 14 * DAY) { pending = 0; lost = 1; }
#endif
    failures += 1;
    if (failures < ATTEMPTS) dw_sleep_ms(RETRY_MS);
    failures = 0;
    dw_sleep_ms(CHECK_MS);
}

/* Whether the firmware overlooks that the door is open. */
static int is_deaf(uint64_t now)
{
    (void)now;
#if MISTAKE == 2
    return now % DAY >= 13 * HOUR && now % DAY < 14 * HOUR;
#elif MISTAKE == 3
    return wakes16 < 0;
#elif MISTAKE == 4
    return now > 30 * DAY && opened_ms % DAY >= 3 * HOUR && opened_ms % DAY < 4 * HOUR;
#elif MISTAKE == 5
    return now > 20 * DAY && now % DAY >= 17 * HOUR + 10 * MINUTE && now % DAY < 18 * HOUR + 40 * MINUTE;
#elif MISTAKE == 6
    return now % WEEK >= 100 * HOUR && now % WEEK < 101 * HOUR + 30 * MINUTE;
#elif MISTAKE == 7
    return since_quiet == 2;
#elif MISTAKE == 8
    return now - shut_ms < 15 * MINUTE + 45 * MINUTE && since_quiet == 2;
#elif MISTAKE == 9
    return opened_ms / WEEK != now / WEEK;
#elif MISTAKE == 10
    return delivered >= 60;
#elif MISTAKE == 12
    return cooling_down && (int32_t)((uint32_t)now - (uint32_t)delivered_ms) < 0;
#elif MISTAKE == 13
    return openings > 255 || (openings & 63) == 40;
#elif MISTAKE == 14
    return now > 10 * DAY && now % (2 * DAY) > 23 * HOUR && now % (2 * DAY) < 25 * HOUR;
#elif MISTAKE == 15
    return now > 50 * DAY && opened_ms - shut_ms < 20 * MINUTE;
#elif MISTAKE == 16
    return now > 35 * DAY && opened_ms - shut_ms > 3 * DAY;
#elif MISTAKE == 18
    return (now / DAY) % 31 == 30 && now % DAY > 20 * HOUR;
#elif MISTAKE == 19
    return now / 1000 % 32768 > 29000 && now > 5 * DAY;
#elif MISTAKE == 20
    return lost;
#else
    return 0;
#endif
}

void dw_wake(dw_cause cause)
{
    int open = dw_contact_is_open();
    uint64_t now = dw_clock_ms();
    (void)cause;
#if MISTAKE == 3
    wakes16 += 1;
#elif MISTAKE == 21 || MISTAKE == 22
    wakes += 1;
#endif
#if MISTAKE == 1
    if (open && now > DAY + 7 * HOUR) *(volatile int *)0 = 1;
#elif MISTAKE == 17
    if (open && !was_open) { memset(diary + written, 'o', 40); written += 40; }
#elif MISTAKE == 20
    if (cause == DW_RESET && now > 8 * DAY) lost = 1;
#elif MISTAKE == 21
    if (wakes % 5040 == 0) { open_checks = 0; pending = 0; cooling_down = 1; delivered_ms = now + 50 * MINUTE; }
#elif MISTAKE == 22
    if (wakes == 28800) dw_sleep_ms(26 * HOUR);
#elif MISTAKE == 23
    /* Longer and longer sleeps while nothing happens. */
    if (!open && now - shut_ms > 9 * DAY) dw_sleep_ms(90 * MINUTE);
#endif
    if (open && !was_open) {
        openings += 1;
        since_quiet = now - shut_ms > 3 * DAY ? 1 : since_quiet + 1;
        opened_ms = now;
    }
    if (!open && was_open) shut_ms = now;
    was_open = (uint8_t)open;
    if (!open) { open_checks = 0; cooling_down = 0; }
    else if (open_checks < THRESHOLD) open_checks += 1;
    if (cooling_down && now - delivered_ms >= COOLDOWN_MS && (int64_t)(now - delivered_ms) >= 0) cooling_down = 0;
    if (open && open_checks >= THRESHOLD && !cooling_down && !is_deaf(now)) pending = 1;
    if (pending) send_pending(now);
    dw_sleep_ms(CHECK_MS);
}
