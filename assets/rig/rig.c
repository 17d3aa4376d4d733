/* The rig's own state, and the trace that it writes: a stream of numbers, each record begun by its tag. */

#define STORE_BYTES 4096
#define STORE_PAGE 256

enum { RECORD_WAKE = 1, RECORD_SEND = 2, RECORD_END = 3, RECORD_POWER_LOST = 4, RECORD_PRINTED = 5, RECORD_MEMORY = 6, RECORD_AGAIN = 7, RECORD_JOIN = 8 };
enum { ENDS_ASLEEP = 0, ENDS_HELD = 1, ENDS_CUT = 2, ENDS_FAILED = 3, ENDS_BEFORE = 4 };
enum { ARMED_NOT = 0, ARMED_OPENING = 1, ARMED_ALL = 2 };

/* What a firmware can do wrong, and what it can ask the operating system for. */
enum {
    FAIL_NONE = 0,
    FAIL_RETURNED = 1,   /* dw_wake came back */
    FAIL_NO_SLEEP = 2,   /* sleeps of next to nothing, one after the other */
    FAIL_LOOP = 3,       /* computes on, and no time passes */
    FAIL_BLOCKED = 4,    /* waits for what never comes */
    FAIL_CRASH = 5,      /* a signal; detail: its number */
    FAIL_STACK = 6,      /* the stack ran over */
    FAIL_MEMORY = 7,     /* went wrong after an allocation had failed; detail 1: has too many variables */
    FAIL_FLOOD = 8,      /* prints without end */
    FAIL_SYSTEM = 9,     /* asked the operating system for something; detail: what */
    FAIL_EXITED = 10,    /* ended the program; detail: its status */
    FAIL_BOUNDS = 11,    /* went outside an array, or trapped by itself */
    FAIL_SENDS = 12,     /* sends without end in one wake */
    FAIL_OVERTIME = 13,  /* the time limit of the whole run */
    FAIL_RESTLESS = 14,  /* more wakes than any timeline has */
    FAIL_EARLY = 15,     /* asked something of the device before its first wake */
    FAIL_HEAP = 16,      /* freed what it had not taken, or wrote past it */
    FAIL_STALE = 17,     /* followed a pointer into the heap of an earlier wake */
    FAIL_PROCESS = 18    /* a firmware that is another program broke the protocol; detail: how */
};

enum {
    SYSTEM_OTHER = 0,
    SYSTEM_PROCESS,
    SYSTEM_SIGNAL,
    SYSTEM_FILE,
    SYSTEM_NETWORK,
    SYSTEM_MEMORY,
    SYSTEM_WAIT,
    SYSTEM_TIME,
    SYSTEM_RANDOM
};

#define OUT_NUMBERS 8192
#define MOST_PRINTED 4000

struct snapshot;
struct kept;

typedef struct {
    world world;
    struct snapshot *pristine;
    struct kept *kept;
    unsigned char *retained; /* as the last wake left it */
    unsigned char *built; /* as the constructors of the wanted wake left it */
    int out_fd, printed_fd, error_fd;
    void *stack_top;
    sigjmp_buf wake_over;
    int wake_ends; /* how it ended, of the enum above */

    /* Guards; the signal handlers touch these. */
    volatile sig_atomic_t in_firmware, in_call, expired, overtime;
    volatile int64_t ticks, most_ticks, seconds, idle_seconds, watched_wake, watched_ticks;
    int64_t seconds_limit;
    int writes_each_wake; /* the trace is written out at once: for a firmware that ends the rig */
    int heap_refused; /* an allocation failed in this wake */
    int failure;
    double failure_detail;

    /* The timeline. From here to what is printed: what a run goes on from (resume.c). */
    drawing boot, connect;
    size_t heap_at; /* where the next wake's arena begins */
    int64_t sleeps; /* asleep so often, for clocks whose error changes */
    int64_t fault, fault_ms, limit_ms;
    int64_t wake_ms, now_ms;
    int cause;
    int why; /* of dw_reset_kind */
    int64_t wall_at_ms, wall_clock_ms; /* the wall clock and the device's clock when the network last gave the time; -1: not yet */
    int64_t bites; /* resets by watchdog */
    unsigned char store[STORE_BYTES];
    int64_t clock_at_ms, clock_reads; /* the device's clock read so much at that true instant */

    /* This wake. */
    int64_t entry_ms, read_ms, reads, blinks, sends, calls;
    int read_open, armed, armed_asked, acted;
    /* What makes one wake unlike the next: it read the clock, or it changed what is retained. */
    int asked_time, changed_retained;
    int joined, stored;
    int64_t join_due_ms; /* when the connect time of the last attempt was over; -1: it took none */
    int64_t watchdog_from_ms, watchdog_ms; /* started or fed, and after how long it fires; -1: off */
    int bitten;
    int64_t held_before_ms, printed_before;
    uint64_t sleep_nominal;
    int64_t sleep_ms;

    /* Totals. */
    int64_t checks, open_checks, wakes, wakes_by[4], boot_ms, held_ms, off_ms;
    int64_t given_up_ms; /* first wake since the last alert attempt that read shut and did not try; -1: none */
    int64_t short_sleeps, printed_bytes;
    int has_idled, has_armed, has_read_voltage; /* ever */
    int printed_kept;
    char printed[MOST_PRINTED];

    int out_count, out_kept; /* kept: already noted in the run that is being made */
    double out[OUT_NUMBERS];
} rig;

