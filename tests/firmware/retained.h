/* What the firmware here keeps through sleep. */
DW_RETAINED static uint8_t open_checks = 0;
DW_RETAINED static uint8_t pending = 0;
DW_RETAINED static uint8_t failures = 0;
DW_RETAINED static uint8_t cooling_down = 0;
DW_RETAINED static uint64_t delivered_ms = 0;
