/* Firmware that misbehaves: crashes, endless loops and calls to the operating system end the wake by a jump back into
   the rig, with a number for what happened. This guards against mistakes, not against malice. */

#define STACK_BYTES ((rlim_t)1 << 20)
/* Nothing else lies so near below a stack. */
#define BEYOND_STACK_BYTES ((size_t)64 << 20)
/* Of processor time in one wake, in ticks; and of waiting. */
#define TICK_US 100000
#define MOST_TICKS 15
#define MOST_IDLE_SECONDS 5

static void fail_from_signal(int failure, double detail)
{
    rig *r = the_rig;
    if (!has_begun) tell_early(failure == FAIL_NONE ? FAIL_CRASH : failure, detail);
    if (!r->in_firmware) {
        static const char words[] = "the rig itself went wrong\n";
        if (write(r->error_fd, words, sizeof words - 1) < 0) _exit(71);
        _exit(71);
    }
    end_wake(failure == FAIL_NONE ? FAIL_CRASH : failure, detail);
}

static void *early_stack_top;

static int has_refused(void) { return has_begun ? the_rig->heap_refused : early_refused; }

static int is_stack_overflow(const void *address)
{
    const unsigned char *at = address, *top = has_begun ? the_rig->stack_top : early_stack_top;
    size_t below = (size_t)(top - at);
    return at < top && below + 131072 > STACK_BYTES && below < STACK_BYTES + BEYOND_STACK_BYTES;
}

/* Whether a crash came of a pointer out of memory that was given back: the processor holds it in one of its registers. */
static int followed_freed(const void *context)
{
#if defined(__linux__) && (defined(__x86_64__) || defined(__aarch64__) || defined(__i386__))
    const ucontext_t *at = context;
    const uintptr_t near = 65536;
    uintptr_t freed;
    size_t index;
#if defined(__x86_64__)
    const greg_t *held = at->uc_mcontext.gregs;
    const size_t count = REG_RIP;
#elif defined(__i386__)
    const greg_t *held = at->uc_mcontext.gregs;
    const size_t count = REG_TRAPNO;
#else
    const unsigned long long *held = at->uc_mcontext.regs;
    const size_t count = 31;
#endif
    memset(&freed, HEAP_FREED, sizeof freed);
    for (index = 0; index < count; index += 1) {
        if ((uintptr_t)held[index] - freed + near < 2 * near) return 1;
    }
#else
    (void)context;
#endif
    return 0;
}

static void on_crash(int number, siginfo_t *info, void *context)
{
    if (number == SIGSEGV || number == SIGBUS) {
        if (has_begun && is_stale(info->si_addr)) fail_from_signal(FAIL_STALE, 0);
        if (followed_freed(context)) fail_from_signal(FAIL_HEAP, 0);
        if (is_stack_overflow(info->si_addr)) fail_from_signal(FAIL_STACK, 0);
        if (has_refused()) fail_from_signal(FAIL_MEMORY, 0);
    }
    if (number == SIGILL || number == SIGTRAP) fail_from_signal(FAIL_BOUNDS, 0);
    fail_from_signal(FAIL_CRASH, number);
}

/* Each tick of processor time. The rig's own calls are not cut in two: they look at `expired` when they are done. */
static void on_tick(int number)
{
    rig *r = the_rig;
    (void)number;
    if (!r->in_firmware) return;
    r->ticks += 1;
    if (r->ticks < r->most_ticks) return;
    if (r->in_call) r->expired = 1;
    else fail_from_signal(the_rig->heap_refused ? FAIL_MEMORY : FAIL_LOOP, 0);
}

static void on_second(int number)
{
    rig *r = the_rig;
    (void)number;
    r->seconds += 1;
    if (r->seconds_limit > 0 && r->seconds >= r->seconds_limit) r->overtime = 1;
    if (!r->in_firmware || r->wakes != r->watched_wake || r->ticks != r->watched_ticks) {
        r->watched_wake = r->wakes;
        r->watched_ticks = r->ticks;
        r->idle_seconds = 0;
        return;
    }
    r->idle_seconds += 1;
    if (r->idle_seconds >= MOST_IDLE_SECONDS && !r->in_call) fail_from_signal(FAIL_BLOCKED, 0);
}

#include "library.c"
#if !defined(__APPLE__)
#include "checked.c"
#endif
#include "filter.c"

