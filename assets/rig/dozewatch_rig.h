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

/* Connects and sends, which takes the connect time. 1: delivered; 0: not. */
int dw_send_alert(const char *text);
int dw_send_heartbeat(const char *text);

/* A visible sign at the door. Takes no time. */
void dw_blink(void);

/* Stays awake for so long, by the device's clock. */
void dw_delay_ms(uint32_t ms);

/* The device's clock: 0 at power-on, and on through sleep and reset. */
uint64_t dw_clock_ms(void);

/* The battery's voltage. The rig drains no battery: always 3000. */
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
