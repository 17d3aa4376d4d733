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

/* Goes on to an instant, unless a fault or the end of the timeline comes first. */
static void pass_until(rig *r, int64_t ms)
{
    r->calls = 0;
    r->ticks = 0;
    if (ms >= r->limit_ms) {
        r->held_ms += r->limit_ms - r->now_ms;
        r->now_ms = r->limit_ms;
        leave(r, ENDS_CUT);
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

static void put_send(rig *r, int kind, int64_t start_ms, int outcome)
{
    put(r, RECORD_SEND);
    put(r, kind);
    put(r, (double)start_ms);
    put(r, (double)r->now_ms);
    put(r, outcome);
    put(r, (double)r->given_up_ms);
    put(r, (double)(first_after(r->world.edges, start_ms) & 1));
    if (kind == 0) r->given_up_ms = -1;
}

static int send_message(int kind)
{
    rig *r = device();
    int64_t start_ms, end_ms, held_ms;
    int delivered;
    enter(r);
    r->sends += 1;
    if (r->sends > MOST_SENDS) end_wake(FAIL_SENDS, 0);
    r->acted = 1;
    start_ms = r->now_ms;
    if (kind == 1) anchor_clock(r, start_ms);
    end_ms = start_ms + next_time(&r->world.connect, &r->connect);
    held_ms = r->held_ms;
    if (end_ms >= r->limit_ms) {
        r->now_ms = r->limit_ms;
        put_send(r, kind, start_ms, 2);
        leave(r, ENDS_CUT);
    }
    pass_until(r, end_ms);
    r->held_ms = held_ms;
    delivered = !network_is_down(&r->world, end_ms);
    if (delivered) anchor_clock(r, end_ms);
    put_send(r, kind, start_ms, delivered ? 0 : 1);
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

uint32_t dw_battery_mv(void) { return 3000; }

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
    enter(r);
    r->held_ms += r->limit_ms - r->now_ms;
    r->has_idled = 1;
    leave(r, ENDS_HELD);
}
