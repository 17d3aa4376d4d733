/* The calls of the (invented) Marsh boards that hatch.c uses, by those of the rig. */
#include "dozewatch_rig.h"

#define MARSH_KEPT DW_RETAINED
#define MARSH_HIGH 1

static inline void marsh_pin_is_input(int pin) { (void)pin; }
static inline int marsh_pin(int pin) { return pin == 3 && dw_contact_is_open(); }
static inline unsigned marsh_seconds(void) { return (unsigned)(dw_clock_ms() / 1000u); }
static inline int marsh_radio_say(const char *text) { return dw_send_alert(text); }
static inline void marsh_nap(unsigned seconds) { dw_sleep_ms(1000ull * seconds); }
static inline void marsh_lamp(int on)
{
    if (on) dw_blink();
}
