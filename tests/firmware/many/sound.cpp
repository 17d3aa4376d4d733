/* The timer-woken watch of timer.yaml in ten sound styles: -D MISTAKE=n (tests/rig/late.test.ts names them). */
#include "dozewatch_rig.h"
#include <vector>
#include <stddef.h>
#include <string.h>
#define CHECK 120000u
#define RETRY 60000u
#define COOL 600000u
#if MISTAKE == 1 /* whole seconds */
DW_RETAINED static uint32_t sent_s = 0; DW_RETAINED static uint8_t n = 0, pend = 0, fails = 0, cool = 0;
static uint32_t now_s() { return (uint32_t)(dw_clock_ms() / 1000); }
void dw_wake(dw_cause) {
  bool o = dw_contact_is_open();
  if (!o) { n = 0; cool = 0; } else if (n < 2) n++;
  if (cool && now_s() - sent_s >= 600) cool = 0;
  if (o && n >= 2 && !cool) pend = 1;
  if (pend) { if (dw_send_alert("x")) { pend = 0; fails = 0; cool = 1; sent_s = now_s(); } else if (++fails < 5) dw_sleep_ms(RETRY); else fails = 0; }
  dw_sleep_ms(CHECK);
}
#elif MISTAKE == 2 /* enum and bit fields */
enum class St : uint8_t { Shut, Once, Open };
struct Bits { unsigned state : 2; unsigned pend : 1; unsigned fails : 3; unsigned cool : 1; };
DW_RETAINED static Bits b = {0, 0, 0, 0}; DW_RETAINED static uint64_t at = 0;
void dw_wake(dw_cause) {
  bool o = dw_contact_is_open();
  if (!o) { b.state = (unsigned)St::Shut; b.cool = 0; } else if (b.state < 2) b.state = b.state + 1;
  if (b.cool && dw_clock_ms() - at >= COOL) b.cool = 0;
  if (o && b.state == (unsigned)St::Open && !b.cool) b.pend = 1;
  if (b.pend) { if (dw_send_alert("x")) { b.pend = 0; b.fails = 0; b.cool = 1; at = dw_clock_ms(); } else { b.fails = b.fails + 1; if (b.fails < 5) dw_sleep_ms(RETRY); b.fails = 0; } }
  dw_sleep_ms(CHECK);
}
#elif MISTAKE == 3 /* a class over noinit memory with a mark and a sum */
struct Kept { uint32_t mark; uint8_t n, pend, fails, cool; uint64_t at; uint32_t sum; };
DW_RETAINED_NOINIT static Kept kept;
class Monitor {
  Kept &k;
  uint32_t sum() const { uint32_t s = 2166136261u; const uint8_t *p = (const uint8_t *)&k; for (unsigned i = 0; i < offsetof(Kept, sum); i++) s = (s ^ p[i]) * 16777619u; return s; }
public:
  explicit Monitor(Kept &kept) : k(kept) { if (k.mark != 0x60053u || k.sum != sum()) { memset(&k, 0, sizeof k); k.mark = 0x60053u; } }
  void rest(uint64_t ms) { k.sum = sum(); dw_sleep_ms(ms); }
  void run() {
    bool o = dw_contact_is_open();
    if (!o) { k.n = 0; k.cool = 0; } else if (k.n < 2) k.n++;
    if (k.cool && dw_clock_ms() - k.at >= COOL) k.cool = 0;
    if (o && k.n >= 2 && !k.cool) k.pend = 1;
    k.sum = sum();
    if (k.pend) { if (dw_send_alert("x")) { k.pend = 0; k.fails = 0; k.cool = 1; k.at = dw_clock_ms(); } else if (++k.fails < 5) rest(RETRY); else k.fails = 0; }
    rest(CHECK);
  }
};
static Monitor monitor(kept);
void dw_wake(dw_cause) { monitor.run(); }
#elif MISTAKE == 4 /* 32-bit clock with wrap-safe differences */
DW_RETAINED static uint32_t at = 0; DW_RETAINED static uint8_t n = 0, pend = 0, fails = 0, cool = 0;
void dw_wake(dw_cause) {
  bool o = dw_contact_is_open(); uint32_t now = (uint32_t)dw_clock_ms();
  if (!o) { n = 0; cool = 0; } else if (n < 2) n++;
  if (cool && now - at >= COOL) cool = 0;
  if (o && n >= 2 && !cool) pend = 1;
  if (pend) { if (dw_send_alert("x")) { pend = 0; fails = 0; cool = 1; at = (uint32_t)dw_clock_ms(); } else if (++fails < 5) dw_sleep_ms(RETRY); else fails = 0; }
  dw_sleep_ms(CHECK);
}
#elif MISTAKE == 5 /* aligned to whole seconds of the clock */
DW_RETAINED static uint64_t at = 0; DW_RETAINED static uint8_t n = 0, pend = 0, fails = 0, cool = 0;
static void nap(uint32_t ms) { dw_sleep_ms(ms - dw_clock_ms() % 1000); }
void dw_wake(dw_cause) {
  bool o = dw_contact_is_open();
  if (!o) { n = 0; cool = 0; } else if (n < 2) n++;
  if (cool && dw_clock_ms() - at >= COOL) cool = 0;
  if (o && n >= 2 && !cool) pend = 1;
  if (pend) { if (dw_send_alert("x")) { pend = 0; fails = 0; cool = 1; at = dw_clock_ms(); } else if (++fails < 5) nap(RETRY); else fails = 0; }
  nap(CHECK);
}
#elif MISTAKE == 6 /* join and transmit, watchdog, state also in the store */
struct S { uint8_t n, pend, fails, cool; uint64_t at; };
DW_RETAINED static S s = {0, 0, 0, 0, 0};
void dw_wake(dw_cause c) {
  dw_watchdog_start(30000);
  if (c == DW_POWER_ON) { S old; dw_store_read(0, &old, sizeof old); if (old.pend == 1) s.pend = 1; }
  bool o = dw_contact_is_open();
  if (!o) { s.n = 0; s.cool = 0; } else if (s.n < 2) s.n++;
  if (s.cool && dw_clock_ms() - s.at >= COOL) s.cool = 0;
  if (o && s.n >= 2 && !s.cool && !s.pend) { s.pend = 1; dw_store_write(0, &s, sizeof s); }
  if (s.pend) {
    if (dw_join(2000) && dw_transmit_alert("x")) { s.pend = 0; s.fails = 0; s.cool = 1; s.at = dw_clock_ms(); dw_store_write(0, &s, sizeof s); }
    else if (++s.fails < 5) dw_sleep_ms(RETRY); else s.fails = 0;
  }
  dw_sleep_ms(CHECK);
}
#elif MISTAKE == 7 /* cooldown counted in wakes, remaining time */
DW_RETAINED static uint32_t left = 0; DW_RETAINED static uint8_t n = 0, pend = 0, fails = 0; DW_RETAINED static uint32_t slept = 0;
static void nap(uint32_t ms) { slept = ms + 400; dw_sleep_ms(ms); }
void dw_wake(dw_cause c) {
  bool o = dw_contact_is_open();
  if (c == DW_TIMER) left = left > slept ? left - slept : 0;
  if (!o) { n = 0; left = 0; } else if (n < 2) n++;
  if (o && n >= 2 && left == 0) pend = 1;
  if (pend) { if (dw_send_alert("x")) { pend = 0; fails = 0; left = COOL; } else if (++fails < 5) nap(RETRY); else fails = 0; }
  nap(CHECK);
}
#elif MISTAKE == 8 /* debounces, prints, heap in a wake */

