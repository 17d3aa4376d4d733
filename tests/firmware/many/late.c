/* The timer-woken watch of timer.yaml with one mistake each that shows late: -D MISTAKE=n (tests/rig/late.test.ts names them). */
#include "dozewatch_rig.h"
#define CHECK_MS 120000u
#define RETRY_MS 60000u
#define COOLDOWN_MS 600000u
#define THRESHOLD 2
#define ATTEMPTS 5
#define HOUR 3600000ull
#define DAY (24 * HOUR)
DW_RETAINED static uint8_t open_checks = 0, pending = 0, failures = 0, cooling_down = 0;
DW_RETAINED static uint64_t delivered_ms = 0;
DW_RETAINED static uint32_t wakes32 = 0, next32 = 0;
DW_RETAINED static int16_t wakes16 = 0;
DW_RETAINED static uint8_t wakes8 = 0;
DW_RETAINED static int32_t next_s32 = 0;
DW_RETAINED static uint32_t total = 0, week = 0, month = 0, was_open = 0, polarity = 0, last_us = 0, sent_once = 0;
DW_RETAINED static uint64_t last_open_ms = 0;
DW_RETAINED static uint8_t log_[24] = {0};
DW_RETAINED static uint8_t logged = 0;
DW_RETAINED static uint8_t per_day[30] = {0};
DW_RETAINED static uint16_t left_s = 0;

static void send_pending(void)
{
    if (dw_send_alert("open")) {
        pending = 0; failures = 0; cooling_down = 1; sent_once = 1;
        delivered_ms = dw_clock_ms();
        next32 = (uint32_t)dw_clock_ms() + COOLDOWN_MS;
        next_s32 = (int32_t)(uint32_t)dw_clock_ms() + (int32_t)COOLDOWN_MS;
        left_s = 600;
        last_us = (uint32_t)(dw_clock_ms() * 1000u);
#if MISTAKE == 13
        { volatile uint8_t *at = log_; at[logged] = 1; logged += 1; }
        if (logged > 20) pending = 7;
#endif
        return;
    }
    failures += 1;
#if MISTAKE == 14
    dw_sleep_ms((uint64_t)RETRY_MS << failures);
#endif
    if (failures < ATTEMPTS) dw_sleep_ms(RETRY_MS);
    failures = 0;
    dw_sleep_ms(CHECK_MS);
}
static int deaf(uint64_t now)
{
    (void)now;
#if MISTAKE == 3
    return wakes16 < 0;
#elif MISTAKE == 6
    return sent_once && (int32_t)(uint32_t)now < next_s32;
#elif MISTAKE == 7
    return sent_once && (uint32_t)now < next32;
#elif MISTAKE == 10
    return now % DAY < HOUR * 1;
#elif MISTAKE == 16
    return sent_once && (uint32_t)(now * 1000u) < last_us;
#elif MISTAKE == 20
    return total >= 100;
#elif MISTAKE == 22
    return now % DAY > 22 * HOUR || now % DAY < 6 * HOUR;
#elif MISTAKE == 24
    return (int16_t)(now / 60000u) < 0;
#elif MISTAKE == 25
    return sent_once && (uint16_t)(now / 60000u) < (uint16_t)(delivered_ms / 60000u + 10);
#elif MISTAKE == 30
    return now > 30 * DAY && sent_once;
#elif MISTAKE == 31
    return now / DAY == 50;
#elif MISTAKE == 32
    return now % (7 * DAY) > 51 * HOUR && now % (7 * DAY) < 53 * HOUR;
#elif MISTAKE == 33
    return now > 58 * DAY;
#elif MISTAKE == 35
    return sent_once && (uint8_t)(now / HOUR) < (uint8_t)(delivered_ms / HOUR);
#elif MISTAKE == 36
    return left_s > 600;
#else
    return 0;
#endif
}
void dw_wake(dw_cause cause)
{
    int open = dw_contact_is_open();
    uint64_t now = dw_clock_ms();
    (void)cause;
    wakes32 += 1; wakes16 += 1; wakes8 += 1;
#if MISTAKE == 1
    if (open && now > DAY) *(volatile int *)0 = 1;
#elif MISTAKE == 2
    if (open && now > 3 * DAY) *(volatile int *)0 = 1;
#elif MISTAKE == 9
    if (now / (7 * DAY) != week) { week = (uint32_t)(now / (7 * DAY)); open_checks = 0; pending = 0; failures = 0; cooling_down = 0; }
#elif MISTAKE == 11
    per_day[now / DAY] += 1;
#elif MISTAKE == 15
    if (now > 10 * DAY && total == 0) dw_idle_until_reset();
#elif MISTAKE == 17
    if (open && now > 40 * DAY) for (;;) { }
#elif MISTAKE == 19
    if (open && now > 45 * DAY) return;
#elif MISTAKE == 21
    if (now / (30 * DAY) != month) { month = (uint32_t)(now / (30 * DAY)); polarity = (uint32_t)open; }
#elif MISTAKE == 36
    if (left_s) left_s = (uint16_t)(left_s - (failures ? 60 : 121));
#elif MISTAKE == 37
    if (wakes32 % 20000 == 0) { open_checks = 0; pending = 0; dw_sleep_ms(2 * HOUR); }
#elif MISTAKE == 38
    if (wakes32 == 32768) dw_idle_until_reset();
#elif MISTAKE == 39
    if (!open && now - last_open_ms > 5 * DAY) dw_sleep_ms(4 * HOUR);
#endif
    open ^= (int)polarity;
    if (open) last_open_ms = now;
    if (open && !was_open) total += 1;
    was_open = (uint32_t)open;
    if (!open) { open_checks = 0; cooling_down = 0; }
    else if (open_checks < THRESHOLD) open_checks += 1;
    if (cooling_down && dw_clock_ms() - delivered_ms >= COOLDOWN_MS) cooling_down = 0;
    if (open && open_checks >= THRESHOLD && !cooling_down && !deaf(now)) pending = 1;
    if (pending) send_pending();
    dw_sleep_ms(CHECK_MS);
}