static void handle(int number, void (*with)(int, siginfo_t *, void *))
{
    struct sigaction action;
    memset(&action, 0, sizeof action);
    action.sa_sigaction = with;
    action.sa_flags = SA_SIGINFO | SA_ONSTACK | SA_NODEFER;
    sigaction(number, &action, NULL);
}

static void handle_tick(int number, void (*with)(int))
{
    struct sigaction action;
    memset(&action, 0, sizeof action);
    action.sa_handler = with;
    action.sa_flags = SA_ONSTACK | SA_RESTART | SA_NODEFER;
    sigaction(number, &action, NULL);
}

#define OTHER_STACK_BYTES 65536

static void handle_crashes(void *other_stack)
{
    static const int crashes[] = {SIGSEGV, SIGBUS, SIGFPE, SIGILL, SIGTRAP, SIGABRT};
    struct rlimit stack, core = {0, 0};
    stack_t other;
    size_t index;
    getrlimit(RLIMIT_STACK, &stack);
    stack.rlim_cur = STACK_BYTES;
    setrlimit(RLIMIT_STACK, &stack);
    setrlimit(RLIMIT_CORE, &core);
    memset(&other, 0, sizeof other);
    other.ss_size = OTHER_STACK_BYTES;
    other.ss_sp = other_stack;
    sigaltstack(&other, NULL);
    for (index = 0; index < sizeof crashes / sizeof crashes[0]; index += 1) handle(crashes[index], on_crash);
#if defined(HAS_FILTER)
    handle(SIGSYS, on_refused);
    prctl(PR_SET_PDEATHSIG, SIGKILL);
#endif
}

static void on_early_tick(int number)
{
    (void)number;
    tell_early(early_refused ? FAIL_MEMORY : FAIL_LOOP, 0);
}

static int early_idle_seconds;
static int64_t early_used_us;

/* On a busy machine one that computes may come to little in a second: it waits only where it comes to nothing. */
static void on_early_second(int number)
{
    struct rusage used;
    int64_t used_us;
    (void)number;
    getrusage(RUSAGE_SELF, &used);
    used_us = (int64_t)(used.ru_utime.tv_sec + used.ru_stime.tv_sec) * 1000000 + used.ru_utime.tv_usec + used.ru_stime.tv_usec;
    early_idle_seconds = used_us - early_used_us < 5000 ? early_idle_seconds + 1 : 0;
    early_used_us = used_us;
    if (early_idle_seconds >= MOST_IDLE_SECONDS) tell_early(FAIL_BLOCKED, 0);
}

static struct snapshot *early_snapshot;

/* Ahead of the firmware's static initialisers, which come without a priority or with one of at least 101. */
__attribute__((constructor(101))) static void guard_initialisers(void)
{
    static const struct itimerval tick = {{0, 0}, {1, MOST_TICKS * TICK_US % 1000000}};
    static const struct itimerval second = {{1, 0}, {1, 0}};
    unsigned char here;
    early_stack_top = &here;
    if (has_too_many_variables()) tell_early(FAIL_MEMORY, 1);
    /* In pages of its own: static data is put back before each wake, which takes time. */
    handle_crashes(own_pages(OTHER_STACK_BYTES));
    handle_tick(SIGPROF, on_early_tick);
    handle_tick(SIGALRM, on_early_second);
    setitimer(ITIMER_PROF, &tick, NULL);
    setitimer(ITIMER_REAL, &second, NULL);
    open_heap();
    setvbuf(stdout, NULL, _IONBF, 0);
    setvbuf(stderr, NULL, _IONBF, 0);
#if !defined(__APPLE__)
    early_snapshot = take_snapshot();
#endif
#if defined(HAS_FILTER)
    refuse_calls(1);
#endif
}

static void set_guards(void)
{
    struct itimerval tick = {{0, TICK_US}, {0, TICK_US}}, second = {{1, 0}, {1, 0}};
    handle_crashes(own_pages(OTHER_STACK_BYTES));
    handle_tick(SIGPROF, on_tick);
    handle_tick(SIGALRM, on_second);
    signal(SIGPIPE, SIG_DFL);
    setitimer(ITIMER_PROF, &tick, NULL);
    setitimer(ITIMER_REAL, &second, NULL);
#if defined(HAS_FILTER)
    refuse_calls(0);
#endif
}
