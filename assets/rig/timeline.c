/* One device through one timeline, from wake to wake. */

/* Sleeps of less than this, one straight after the other: the device does not rest. */
#define REST_MS 10
#define MOST_SHORT_SLEEPS 1000
#define MOST_WAKES 50000000
/* A full pipe takes no more, and a page of it may have a little room to spare. */
#define PIPE_FULL 60000
/* A firmware that never stopped and printed as much as this was printing. */
#define MUCH_PRINTED 3000

static uint64_t mixed(uint64_t *state)
{
    uint64_t z = (*state += UINT64_C(0x9e3779b97f4a7c15));
    z = (z ^ (z >> 30)) * UINT64_C(0xbf58476d1ce4e5b9);
    z = (z ^ (z >> 27)) * UINT64_C(0x94d049bb133111eb);
    return z ^ (z >> 31);
}

/* What memory holds that nothing has set since the power came: mostly anything, now and then all zeros or all ones. Drawn by the
   seed and the instant, so that a timeline that differs elsewhere meets the same. The first time it is anything. */
static void fill_with_garbage(rig *r, int64_t ms)
{
    unsigned char *at = r->retained + set_bytes();
    uint64_t state = (uint64_t)ms ^ ((uint64_t)r->world.garbage_seed << 32), drawn = mixed(&state);
    size_t index;
    int kind = ms == r->world.first_boot_ms ? 0 : (int)(drawn >> 62);
    for (index = 0; index < own_noinit_bytes(); index += 1) {
        if (kind == 2) at[index] = 0;
        else if (kind == 3) at[index] = 0xff;
        else at[index] = (unsigned char)(mixed(&state) >> 56);
    }
    memset(at + (noinit_guard - noinit_start), GUARD, GUARD_BYTES);
}

/* What is set at power-on is set; the rest of what is retained is lost unless the power was away for too short a time. */
static void clear_retained(rig *r, int64_t ms, int64_t away_ms)
{
    memcpy(r->retained, r->pristine->retained, set_bytes());
    if (away_ms >= r->world.noinit_keeps_ms) fill_with_garbage(r, ms);
    r->given_up_ms = -1;
}

static void power_on(rig *r, int64_t ms, int64_t away_ms)
{
    clear_retained(r, ms, away_ms);
    r->clock_at_ms = ms;
    r->clock_reads = r->world.clock_starts_ms;
    r->wall_at_ms = -1;
    r->cause = DW_POWER_ON;
}

/* The next fault strikes, and sets up the wake after it. False when the timeline is over. */
static int take_fault(rig *r)
{
    int64_t at_ms = r->fault_ms, back_ms;
    int clears;
    if (at_ms >= r->world.length_ms) return 0;
    back_ms = whole(r->world.fault_back.at[r->fault]);
    clears = r->world.fault_clears.at[r->fault] != 0;
    r->why = r->fault < r->world.fault_kind.count ? (int)r->world.fault_kind.at[r->fault] : DW_RESET_BUTTON;
    set_fault(r, r->fault + 1);
    r->wake_ms = back_ms;
    r->cause = DW_RESET;
    if (clears) {
        put(r, RECORD_POWER_LOST);
        put(r, (double)at_ms);
        if (back_ms == at_ms) clear_retained(r, at_ms, 0);
    }
    if (back_ms > at_ms) {
        r->off_ms += (back_ms < r->world.length_ms ? back_ms : r->world.length_ms) - at_ms;
        power_on(r, back_ms, back_ms - at_ms);
    }
    return back_ms < r->world.length_ms;
}

/* The watchdog has reset the device. */
static int take_bite(rig *r)
{
    r->bites += 1;
    r->wake_ms = r->now_ms;
    r->cause = DW_RESET;
    r->why = DW_RESET_WATCHDOG;
    if (r->world.watchdog_clears) {
        put(r, RECORD_POWER_LOST);
        put(r, (double)r->now_ms);
        clear_retained(r, r->now_ms, 0);
    }
    r->short_sleeps = r->watchdog_ms < REST_MS ? r->short_sleeps + 1 : 0;
    if (r->short_sleeps < MOST_SHORT_SLEEPS) return 1;
    r->failure = FAIL_NO_SLEEP;
    return 0;
}

