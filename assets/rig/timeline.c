/* One device through one timeline, from wake to wake. */

/* Sleeps of less than this, one straight after the other: the device does not rest. */
#define REST_MS 10
#define MOST_SHORT_SLEEPS 1000
#define MOST_WAKES 50000000
/* A full pipe takes no more, and a page of it may have a little room to spare. */
#define PIPE_FULL 60000
/* A firmware that never stopped and printed as much as this was printing. */
#define MUCH_PRINTED 3000

static void set_fault(rig *r, int64_t index)
{
    r->fault = index;
    r->fault_ms = whole(r->world.fault_at.at[index]);
    r->limit_ms = r->fault_ms < r->world.length_ms ? r->fault_ms : r->world.length_ms;
}

static void clear_retained(rig *r)
{
    memcpy(r->retained, r->pristine->retained, retained_bytes());
    r->given_up_ms = -1;
}

static void power_on(rig *r, int64_t ms)
{
    clear_retained(r);
    r->clock_at_ms = ms;
    r->clock_reads = 0;
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
    set_fault(r, r->fault + 1);
    r->wake_ms = back_ms;
    r->cause = DW_RESET;
    if (clears) {
        put(r, RECORD_POWER_LOST);
        put(r, (double)at_ms);
        clear_retained(r);
    }
    if (back_ms > at_ms) {
        r->off_ms += (back_ms < r->world.length_ms ? back_ms : r->world.length_ms) - at_ms;
        power_on(r, back_ms);
    }
    return back_ms < r->world.length_ms;
}

static void put_memory(rig *r, int after)
{
    size_t index;
    if (r->wakes != r->world.dumped_wake) return;
    put(r, RECORD_MEMORY);
    put(r, after);
    put(r, (double)own_retained_bytes());
    for (index = 0; index < own_retained_bytes(); index += 1) put(r, r->retained[index]);
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
#define GAP_CHECKED 256

__attribute__((noinline)) static void call_firmware(volatile unsigned char *gap)
{
    int index;
    for (index = 0; index < GAP_CHECKED; index += 1) gap[index] = GUARD;
    the_rig->in_call = 0;
    the_rig->in_firmware = 1;
    dw_wake((dw_cause)the_rig->cause);
    the_rig->failure = FAIL_RETURNED;
    leave(the_rig, ENDS_FAILED);
}

/* Runs the firmware from pristine memory until the wake is over. Of what lies on the stack nothing is relied on after. */
__attribute__((noinline)) static void run_firmware(void)
{
    volatile unsigned char gap[GAP_BYTES];
    int index, whole_gap;
    restore(the_rig->pristine);
    memcpy(retained_start, the_rig->retained, retained_bytes());
    scrub_stack();
    if (sigsetjmp(the_rig->wake_over, 0) == 0) call_firmware(gap);
    the_rig->in_call = 0;
    whole_gap = 1;
    for (index = 0; index < GAP_CHECKED; index += 1) whole_gap &= gap[index] == GUARD;
    if (!(whole_gap && guards_are_whole()) && the_rig->failure == FAIL_NONE) {
        the_rig->failure = FAIL_BOUNDS;
        the_rig->wake_ends = ENDS_FAILED;
    }
    if (the_rig->failure == FAIL_NONE && !heap_is_whole()) {
        the_rig->failure = FAIL_HEAP;
        the_rig->wake_ends = ENDS_FAILED;
    }
    memcpy(the_rig->retained, retained_start, retained_bytes());
    take_printed(the_rig);
}

static void begin_wake(rig *r)
{
    r->entry_ms = r->read_ms = -1;
    r->reads = r->blinks = r->sends = r->calls = 0;
    r->read_open = r->acted = r->expired = r->heap_refused = 0;
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

/* False when the run is over, with the timeline or by a failure. */
static int one_wake(rig *r)
{
    begin_wake(r);
    r->now_ms = r->wake_ms + next_time(&r->world.boot, &r->boot);
    if (r->now_ms >= r->limit_ms) {
        r->now_ms = r->limit_ms;
        r->boot_ms += r->limit_ms - r->wake_ms;
        r->wake_ends = ENDS_BEFORE;
        put_wake(r);
        r->wakes += 1;
        return take_fault(r);
    }
    r->entry_ms = r->now_ms;
    r->boot_ms += r->now_ms - r->wake_ms;
    put_memory(r, 0);
    run_firmware();
    put_memory(r, 1);
    count_check(r);
    put_wake(r);
    r->wakes += 1;
    if (r->wake_ends == ENDS_FAILED) return 0;
    if (r->wake_ends != ENDS_ASLEEP) return take_fault(r);
    r->short_sleeps = r->sleep_ms < REST_MS ? r->short_sleeps + 1 : 0;
    if (r->short_sleeps >= MOST_SHORT_SLEEPS) r->failure = FAIL_NO_SLEEP;
    else if (r->overtime) r->failure = FAIL_OVERTIME;
    else if (r->wakes >= MOST_WAKES) r->failure = FAIL_RESTLESS;
    if (r->failure != FAIL_NONE) return 0;
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
    write_out(r);
}

static void run_timeline(rig *r)
{
    int runs;
    r->boot = open_drawing(&r->world.boot);
    r->connect = open_drawing(&r->world.connect);
    r->checks = r->open_checks = r->wakes = r->boot_ms = r->held_ms = r->sleeps = 0;
    r->short_sleeps = r->printed_bytes = r->printed_kept = 0;
    r->failure = FAIL_NONE;
    r->failure_detail = 0;
    r->overtime = 0;
    r->watched_wake = -1;
    memset(r->wakes_by, 0, sizeof r->wakes_by);
    r->wake_ms = r->world.first_boot_ms;
    r->now_ms = 0;
    r->off_ms = r->wake_ms < r->world.length_ms ? r->wake_ms : r->world.length_ms;
    set_fault(r, 0);
    power_on(r, r->wake_ms);
    runs = r->wake_ms < r->world.length_ms;
    while (runs) runs = r->wake_ms < r->limit_ms ? one_wake(r) : take_fault(r);
    put_end(r);
}
