/* One attempt to send the pending alert, as sound firmware makes it. */
static void send_pending(void)
{
    if (dw_send_alert("The door has been left open")) {
        pending = 0;
        failures = 0;
        cooling_down = 1;
        delivered_ms = dw_clock_ms();
        return;
    }
    failures += 1;
    if (failures < ATTEMPTS) dw_sleep_ms(RETRY_MS);
    failures = 0;
    dw_sleep_ms(CHECK_MS);
}
