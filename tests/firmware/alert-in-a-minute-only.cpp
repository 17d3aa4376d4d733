/* Mistake: a class that alerts while its minutes are just past the limit, and never after. Watch: timer.yaml. */
#include "dozewatch_rig.h"

#include <algorithm>
#include <array>
#include <string>

namespace {

struct Kept {
    std::array<uint8_t, 4> last;
    uint8_t minutes;
};

DW_RETAINED Kept kept{};

class Monitor {
  public:
    Monitor() : open_(dw_contact_is_open() != 0) {}

    void watch() const
    {
        std::rotate(kept.last.begin(), kept.last.begin() + 1, kept.last.end());
        kept.last.back() = open_ ? 1 : 0;
        kept.minutes = static_cast<uint8_t>(open_ ? kept.minutes + 2 : 0);
        if (std::count(kept.last.begin(), kept.last.end(), 1) >= 2 && kept.minutes >= 4 && kept.minutes < 6) {
            const std::string text = "the geese are out since " + std::to_string(kept.minutes) + " min";
            dw_send_alert(text.c_str());
        }
    }

  private:
    bool open_;
};

}  // namespace

void dw_wake(dw_cause)
{
    Monitor().watch();
    dw_sleep_ms(120000);
}
