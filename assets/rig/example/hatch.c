/* The hatch of a goose house, written for a board of the Marsh family, which is invented: twenty times a minute is too often to
   look, so it naps between looks. This file is as it runs on the board. */
#include "marsh.h"

#define NAP_SECONDS 120
#define RETRY_SECONDS 60
#define LOOKS 2
#define QUIET_SECONDS 1800
#define TRIES 5

MARSH_KEPT static struct {
    unsigned char looks;   /* that found it open, in a row */
    unsigned char unsent;  /* a call is due */
    unsigned char tries;
    unsigned char called;  /* there was a call, and it is quiet since */
    unsigned called_at;    /* seconds */
} kept;

static int hatch_is_open;

static void look(void)
{
    hatch_is_open = marsh_pin(3) == MARSH_HIGH;
    if (!hatch_is_open) {
        kept.looks = 0;
        kept.called = 0;
    } else if (kept.looks < LOOKS) {
        kept.looks += 1;
    }
    if (kept.called && marsh_seconds() - kept.called_at >= QUIET_SECONDS) kept.called = 0;
    if (kept.looks >= LOOKS && !kept.called) kept.unsent = 1;
}

static void call(void)
{
    if (marsh_radio_say("the hatch is open")) {
        kept.unsent = 0;
        kept.tries = 0;
        kept.called = 1;
        kept.called_at = marsh_seconds();
        return;
    }
    kept.tries += 1;
    if (kept.tries < TRIES) marsh_nap(RETRY_SECONDS);
    kept.tries = 0;
}

void setup(void)
{
    marsh_pin_is_input(3);
    look();
}

void loop(void)
{
    if (kept.unsent) call();
    marsh_lamp(hatch_is_open);
    marsh_nap(NAP_SECONDS);
}
