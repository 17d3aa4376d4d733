/* The settings of timer.yaml, and what is kept through sleep: the head of the firmware for that watch. */
#include "dozewatch_rig.h"

#define CHECK_MS 120000u
#define RECHECK_MS 120000u
#define RETRY_MS 60000u
#define COOLDOWN_MS 600000u
#define THRESHOLD 2
#define ATTEMPTS 5

#include "retained.h"
