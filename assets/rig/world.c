/* The timeline as the rig was told it, and the random streams that its times are drawn from. */

typedef struct {
    int64_t count;
    const double *at;
} column;

enum { TIMES_FIXED = 0, TIMES_RANGE = 1, TIMES_IN_TURN = 2 };

/* Boot or connect times: always one, drawn, or one after the other. */
typedef struct {
    int kind;
    column values;
    const double *stream; /* of a range: the state that the stream begins with */
} times;

enum {
    CLOCK_CONSTANT = 0, /* one error, and all that the device times is stretched by it */
    CLOCK_NOMINAL = 1,  /* one error, but a completed sleep counts as its nominal length */
    CLOCK_CURVE = 2,    /* pairs of instant and error */
    CLOCK_IN_TURN = 3,  /* an error for each sleep */
    CLOCK_SLEEPS = 4    /* true lengths of the sleeps */
};

typedef struct {
    int64_t length_ms;
    int64_t first_boot_ms;
    int records_wakes;
    int64_t dumped_wake; /* the wake whose retained memory is wanted; -1: none */
    int64_t clock_starts_ms; /* what the device's clock reads at power-on */
    int64_t noinit_keeps_ms; /* a shorter power loss leaves what is retained and not set at power-on */
    uint32_t garbage_seed;
    int64_t wall_starts_ms; /* since 1970, at the start of the timeline; -1: nobody knows */
    int64_t join_wait_ms;   /* how long dw_send_alert waits for the network */
    int watchdog_clears;    /* what a reset by watchdog does to retained memory */
    times boot, connect;
    int clock_kind;
    column clock;
    column edges;                /* contact: to open, to shut, in turn */
    column down_from, down_to;   /* network */
    column low_from, low_to;     /* when the battery is low */
    column fault_at, fault_back, fault_clears; /* resets and power losses; 1: retained memory is lost */
    column fault_kind;                         /* of dw_reset_kind */
    column millivolts;                         /* pairs of instant and voltage */
} world;

/* Numbers of the wire are doubles, whole and within 53 bits but for infinity. */
#define FOREVER ((int64_t)1 << 60)

static int64_t whole(double number)
{
    return number >= 9.0e15 ? FOREVER : (int64_t)number;
}

static column read_column(const double **from)
{
    column read;
    read.count = (int64_t) * (*from)++;
    read.at = *from;
    *from += read.count;
    return read;
}

static times read_times(const double **from)
{
    times read;
    read.kind = (int)*(*from)++;
    read.stream = *from;
    *from += 4;
    read.values = read_column(from);
    return read;
}

/* The order is that of the encoder (src/rig/encode.ts). */
static void read_world(world *to, const double *from)
{
    to->length_ms = whole(*from++);
    to->first_boot_ms = whole(*from++);
    to->records_wakes = (int)*from++;
    to->dumped_wake = (int64_t)*from++;
    to->clock_starts_ms = whole(*from++);
    to->noinit_keeps_ms = whole(*from++);
    to->garbage_seed = (uint32_t)*from++;
    to->wall_starts_ms = (int64_t)*from++;
    to->join_wait_ms = whole(*from++);
    to->watchdog_clears = (int)*from++;
    to->boot = read_times(&from);
    to->connect = read_times(&from);
    to->clock_kind = (int)*from++;
    to->clock = read_column(&from);
    to->edges = read_column(&from);
    to->down_from = read_column(&from);
    to->down_to = read_column(&from);
    to->low_from = read_column(&from);
    to->low_to = read_column(&from);
    to->fault_at = read_column(&from);
    to->fault_back = read_column(&from);
    to->fault_clears = read_column(&from);
    to->fault_kind = read_column(&from);
    to->millivolts = read_column(&from);
}

/* The index of the first of sorted instants that is after `ms`. */
static int64_t first_after(column instants, int64_t ms)
{
    int64_t low = 0, high = instants.count;
    while (low < high) {
        int64_t middle = (low + high) / 2;
        if (whole(instants.at[middle]) <= ms) low = middle + 1;
        else high = middle;
    }
    return low;
}

static int network_is_down(const world *w, int64_t ms)
{
    int64_t span = first_after(w->down_from, ms) - 1;
    return span >= 0 && ms < whole(w->down_to.at[span]);
}

/* When the network is up from some instant on. */
static int64_t up_from(const world *w, int64_t ms)
{
    int64_t span = first_after(w->down_from, ms) - 1;
    return span >= 0 && ms < whole(w->down_to.at[span]) ? whole(w->down_to.at[span]) : ms;
}

static int battery_is_low(const world *w, int64_t ms)
{
    int64_t span = first_after(w->low_from, ms) - 1;
    return span >= 0 && ms < whole(w->low_to.at[span]);
}

/* Baagøe's Alea, as the simulator draws from it: the same numbers from the same state, bit for bit. */
typedef struct {
    double s0, s1, s2, carry;
} alea;

static alea open_stream(const double *state)
{
    alea stream = {state[0], state[1], state[2], state[3]};
    return stream;
}

static double next_unit(alea *stream)
{
    double t = 2091639.0 * stream->s0 + stream->carry * 2.3283064365386963e-10;
    stream->s0 = stream->s1;
    stream->s1 = stream->s2;
    stream->carry = (double)(int64_t)t;
    stream->s2 = t - stream->carry;
    return stream->s2;
}

/* Draws the times one after the other. */
typedef struct {
    alea stream;
    int64_t next;
} drawing;

static drawing open_drawing(const times *of)
{
    drawing drawn = {open_stream(of->stream), 0};
    return drawn;
}

static int64_t next_time(const times *of, drawing *drawn)
{
    const double *at = of->values.at;
    int64_t index = drawn->next;
    if (of->kind == TIMES_FIXED) return whole(at[0]);
    if (of->kind == TIMES_RANGE) {
        double share = next_unit(&drawn->stream) * (at[1] - at[0] + 1.0);
        return whole(at[0]) + (int64_t)share;
    }
    if (index < of->values.count - 1) drawn->next = index + 1;
    return whole(at[index]);
}