/* @param when 0: before the wake, 1: after it, 2: in it, when constructors have run. */
static void put_memory(rig *r, int when, const unsigned char *from)
{
    size_t index;
    if (r->wakes != r->world.dumped_wake) return;
    put(r, RECORD_MEMORY);
    put(r, when);
    put(r, (double)(own_set_bytes() + own_noinit_bytes()));
    for (index = 0; index < own_set_bytes(); index += 1) put(r, from[index]);
    for (index = 0; index < own_noinit_bytes(); index += 1) put(r, from[set_bytes() + index]);
}

__attribute__((noinline)) static void take_printed(rig *r)
{
    char piece[4096];
    ssize_t count;
    int64_t before = r->printed_bytes;
    while ((count = read(r->printed_fd, piece, sizeof piece)) > 0) {
        int kept = MOST_PRINTED - r->printed_kept;
        if (kept > count) kept = (int)count;
        memcpy(r->printed + r->printed_kept, piece, (size_t)kept);
        r->printed_kept += kept;
        r->printed_bytes += count;
    }
    if ((r->failure == FAIL_NONE && r->printed_bytes - before >= PIPE_FULL) ||
        (r->failure == FAIL_LOOP && r->printed_bytes - before >= MUCH_PRINTED)) {
        r->failure = FAIL_FLOOD;
        r->wake_ends = ENDS_FAILED;
    }
}

/* Between the rig's stack and the firmware's: what runs over the end of a local array ends up here. */
#define GAP_BYTES 16384
#define GAP_CHECKED 32
#define GAP_FILL UINT64_C(0x5a5a5a5a5a5a5a5a)

__attribute__((noinline)) static void call_firmware(volatile uint64_t *gap)
{
    int index;
    for (index = 0; index < GAP_CHECKED; index += 1) gap[index] = GAP_FILL;
    the_rig->in_call = 0;
    the_rig->in_firmware = 1;
    run_initialisers();
    if (the_rig->wakes == the_rig->world.dumped_wake) store_retained(the_rig->built);
    dw_wake((dw_cause)the_rig->cause);
    the_rig->failure = FAIL_RETURNED;
    leave(the_rig, ENDS_FAILED);
}

/* Runs the firmware from pristine memory until the wake is over. Of what lies on the stack nothing is relied on after. */
__attribute__((noinline)) static void run_firmware(void)
{
    volatile uint64_t gap[GAP_BYTES / sizeof(uint64_t)];
    int index, whole_gap;
    restore(the_rig->pristine);
    load_retained(the_rig->retained);
    scrub_stack();
    if (sigsetjmp(the_rig->wake_over, 0) == 0) call_firmware(gap);
    the_rig->in_call = 0;
    whole_gap = 1;
    for (index = 0; index < GAP_CHECKED; index += 1) whole_gap &= gap[index] == GAP_FILL;
    if (!(whole_gap && guards_are_whole()) && the_rig->failure == FAIL_NONE) {
        the_rig->failure = FAIL_BOUNDS;
        the_rig->wake_ends = ENDS_FAILED;
    }
    if (the_rig->failure == FAIL_NONE && !heap_is_whole()) {
        the_rig->failure = FAIL_HEAP;
        the_rig->wake_ends = ENDS_FAILED;
    }
    close_arena();
    the_rig->changed_retained = has_changed_retained(the_rig->retained);
    if (the_rig->changed_retained) store_retained(the_rig->retained);
    take_printed(the_rig);
}

static void begin_wake(rig *r)
{
    r->entry_ms = r->read_ms = -1;
    r->reads = r->blinks = r->sends = r->calls = 0;
    r->read_open = r->acted = r->expired = r->heap_refused = r->asked_time = 0;
    r->joined = r->stored = r->bitten = 0;
    r->watchdog_ms = -1;
    r->held_before_ms = r->held_ms;
    r->printed_before = r->printed_bytes;
    r->armed = ARMED_NOT;
    r->ticks = 0;
    r->sleep_nominal = 0;
    r->sleep_ms = -1;
    r->wakes_by[r->cause] += 1;
}

static void put_wake(rig *r)
{
    if (!r->world.records_wakes) return;
    put(r, RECORD_WAKE);
    put(r, r->cause);
    put(r, (double)r->wake_ms);
    put(r, (double)r->entry_ms);
    put(r, (double)r->read_ms);
    put(r, r->read_open);
    put(r, (double)r->reads);
    put(r, (double)r->blinks);
    put(r, r->wake_ends);
    put(r, (double)r->now_ms);
    put(r, (double)r->sleep_nominal);
    put(r, (double)r->sleep_ms);
    put(r, r->armed);
    if (r->writes_each_wake) write_out(r);
}

