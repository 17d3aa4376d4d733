/* Mistake: all flags in one word, and the tries in two bits of it: the fourth failure clears the unsent alert. Watch: timer.yaml. */
#include "dozewatch_rig.h"

#define TRIES 0x03u
#define UNSENT 0x04u
#define SEEN_OPEN 0x08u
#define TOLD 0x10u

DW_RETAINED static uint32_t word;

void dw_wake(dw_cause cause)
{
    if (!dw_contact_is_open()) {
        word &= ~(SEEN_OPEN | TOLD);
    } else {
        if ((word & SEEN_OPEN) != 0 && (word & TOLD) == 0 && (word & UNSENT) == 0) word |= UNSENT | TOLD;
        word |= SEEN_OPEN;
    }
    if ((word & UNSENT) == 0) dw_sleep_ms(120000);
    if (dw_send_alert("the drying room is open")) {
        word &= ~(UNSENT | TRIES);
        dw_sleep_ms(120000);
    }
    /* The carry out of the tries clears the flag above them. */
    word = (word & ~(TRIES | UNSENT)) | (((word & (TRIES | UNSENT)) + 1) & (TRIES | UNSENT));
    dw_sleep_ms(60000);
}
