/* What a firmware may ask of the world, in the rig and, through a page of its owner's own glue, on the device.
   C99, and C++. The rig calls dw_wake once for each wake; all else the firmware calls. */
#ifndef DOZEWATCH_RIG_H
#define DOZEWATCH_RIG_H

#include <stdint.h>

#ifdef __cplusplus
extern "C" {
#endif

/* Before a variable: it survives sleep, and takes its initial value again when power returns; after a reset it is kept, or
   takes it again, as device.reset in the watch file says. */
#if defined(__APPLE__)
#define DW_RETAINED __attribute__((used, section("__DATA,dw_retained")))
#define DW_RETAINED_NOINIT __attribute__((used, section("__DATA,dw_noinit")))
#else
#define DW_RETAINED __attribute__((used, section("dw_retained")))
#define DW_RETAINED_NOINIT __attribute__((used, section("dw_noinit")))
#endif
/* DW_RETAINED_NOINIT is retained as well, but nothing sets it at power-on: it holds garbage then, or what it held before a short
   power loss. Give such a variable no initial value, and check that what it holds makes sense. */

#if defined(__cplusplus)
#define DW_NORETURN [[noreturn]]
#elif defined(__STDC_VERSION__) && __STDC_VERSION__ >= 201112L
#define DW_NORETURN _Noreturn
#else
#define DW_NORETURN __attribute__((noreturn))
#endif

/* Why the device woke. */
typedef enum {
    DW_POWER_ON = 0, /* power came (back): nothing is remembered */
    DW_RESET = 1,    /* somebody, or a watchdog, reset it */
    DW_TIMER = 2,    /* the sleep is over */
    DW_CONTACT = 3   /* an armed contact edge came before the sleep was over */
} dw_cause;

/* Written by the firmware's owner: one wake. It ends in dw_sleep_ms or dw_idle_until_reset, and never returns. */
void dw_wake(dw_cause cause);

/* 1: the contact reads open at this instant; 0: shut. */
int dw_contact_is_open(void);

/* Of a wake with DW_RESET: what reset the device. */
typedef enum {
    DW_RESET_BUTTON = 0,
    DW_RESET_WATCHDOG = 1,
    DW_RESET_SOFTWARE = 2
} dw_reset_kind;
dw_reset_kind dw_why_reset(void);

/* Connects and sends, which takes the connect time: dw_join and dw_transmit_alert in one. 1: delivered; 0: not. */
int dw_send_alert(const char *text);
int dw_send_heartbeat(const char *text);
/* The same for a low-battery message; where the wake has joined already, as after an alert, it takes no time. */
int dw_send_low_battery(const char *text);

/* The same in two parts. Joining takes the connect time, and then waits for the network up to wait_ms. 1: joined, until the wake ends.
   Transmitting takes no time, and fails without a network. 1: delivered. */
int dw_join(uint32_t wait_ms);
int dw_transmit_alert(const char *text);

/* A store of 4096 bytes, 0xff at first, that survives power loss and reset. 1: done; 0: out of range, and nothing was done. Writing takes 5 ms
   for each page of 256 bytes that it touches, one after the other. A power loss leaves some of the leading new bytes in the page being written. */
int dw_store_read(uint32_t offset, void *to, uint32_t bytes);
int dw_store_write(uint32_t offset, const void *from, uint32_t bytes);

/* Milliseconds since 1970, UTC, by the network's time; -1 until something was joined or sent with success since power-on, and in a timeline
   that has no start instant. */
int64_t dw_wall_clock_ms(void);

/* Off at each wake. Once started, it resets the device when more than `ms` pass awake since then or since it was last fed. */
void dw_watchdog_start(uint32_t ms);
void dw_watchdog_feed(void);

/* A visible sign at the door. Takes no time. */
void dw_blink(void);

/* Stays awake for so long, by the device's clock. */
void dw_delay_ms(uint32_t ms);

/* The device's clock: 0 at power-on, and on through sleep and reset. */
uint64_t dw_clock_ms(void);

/* 1: the battery is low, as watch.lowBattery in the watch file says; 0: it is not, or the file does not say. */
int dw_battery_is_low(void);

/* The voltage of the battery at rest, in mV, rounded up. It falls with the charge along the curve of the watch file's supply;
   without a curve it is always 3000. */
uint32_t dw_battery_mv(void);

/* Armed, a contact edge also ends the next sleep, and only that one: it is armed anew in each wake. The first is for
   edges from shut to open, the second for all edges. */
void dw_wake_on_opening(int armed);
void dw_wake_on_any_change(int armed);

/* Sleeps for so long by the device's clock, and wakes from scratch. */
DW_NORETURN void dw_sleep_ms(uint64_t ms);

/* Stays awake, doing nothing, until somebody resets the device. */
DW_NORETURN void dw_idle_until_reset(void);

#ifdef __cplusplus
}
#endif

#endif