/* Sleeps until the timer, an armed contact edge or a fault. False when the timeline is over. */
static int fall_asleep(rig *r)
{
    const world *w = &r->world;
    int64_t timer_ms = r->now_ms + r->sleep_ms;
    int64_t edge = first_after(w->edges, r->now_ms);
    int64_t edge_ms = FOREVER;
    if (r->armed == ARMED_OPENING && (edge & 1) == 1) edge += 1;
    if (r->armed != ARMED_NOT && edge < w->edges.count) edge_ms = whole(w->edges.at[edge]);
    r->wake_ms = edge_ms < timer_ms ? edge_ms : timer_ms;
    r->cause = edge_ms < timer_ms ? DW_CONTACT : DW_TIMER;
    if (r->limit_ms <= r->wake_ms) return take_fault(r);
    if (r->cause == DW_TIMER && w->clock_kind != CLOCK_CONSTANT) {
        /* A completed sleep counts as its nominal length. */
        r->clock_reads += (int64_t)r->sleep_nominal - r->sleep_ms;
    }
    return 1;
}

static void count_check(rig *r)
{
    if (r->read_ms < 0) return;
    r->checks += 1;
    if (r->read_open) r->open_checks += 1;
    else if (r->sends == 0 && r->given_up_ms < 0) r->given_up_ms = r->read_ms;
}

/* The instant up to which all sleeps last as long as the one that has just begun; 0: the next may differ. */
static int64_t sleeps_alike_until(const rig *r)
{
    const column *clock = &r->world.clock;
    int64_t step;
    switch (r->world.clock_kind) {
    case CLOCK_CURVE:
        for (step = 0; step < clock->count; step += 2) {
            if (whole(clock->at[step]) > r->now_ms) return whole(clock->at[step]);
        }
        return FOREVER;
    case CLOCK_IN_TURN:
        return r->sleeps >= clock->count ? FOREVER : 0;
    case CLOCK_SLEEPS:
        return r->sleeps > clock->count ? FOREVER : 0;
    default:
        return FOREVER;
    }
}

static int boots_alike(const rig *r)
{
    const times *boot = &r->world.boot;
    if (boot->kind == TIMES_FIXED) return 1;
    if (boot->kind != TIMES_IN_TURN || r->boot.next != boot->values.count - 1) return 0;
    return r->entry_ms - r->wake_ms == whole(boot->values.at[r->boot.next]);
}

/* How many of the wakes to come are like the last one in everything: it was woken by its timer, left what is retained as
   it was, did not ask for the time, and nothing changes around the device until they are over. A firmware starts each
   wake from the same memory, and so it would do the same in each of them. */
static int64_t wakes_alike(const rig *r)
{
    const column *edges = &r->world.edges;
    int64_t edge = first_after(*edges, r->entry_ms), awake_ms = r->now_ms - r->wake_ms;
    int64_t until_ms = r->limit_ms, alike;
#if defined(DOZEWATCH_EVERY_WAKE)
    return 0; /* for a comparison in the tests */
#endif
    if (r->cause != DW_TIMER || r->changed_retained || r->asked_time || r->sends > 0 || r->stored) return 0;
    if (r->printed_bytes != r->printed_before || r->sleep_ms < REST_MS || !boots_alike(r)) return 0;
    if (edge < edges->count && whole(edges->at[edge]) < until_ms) until_ms = whole(edges->at[edge]);
    if (sleeps_alike_until(r) < until_ms) until_ms = sleeps_alike_until(r);
    if (r->now_ms >= until_ms) return 0;
    alike = (until_ms - 1 - r->now_ms) / (awake_ms + r->sleep_ms);
    if (r->world.dumped_wake >= r->wakes && alike > r->world.dumped_wake - r->wakes) {
        alike = r->world.dumped_wake - r->wakes;
    }
    return alike;
}

/* Passes over wakes that are like the last one: what they add up to is known. */
static void skip_wakes(rig *r, int64_t count)
{
    int64_t period_ms = r->now_ms - r->wake_ms + r->sleep_ms;
    if (count == 0) return;
    if (r->world.records_wakes) {
        put(r, RECORD_AGAIN);
        put(r, (double)count);
        put(r, (double)period_ms);
        if (r->writes_each_wake) write_out(r);
    }
    r->wakes += count;
    r->sleeps += count;
    r->wakes_by[DW_TIMER] += count;
    r->boot_ms += count * (r->entry_ms - r->wake_ms);
    r->held_ms += count * (r->held_ms - r->held_before_ms);
    if (r->read_ms >= 0) r->checks += count;
    if (r->read_open) r->open_checks += count;
    if (r->world.clock_kind != CLOCK_CONSTANT) r->clock_reads += count * ((int64_t)r->sleep_nominal - r->sleep_ms);
    r->now_ms += count * period_ms;
}

