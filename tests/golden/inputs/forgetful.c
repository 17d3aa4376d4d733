#include "dozewatch_rig.h"

/* It sends once and never tries again. */
DW_RETAINED static int open_checks = 0;

void dw_wake(dw_cause cause)
{
    (void)cause;
    if (!dw_contact_is_open()) {
        open_checks = 0;
    } else {
        open_checks += 1;
        if (open_checks == 2) dw_send_alert("the hatch is open");
    }
    dw_sleep_ms(120000);
}
