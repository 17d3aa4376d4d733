#include "dozewatch_rig.h"

static int open_checks; /* ordinary memory: gone with each sleep */

void dw_wake(dw_cause cause)
{
    (void)cause;
    if (dw_contact_is_open()) open_checks += 1;
    if (open_checks >= 2) dw_send_alert("open");
    dw_sleep_ms(120000);
}
