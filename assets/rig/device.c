/* What a firmware may call. Time passes only in sends, delays and sleeps. */

/* More sends in one wake than any firmware means to make. */
#define MOST_SENDS 100000
/* More calls than make sense while no time passes. */
#define MOST_CALLS 5000000
/* All that the device times while it is awake is capped at this: longer than any timeline, and products fit. */
#define LONGEST_MS ((int64_t)1000000000000)

/* Before main there is no device to ask. */
static rig *device(void)
{
    if (!has_begun) tell_early(FAIL_EARLY, 0);
    return the_rig;
}

static void enter(rig *r)
{
    r->in_call = 1;
    r->calls += 1;
    if (r->calls > MOST_CALLS) end_wake(FAIL_LOOP, 0);
}

static void finish(rig *r)
{
    r->in_call = 0;
    if (r->expired) end_wake(r->heap_refused ? FAIL_MEMORY : FAIL_LOOP, 0);
}

/* `ms × (1 + ppm / 10⁶)`, to the nearest whole millisecond; a half goes up. */
static int64_t stretched(int64_t ms, int64_t ppm)
{
    int64_t product = ms * ppm + 500000;
    int64_t part = product / 1000000;
    if (product % 1000000 < 0) part -= 1;
    return ms + part;
}

static int64_t clock_ppm(const rig *r) { return (int64_t)r->world.clock.at[0]; }

/* What the device's clock reads at a true instant. */
static int64_t clock_at(const rig *r, int64_t ms)
{
    int64_t since = ms - r->clock_at_ms;
    if (r->world.clock_kind != CLOCK_CONSTANT || clock_ppm(r) == 0) return r->clock_reads + since;
    return r->clock_reads + since * 1000000 / (1000000 + clock_ppm(r));
}

/* From here on it counts from its whole reading: what it is short of the next millisecond is lost. */
static void anchor_clock(rig *r, int64_t ms)
{
    r->clock_reads = clock_at(r, ms);
    r->clock_at_ms = ms;
}

/* How long a sleep of nominal length lasts. */
static int64_t sleep_lasts(rig *r, uint64_t nominal)
{
    const column *clock = &r->world.clock;
    int64_t index = r->sleeps++, step, ppm;
    if (r->world.clock_kind == CLOCK_SLEEPS && index < clock->count) return whole(clock->at[index]);
    if (nominal > (uint64_t)LONGEST_MS) return FOREVER;
    switch (r->world.clock_kind) {
    case CLOCK_SLEEPS:
        return (int64_t)nominal;
    case CLOCK_CURVE:
        ppm = clock->count > 0 ? (int64_t)clock->at[1] : 0;
        for (step = 0; step + 1 < clock->count && whole(clock->at[step]) <= r->now_ms; step += 2) {
            ppm = (int64_t)clock->at[step + 1];
        }
        return stretched((int64_t)nominal, ppm);
    case CLOCK_IN_TURN:
        return stretched((int64_t)nominal, (int64_t)clock->at[index < clock->count ? index : clock->count - 1]);
    default:
        return stretched((int64_t)nominal, clock_ppm(r));
    }
}

/* Up to when the device stays awake at most: a fault, the end of the timeline or its watchdog comes. */
static int64_t stop_at(const rig *r)
{
    int64_t bite_ms;
    if (r->watchdog_ms < 0) return r->limit_ms;
    bite_ms = r->watchdog_from_ms + r->watchdog_ms + 1;
    return bite_ms < r->limit_ms ? bite_ms : r->limit_ms;
}

/* The wake is over at that instant. */
__attribute__((noreturn)) static void cut(rig *r, int64_t stop_ms, int ends)
{
    r->now_ms = stop_ms;
    r->bitten = stop_ms < r->limit_ms;
    leave(r, r->bitten ? ENDS_CUT : ends);
}