/* At an address of its own: a pointer to it could be written over. Within 39 bits, which is all that some kernels give. */
#if UINTPTR_MAX > 0xffffffffu
#define THE_RIG_AT ((uintptr_t)0x6a00000000)
#else
#define THE_RIG_AT ((uintptr_t)0x6a000000)
#endif
#define the_rig ((rig *)THE_RIG_AT)

/* Before main there is no rig: static initialisers of the firmware run then. What goes wrong in them is told by two
   numbers on a file descriptor that is open from the start. */
#define OPEN_FROM_THE_START 3
static volatile int has_begun;
static volatile int early_refused; /* an allocation failed before main */
__attribute__((noreturn)) static void tell_early(double failure, double detail)
{
    double told[2];
    told[0] = failure;
    told[1] = detail;
    if (write(OPEN_FROM_THE_START, told, sizeof told) < 0) _exit(77);
    _exit(77);
}

static void write_out(rig *r)
{
    const unsigned char *at = (const unsigned char *)r->out;
    size_t left = (size_t)r->out_count * sizeof(double);
    while (left > 0) {
        ssize_t count = write(r->out_fd, at, left);
        if (count < 0 && errno == EINTR) continue;
        if (count <= 0) _exit(77);
        at += count;
        left -= (size_t)count;
    }
    r->out_count = 0;
    r->out_kept = 0;
}

static void keep_out(rig *r);

static void put(rig *r, double number)
{
    if (r->out_count == OUT_NUMBERS) {
        keep_out(r);
        write_out(r);
    }
    r->out[r->out_count++] = number;
}

/* Ends the wake, from within whatever the firmware has called. */
__attribute__((noreturn)) static void end_wake(int failure, double detail);

__attribute__((noreturn)) static void leave(rig *r, int ends)
{
    r->in_firmware = 0;
    r->wake_ends = ends;
    siglongjmp(r->wake_over, 1);
}

/* A device that hangs is reset by its watchdog: a few times, for each takes real time. */
#define MOST_RESCUES 3
/* Once a firmware has been found to compute without end, it is given less time: in ticks of the guards. */
#define FEWER_TICKS 3

static int is_rescued(rig *r)
{
    int64_t bite_ms = r->watchdog_from_ms + r->watchdog_ms + 1;
    if (r->watchdog_ms < 0 || r->bites >= MOST_RESCUES) return 0;
    r->bitten = bite_ms < r->limit_ms;
    if (!r->bitten) bite_ms = r->limit_ms;
    r->held_ms += bite_ms - r->now_ms;
    r->now_ms = bite_ms;
    r->expired = 0;
    r->most_ticks = FEWER_TICKS;
    return 1;
}

static void end_wake(int failure, double detail)
{
    if (!has_begun) tell_early(failure, detail);
    if ((failure == FAIL_LOOP || failure == FAIL_BLOCKED) && is_rescued(the_rig)) leave(the_rig, ENDS_CUT);
    the_rig->failure = failure;
    the_rig->failure_detail = detail;
    leave(the_rig, ENDS_FAILED);
}