/* False when the run is over, with the timeline or by a failure. */
static int one_wake(rig *r)
{
    begin_wake(r);
    r->now_ms = r->wake_ms + next_time(&r->world.boot, &r->boot);
    if (r->now_ms >= r->limit_ms) {
        /* What the contact would have read. */
        r->read_open = (int)(first_after(r->world.edges, r->now_ms) & 1);
        r->now_ms = r->limit_ms;
        r->boot_ms += r->limit_ms - r->wake_ms;
        r->wake_ends = ENDS_BEFORE;
        put_wake(r);
        r->wakes += 1;
        return take_fault(r);
    }
    r->entry_ms = r->now_ms;
    r->boot_ms += r->now_ms - r->wake_ms;
    put_memory(r, 0, r->retained);
    memcpy(r->built, r->retained, retained_bytes());
    run_firmware();
    put_memory(r, 2, r->built);
    put_memory(r, 1, r->retained);
    count_check(r);
    put_wake(r);
    r->wakes += 1;
    if (r->wake_ends == ENDS_FAILED) return 0;
    if (r->bitten) return take_bite(r);
    if (r->wake_ends != ENDS_ASLEEP) return take_fault(r);
    r->short_sleeps = r->sleep_ms < REST_MS ? r->short_sleeps + 1 : 0;
    if (r->short_sleeps >= MOST_SHORT_SLEEPS) r->failure = FAIL_NO_SLEEP;
    else if (r->overtime) r->failure = FAIL_OVERTIME;
    else if (r->wakes >= MOST_WAKES) r->failure = FAIL_RESTLESS;
    if (r->failure != FAIL_NONE) return 0;
    skip_wakes(r, wakes_alike(r));
    return fall_asleep(r);
}

static void put_end(rig *r)
{
    int index;
    put(r, RECORD_PRINTED);
    put(r, r->printed_kept);
    for (index = 0; index < r->printed_kept; index += 1) put(r, (unsigned char)r->printed[index]);
    put(r, RECORD_END);
    put(r, (double)r->checks);
    put(r, (double)r->open_checks);
    for (index = 0; index < 4; index += 1) put(r, (double)r->wakes_by[index]);
    put(r, (double)r->boot_ms);
    put(r, (double)r->held_ms);
    put(r, (double)r->off_ms);
    put(r, r->failure);
    put(r, (double)r->now_ms);
    put(r, r->failure_detail);
    put(r, (double)r->printed_bytes);
    put(r, (double)(r->has_idled + 2 * r->has_armed + 4 * r->has_read_voltage));
    write_out(r);
}

static void begin_timeline(rig *r)
{
    r->boot = open_drawing(&r->world.boot);
    r->connect = open_drawing(&r->world.connect);
    r->checks = r->open_checks = r->wakes = r->boot_ms = r->held_ms = r->sleeps = 0;
    r->short_sleeps = r->printed_bytes = r->printed_kept = 0;
    r->has_idled = r->has_armed = r->has_read_voltage = 0;
    r->heap_at = 0;
    r->why = DW_RESET_BUTTON;
    r->bites = 0;
    memset(r->store, 0xff, sizeof r->store);
    memset(r->wakes_by, 0, sizeof r->wakes_by);
    r->wake_ms = r->world.first_boot_ms;
    r->now_ms = 0;
    r->off_ms = r->wake_ms < r->world.length_ms ? r->wake_ms : r->world.length_ms;
    set_fault(r, 0);
    memcpy(r->retained, r->pristine->retained, retained_bytes());
    power_on(r, r->wake_ms, FOREVER);
}

static void run_timeline(rig *r, const double *numbers, size_t count)
{
    int runs;
    r->out_kept = 0;
    r->failure = FAIL_NONE;
    r->failure_detail = 0;
    r->overtime = 0;
    r->watched_wake = -1;
    if (!resume(r, numbers, count)) begin_timeline(r);
    runs = r->wake_ms < r->world.length_ms;
    while (runs) {
        keep_wake(r);
        runs = r->wake_ms < r->limit_ms ? one_wake(r) : take_fault(r);
    }
    keep_run(r);
    put_end(r);
}