/* Goes on to an instant, unless something ends the wake before. */
static void pass_until(rig *r, int64_t ms)
{
    int64_t stop_ms = stop_at(r);
    r->calls = 0;
    r->ticks = 0;
    if (ms >= stop_ms) {
        r->held_ms += stop_ms - r->now_ms;
        cut(r, stop_ms, ENDS_CUT);
    }
    r->held_ms += ms - r->now_ms;
    r->now_ms = ms;
    if (r->overtime) end_wake(FAIL_OVERTIME, 0);
}

int dw_contact_is_open(void)
{
    rig *r = device();
    int open;
    enter(r);
    open = (int)(first_after(r->world.edges, r->now_ms) & 1);
    r->reads += 1;
    /* The wake's check is what the firmware last read before it sent something or went to sleep. */
    if (!r->acted) {
        r->read_ms = r->now_ms;
        r->read_open = open;
    }
    finish(r);
    return open;
}

/* Of the attempt that ends now, how long it waited for the network. */
static int64_t waited(const rig *r)
{
    return r->join_due_ms >= 0 && r->now_ms > r->join_due_ms ? r->now_ms - r->join_due_ms : 0;
}

/* `outcome`: 0 delivered, 1 failed; cut off, where the network would have let it through 2, else 3. */
static void put_send(rig *r, int kind, int64_t start_ms, int outcome)
{
    put(r, RECORD_SEND);
    put(r, kind);
    put(r, (double)start_ms);
    put(r, (double)r->now_ms);
    put(r, outcome);
    put(r, (double)r->given_up_ms);
    put(r, (double)(first_after(r->world.edges, start_ms) & 1));
    put(r, (double)waited(r));
    if (kind == 0) r->given_up_ms = -1;
}

/* When an attempt to join ends that begins now; `joins` is whether it will have joined. */
static int64_t join_ends(rig *r, int64_t wait_ms, int *joins)
{
    int64_t end_ms, up_ms, last_ms;
    *joins = r->joined;
    r->join_due_ms = -1;
    if (r->joined) return r->now_ms;
    end_ms = r->now_ms + next_time(&r->world.connect, &r->connect);
    r->join_due_ms = end_ms;
    last_ms = end_ms + wait_ms;
    up_ms = up_from(&r->world, end_ms);
    *joins = up_ms <= last_ms;
    return up_ms <= last_ms ? up_ms : last_ms;
}

/* The network gives the time. */
static void set_wall_clock(rig *r)
{
    if (r->world.wall_starts_ms < 0) return;
    r->wall_at_ms = r->world.wall_starts_ms + r->now_ms;
    r->wall_clock_ms = clock_at(r, r->now_ms);
}

static void count_send(rig *r)
{
    r->sends += 1;
    if (r->sends > MOST_SENDS) end_wake(FAIL_SENDS, 0);
}

static int send_message(int kind)
{
    rig *r = device();
    int64_t start_ms, end_ms, held_ms;
    int delivered, joins;
    enter(r);
    count_send(r);
    r->acted = 1;
    start_ms = r->now_ms;
    if (kind == 1) anchor_clock(r, start_ms);
    end_ms = join_ends(r, r->world.join_wait_ms, &joins);
    held_ms = r->held_ms;
    if (end_ms > start_ms && end_ms >= stop_at(r)) {
        int64_t stop_ms = stop_at(r);
        r->now_ms = stop_ms;
        put_send(r, kind, start_ms, joins ? 2 : 3);
        cut(r, stop_ms, ENDS_CUT);
    }
    if (end_ms > start_ms) pass_until(r, end_ms);
    r->held_ms = held_ms;
    delivered = !network_is_down(&r->world, end_ms);
    r->joined = joins;
    if (delivered) anchor_clock(r, end_ms);
    if (delivered) set_wall_clock(r);
    put_send(r, kind, start_ms, delivered ? 0 : 1);
    finish(r);
    return delivered;
}