DW_RETAINED static uint64_t at = 0; DW_RETAINED static uint8_t n = 0, pend = 0, fails = 0, cool = 0;
void dw_wake(dw_cause) {
  std::vector<int> seen; for (int i = 0; i < 5; i++) { seen.push_back(dw_contact_is_open()); dw_delay_ms(5); }
  int sum = 0; for (int one : seen) sum += one; bool o = sum >= 3;
  if (!o) { n = 0; cool = 0; } else if (n < 2) n++;
  if (cool && dw_clock_ms() - at >= COOL) cool = 0;
  if (o && n >= 2 && !cool) pend = 1;
  if (pend) { if (dw_send_alert("x")) { pend = 0; fails = 0; cool = 1; at = dw_clock_ms(); } else if (++fails < 5) dw_sleep_ms(RETRY); else fails = 0; }
  dw_sleep_ms(CHECK);
}
#elif MISTAKE == 9 /* wakes counted in 16 bits, harmlessly; float voltage */
DW_RETAINED static uint64_t at = 0; DW_RETAINED static uint8_t n = 0, pend = 0, fails = 0, cool = 0; DW_RETAINED static uint16_t wakes = 0; DW_RETAINED static float volts = 3.0f;
void dw_wake(dw_cause) {
  bool o = dw_contact_is_open(); wakes++; volts = 0.9f * volts + 0.0001f * (float)dw_battery_mv();
  if (!o) { n = 0; cool = 0; } else if (n < 2) n++;
  if (cool && dw_clock_ms() - at >= COOL) cool = 0;
  if (o && n >= 2 && !cool) pend = 1;
  if (pend) { if (dw_send_alert("x")) { pend = 0; fails = 0; cool = 1; at = dw_clock_ms(); } else if (++fails < 5) dw_sleep_ms(RETRY); else fails = 0; }
  dw_sleep_ms(CHECK);
}
#elif MISTAKE == 10 /* a shift register of readings */
DW_RETAINED static uint64_t at = 0; DW_RETAINED static uint8_t seen = 0, pend = 0, fails = 0, cool = 0;
void dw_wake(dw_cause) {
  seen = (uint8_t)(seen << 1 | (dw_contact_is_open() ? 1 : 0));
  if (!(seen & 1)) cool = 0;
  if (cool && dw_clock_ms() - at >= COOL) cool = 0;
  if ((seen & 3) == 3 && !cool) pend = 1;
  if (pend) { if (dw_send_alert("x")) { pend = 0; fails = 0; cool = 1; at = dw_clock_ms(); } else if (++fails < 5) dw_sleep_ms(RETRY); else fails = 0; }
  dw_sleep_ms(CHECK);
}
#endif
