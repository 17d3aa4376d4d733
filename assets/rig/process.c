/* A firmware that is another program, in whatever language: each wake is a line to it, and it asks in lines for what it
   needs (docs/rig.md). It reads from one pipe and writes to the other; what it retains is a line of text. */
#include "dozewatch_rig.h"
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* The ends that the rig opens before it starts this program. */
#define FROM_PROCESS 4
#define TO_PROCESS 5
#define MOST_LINE 12288
#define MOST_RETAINED 4096

/* Of the rig's host: ends the wake as one of a process that breaks the protocol. */
enum { PROCESS_ENDED = 1, PROCESS_UNKNOWN = 2, PROCESS_OUT_OF_TURN = 3, PROCESS_TOO_LONG = 4 };
void dw_process_failed(int how);

DW_RETAINED static char retained[MOST_RETAINED] = "";

static char line[MOST_LINE], answer[MOST_LINE];

static void say(const char *text)
{
    size_t left = strlen(text);
    while (left > 0) {
        ssize_t count = write(TO_PROCESS, text, left);
        if (count < 0 && errno == EINTR) continue;
        if (count <= 0) dw_process_failed(PROCESS_ENDED);
        text += count;
        left -= (size_t)count;
    }
}

/* The next line, without its end. It has to be alone: nobody asks before the last answer. */
static void hear(void)
{
    size_t had = 0;
    for (;;) {
        ssize_t count = read(FROM_PROCESS, line + had, MOST_LINE - 1 - had);
        char *end;
        if (count < 0 && errno == EINTR) continue;
        if (count <= 0) dw_process_failed(PROCESS_ENDED);
        had += (size_t)count;
        line[had] = '\0';
        end = memchr(line, '\n', had);
        if (end != NULL) {
            if (end + 1 != line + had) dw_process_failed(PROCESS_OUT_OF_TURN);
            *end = '\0';
            if (end > line && end[-1] == '\r') end[-1] = '\0';
            return;
        }
        if (had == MOST_LINE - 1) dw_process_failed(PROCESS_TOO_LONG);
    }
}

static void unknown(void)
{
    printf("the process asked for something unknown: %.200s\n", line);
    dw_process_failed(PROCESS_UNKNOWN);
}

/* What follows a word and a space; NULL: the line is another one. */
static const char *after(const char *word)
{
    size_t length = strlen(word);
    if (strncmp(line, word, length) != 0) return NULL;
    if (line[length] == '\0') return line + length;
    return line[length] == ' ' ? line + length + 1 : NULL;
}

static uint64_t number(const char **at)
{
    uint64_t value = 0;
    const char *from = *at;
    while (**at >= '0' && **at <= '9') {
        value = value * 10 + (uint64_t)(**at - '0');
        *at += 1;
    }
    if (*at == from || (**at != ' ' && **at != '\0')) unknown();
    if (**at == ' ') *at += 1;
    return value;
}

static void answer_with(const char *text)
{
    say(text);
    say("\n");
}

static void answer_number(long long value)
{
    snprintf(answer, sizeof answer, "%lld", value);
    answer_with(answer);
}

static int digit(char one)
{
    if (one >= '0' && one <= '9') return one - '0';
    if (one >= 'a' && one <= 'f') return one - 'a' + 10;
    return -1;
}

static void read_store(const char *rest)
{
    static unsigned char bytes[4096];
    uint32_t offset = (uint32_t)number(&rest), count = (uint32_t)number(&rest), index;
    if (count > sizeof bytes || !dw_store_read(offset, bytes, count)) {
        answer_with("failed");
        return;
    }
    for (index = 0; index < count; index += 1) snprintf(answer + 2 * index, 3, "%02x", bytes[index]);
    answer[2 * count] = '\0';
    answer_with(answer);
}

static void write_store(const char *rest)
{
    static unsigned char bytes[4096];
    uint32_t offset = (uint32_t)number(&rest), count = 0;
    for (; rest[0] != '\0'; rest += 2) {
        if (digit(rest[0]) < 0 || digit(rest[1]) < 0 || count == sizeof bytes) unknown();
        bytes[count++] = (unsigned char)(16 * digit(rest[0]) + digit(rest[1]));
    }
    answer_with(dw_store_write(offset, bytes, count) ? "ok" : "failed");
}

static void arm(const char *rest)
{
    if (strcmp(rest, "opening") == 0) dw_wake_on_opening(1);
    else if (strcmp(rest, "any-change") == 0) dw_wake_on_any_change(1);
    else unknown();
    answer_with("ok");
}

static void keep(const char *rest)
{
    if (strlen(rest) >= MOST_RETAINED) dw_process_failed(PROCESS_TOO_LONG);
    memset(retained, 0, sizeof retained);
    strcpy(retained, rest);
    answer_with("ok");
}

static void serve(void)
{
    static const char *const kinds[] = {"button", "watchdog", "software"};
    const char *rest;
    hear();
    if ((rest = after("contact"))) answer_with(dw_contact_is_open() ? "open" : "shut");
    else if ((rest = after("send"))) answer_with(dw_send_alert(rest) ? "delivered" : "failed");
    else if ((rest = after("heartbeat"))) answer_with(dw_send_heartbeat(rest) ? "delivered" : "failed");
    else if ((rest = after("low-battery"))) answer_with(dw_send_low_battery(rest) ? "delivered" : "failed");
    else if ((rest = after("join"))) answer_with(dw_join((uint32_t)number(&rest)) ? "joined" : "failed");
    else if ((rest = after("transmit"))) answer_with(dw_transmit_alert(rest) ? "delivered" : "failed");
    else if ((rest = after("clock"))) answer_number((long long)dw_clock_ms());
    else if ((rest = after("wall-clock"))) answer_number((long long)dw_wall_clock_ms());
    else if ((rest = after("battery"))) answer_number((long long)dw_battery_mv());
    else if ((rest = after("battery-low"))) answer_with(dw_battery_is_low() ? "yes" : "no");
    else if ((rest = after("why-reset"))) answer_with(kinds[dw_why_reset()]);
    else if ((rest = after("store-read"))) read_store(rest);
    else if ((rest = after("store-write"))) write_store(rest);
    else if ((rest = after("arm"))) arm(rest);
    else if ((rest = after("retain"))) keep(rest);
    else if ((rest = after("sleep"))) dw_sleep_ms(number(&rest));
    else if ((rest = after("idle"))) dw_idle_until_reset();
    else {
        if ((rest = after("delay"))) dw_delay_ms((uint32_t)number(&rest));
        else if ((rest = after("blink"))) dw_blink();
        else if ((rest = after("watchdog"))) dw_watchdog_start((uint32_t)number(&rest));
        else if ((rest = after("feed"))) dw_watchdog_feed();
        else unknown();
        answer_with("ok");
    }
}

void dw_wake(dw_cause cause)
{
    static const char *const causes[] = {"power-on", "reset", "timer", "contact"};
    say("wake ");
    say(causes[cause]);
    say(" ");
    answer_with(retained);
    for (;;) serve();
}