int dw_join(uint32_t wait_ms)
{
    rig *r = device();
    int64_t start_ms = r->now_ms, end_ms, stop_ms;
    int joins;
    enter(r);
    count_send(r);
    end_ms = join_ends(r, wait_ms, &joins);
    stop_ms = end_ms < stop_at(r) ? end_ms : stop_at(r);
    if (end_ms > start_ms) {
        put(r, RECORD_JOIN);
        put(r, (double)start_ms);
        put(r, (double)stop_ms);
        /* 0 not joined, 1 joined, 2 cut off where it would have joined. */
        put(r, !joins ? 0 : stop_ms == end_ms ? 1 : 2);
        put(r, (double)r->given_up_ms);
        put(r, (double)(first_after(r->world.edges, start_ms) & 1));
        put(r, stop_ms > r->join_due_ms ? (double)(stop_ms - r->join_due_ms) : 0);
        r->given_up_ms = -1;
        pass_until(r, end_ms);
    }
    r->joined = joins;
    if (joins) set_wall_clock(r);
    finish(r);
    return joins;
}

int dw_transmit_alert(const char *text)
{
    rig *r = device();
    int delivered;
    (void)*(const volatile char *)text;
    enter(r);
    count_send(r);
    r->acted = 1;
    r->join_due_ms = -1;
    delivered = r->joined && !network_is_down(&r->world, r->now_ms);
    if (delivered) anchor_clock(r, r->now_ms);
    if (delivered) set_wall_clock(r);
    put_send(r, 0, r->now_ms, delivered ? 0 : 1);
    finish(r);
    return delivered;
}

int dw_send_alert(const char *text)
{
    (void)*(const volatile char *)text;
    return send_message(0);
}

int dw_send_heartbeat(const char *text)
{
    (void)*(const volatile char *)text;
    return send_message(1);
}

/* For process.c only. */
void dw_process_failed(int how);
void dw_process_failed(int how) { end_wake(FAIL_PROCESS, how); }

int dw_send_low_battery(const char *text)
{
    (void)*(const volatile char *)text;
    return send_message(2);
}

void dw_blink(void)
{
    rig *r = device();
    enter(r);
    r->blinks += 1;
    finish(r);
}

void dw_delay_ms(uint32_t ms)
{
    rig *r = device();
    int64_t lasts = ms;
    enter(r);
    if (r->world.clock_kind == CLOCK_CONSTANT) lasts = stretched(lasts, clock_ppm(r));
    if (ms > 0) pass_until(r, r->now_ms + lasts);
    finish(r);
}

uint64_t dw_clock_ms(void)
{
    rig *r = device();
    uint64_t reads;
    enter(r);
    r->asked_time = 1;
    reads = (uint64_t)clock_at(r, r->now_ms);
    finish(r);
    return reads;
}

int64_t dw_wall_clock_ms(void)
{
    rig *r = device();
    int64_t reads = -1;
    enter(r);
    if (r->wall_at_ms >= 0) {
        r->asked_time = 1;
        reads = r->wall_at_ms + clock_at(r, r->now_ms) - r->wall_clock_ms;
    }
    finish(r);
    return reads;
}

dw_reset_kind dw_why_reset(void)
{
    return (dw_reset_kind)device()->why;
}

uint32_t dw_battery_mv(void)
{
    rig *r = device();
    const column *steps = &r->world.millivolts; /* an instant and a voltage in turn */
    int64_t low = 0, high = steps->count / 2;
    enter(r);
    r->has_read_voltage = 1;
    /* A voltage that falls is another one in a later wake. */
    if (steps->count > 2) r->asked_time = 1;
    while (low < high) {
        int64_t middle = (low + high) / 2;
        if (whole(steps->at[2 * middle]) <= r->now_ms) low = middle + 1;
        else high = middle;
    }
    finish(r);
    return low > 0 ? (uint32_t)steps->at[2 * low - 1] : 3000;
}

static int is_in_store(uint32_t offset, uint32_t bytes) { return offset <= STORE_BYTES && bytes <= STORE_BYTES - offset; }

