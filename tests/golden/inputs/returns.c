#include "dozewatch_rig.h"

void dw_wake(dw_cause cause)
{
    (void)cause;
    if (dw_contact_is_open()) return;
    dw_sleep_ms(60000);
}