int dw_store_read(uint32_t offset, void *to, uint32_t bytes)
{
    rig *r = device();
    int done = is_in_store(offset, bytes);
    enter(r);
    if (done) memcpy(to, r->store + offset, bytes);
    finish(r);
    return done;
}

/* How many of some new bytes a power loss leaves in the page that is being written: drawn by its instant. */
static uint32_t torn_at(const rig *r, int64_t ms, uint32_t bytes)
{
    uint64_t drawn = ((uint64_t)ms ^ ((uint64_t)r->world.garbage_seed << 32)) * UINT64_C(0x9e3779b97f4a7c15);
    drawn = (drawn ^ (drawn >> 29)) * UINT64_C(0xbf58476d1ce4e5b9);
    return (uint32_t)((drawn >> 33) % ((uint64_t)bytes + 1));
}

#define PAGE_MS 5

int dw_store_write(uint32_t offset, const void *from, uint32_t bytes)
{
    rig *r = device();
    const unsigned char *at = from;
    int done = is_in_store(offset, bytes);
    enter(r);
    while (done && bytes > 0) {
        uint32_t piece = STORE_PAGE - offset % STORE_PAGE;
        int64_t end_ms = r->now_ms + PAGE_MS, stop_ms = stop_at(r);
        if (piece > bytes) piece = bytes;
        r->stored = 1;
        if (end_ms >= stop_ms) {
            /* A reset lets the page be completed: only a power loss tears it. */
            int loses = stop_ms == r->fault_ms && whole(r->world.fault_back.at[r->fault]) > r->fault_ms;
            memcpy(r->store + offset, at, loses ? torn_at(r, stop_ms, piece) : piece);
            pass_until(r, end_ms);
        }
        pass_until(r, end_ms);
        memcpy(r->store + offset, at, piece);
        offset += piece;
        at += piece;
        bytes -= piece;
    }
    finish(r);
    return done;
}

void dw_watchdog_start(uint32_t ms)
{
    rig *r = device();
    enter(r);
    r->watchdog_ms = r->world.clock_kind == CLOCK_CONSTANT ? stretched(ms, clock_ppm(r)) : (int64_t)ms;
    r->watchdog_from_ms = r->now_ms;
    finish(r);
}

void dw_watchdog_feed(void)
{
    rig *r = device();
    enter(r);
    r->watchdog_from_ms = r->now_ms;
    finish(r);
}

int dw_battery_is_low(void)
{
    rig *r = device();
    int low;
    enter(r);
    /* A wake that asks is not like the one before. */
    r->asked_time = 1;
    low = battery_is_low(&r->world, r->now_ms);
    finish(r);
    return low;
}

void dw_wake_on_opening(int armed)
{
    rig *r = device();
    enter(r);
    if (armed) r->has_armed = 1;
    if (armed) r->armed = r->armed == ARMED_ALL ? ARMED_ALL : ARMED_OPENING;
    else if (r->armed == ARMED_OPENING) r->armed = ARMED_NOT;
    finish(r);
}

void dw_wake_on_any_change(int armed)
{
    rig *r = device();
    enter(r);
    if (armed) r->has_armed = 1;
    if (armed) r->armed = ARMED_ALL;
    else if (r->armed == ARMED_ALL) r->armed = ARMED_NOT;
    finish(r);
}

void dw_sleep_ms(uint64_t ms)
{
    rig *r = device();
    enter(r);
    r->sleep_nominal = ms;
    r->sleep_ms = sleep_lasts(r, ms);
    leave(r, ENDS_ASLEEP);
}

void dw_idle_until_reset(void)
{
    rig *r = device();
    int64_t stop_ms;
    enter(r);
    stop_ms = stop_at(r);
    r->held_ms += stop_ms - r->now_ms;
    r->has_idled = 1;
    if (stop_ms < r->limit_ms) cut(r, stop_ms, ENDS_HELD);
    leave(r, ENDS_HELD);
}
