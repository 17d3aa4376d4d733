/* A hunt runs many timelines that begin alike, above all while it makes one smaller. The last few runs are kept, with what
   the device was at some of their wakes: a new one goes on from the last of these before its timeline differs. */

#define KEPT_RUNS 8
#define KEPT_WAKES 64
/* Between two of them at first, in wakes that were run; twice as many each time that they are too many. */
#if !defined(FIRST_SPACING)
#define FIRST_SPACING 128
#endif
#define MOST_KEPT_NUMBERS ((size_t)1 << 16)
#define MOST_KEPT_OUT ((size_t)1 << 20)
#define MOST_KEPT_RETAINED ((size_t)1 << 16)

static void set_fault(rig *r, int64_t index)
{
    r->fault = index;
    r->fault_ms = whole(r->world.fault_at.at[index]);
    r->limit_ms = r->fault_ms < r->world.length_ms ? r->fault_ms : r->world.length_ms;
}

/* What a run has come to: the fields of the rig from `boot` on, up to what it has printed. */
#define COURSE_FROM offsetof(rig, boot)
#define COURSE_BYTES (offsetof(rig, printed) - COURSE_FROM)

typedef struct {
    int64_t wake_ms;
    size_t out_count;
    unsigned char course[COURSE_BYTES];
} kept_wake;

typedef struct {
    int is_whole; /* it may be gone on from */
    int64_t used; /* the last run that it was of use to */
    size_t number_count, out_count;
    double *numbers, *out;
    int wakes;
    int64_t spacing;
    kept_wake wake[KEPT_WAKES];
    unsigned char *retained; /* of each wake */
    char printed[MOST_PRINTED];
} kept_run;

struct kept {
    kept_run runs[KEPT_RUNS];
    kept_run *now; /* the run that is being made; NULL: it is not kept */
    int64_t count, since;
};

static void *room(size_t bytes)
{
    void *at = mmap(NULL, bytes, PROT_READ | PROT_WRITE, MAP_PRIVATE | MAP_ANONYMOUS | MAP_NORESERVE, -1, 0);
    if (at == MAP_FAILED) _exit(70);
    return at;
}

static struct kept *open_kept(void)
{
    struct kept *kept = own_pages(sizeof(struct kept));
    int index;
    for (index = 0; index < KEPT_RUNS; index += 1) {
        kept->runs[index].numbers = room(MOST_KEPT_NUMBERS * sizeof(double));
        kept->runs[index].out = room(MOST_KEPT_OUT * sizeof(double));
        kept->runs[index].retained = room(KEPT_WAKES * (retained_bytes() + 1));
    }
    return kept;
}

static int columns_alike(column one, column other)
{
    return one.count == other.count && memcmp(one.at, other.at, (size_t)one.count * sizeof(double)) == 0;
}

static int times_alike(const times *one, const times *other)
{
    return one->kind == other->kind && memcmp(one->stream, other->stream, 4 * sizeof(double)) == 0 &&
           columns_alike(one->values, other->values);
}

static int64_t entry_at(column of, int64_t index) { return index < of.count ? whole(of.at[index]) : FOREVER; }

/* The index of the first entry in which two columns differ. */
static int64_t differ_in(column one, column other)
{
    int64_t index = 0;
    while (index < one.count && index < other.count && one.at[index] == other.at[index]) index += 1;
    return index;
}

static int64_t lesser(int64_t one, int64_t other) { return one < other ? one : other; }

/* The instant of the first entry in which two columns differ. */
static int64_t differ_at(column one, column other)
{
    int64_t index = differ_in(one, other);
    return lesser(entry_at(one, index), entry_at(other, index));
}

/* A fault that lasts for another time, or clears what is retained, is another fault from its beginning on. */
static int64_t faults_differ_at(const world *one, const world *other)
{
    int64_t index = differ_in(one->fault_at, other->fault_at);
    index = lesser(index, differ_in(one->fault_back, other->fault_back));
    index = lesser(index, differ_in(one->fault_clears, other->fault_clears));
    index = lesser(index, differ_in(one->fault_kind, other->fault_kind));
    return lesser(entry_at(one->fault_at, index), entry_at(other->fault_at, index));
}

/* Up to when two timelines are the same to a device; 0: not at all. */
static int64_t alike_until(const world *one, const world *other)
{
    int64_t until, at;
    if (one->first_boot_ms != other->first_boot_ms || one->records_wakes != other->records_wakes) return 0;
    if (one->dumped_wake != other->dumped_wake || one->clock_starts_ms != other->clock_starts_ms) return 0;
    if (one->noinit_keeps_ms != other->noinit_keeps_ms || one->garbage_seed != other->garbage_seed) return 0;
    if (!times_alike(&one->boot, &other->boot) || !times_alike(&one->connect, &other->connect)) return 0;
    if (one->wall_starts_ms != other->wall_starts_ms || one->join_wait_ms != other->join_wait_ms) return 0;
    if (one->watchdog_clears != other->watchdog_clears || !columns_alike(one->millivolts, other->millivolts)) return 0;
    if (one->clock_kind != other->clock_kind || !columns_alike(one->clock, other->clock)) return 0;
    until = one->length_ms < other->length_ms ? one->length_ms : other->length_ms;
    if ((at = differ_at(one->edges, other->edges)) < until) until = at;
    if ((at = differ_at(one->down_from, other->down_from)) < until) until = at;
    if ((at = differ_at(one->down_to, other->down_to)) < until) until = at;
    if ((at = differ_at(one->low_from, other->low_from)) < until) until = at;
    if ((at = differ_at(one->low_to, other->low_to)) < until) until = at;
    if ((at = faults_differ_at(one, other)) < until) until = at;
    return until;
}

/* Of a kept run: how many of its wakes come before `until`. */
static int wakes_before(const kept_run *run, int64_t until)
{
    int count = run->wakes;
    while (count > 0 && run->wake[count - 1].wake_ms >= until) count -= 1;
    return count;
}

/* The kept run that can be gone on from the furthest; NULL: none. @param wakes of it, how many are still true. */
static kept_run *best_of(struct kept *kept, const world *to_run, int *wakes)
{
    kept_run *best = NULL;
    int index, count;
    world known;
    *wakes = 0;
    for (index = 0; index < KEPT_RUNS; index += 1) {
        kept_run *run = &kept->runs[index];
        if (!run->is_whole) continue;
        read_world(&known, run->numbers);
        count = wakes_before(run, alike_until(&known, to_run));
        if (count == 0 || (best != NULL && run->wake[count - 1].wake_ms <= best->wake[*wakes - 1].wake_ms)) continue;
        best = run;
        *wakes = count;
    }
    return best;
}

static void copy_wakes(kept_run *to, const kept_run *from, int count)
{
    size_t bytes = retained_bytes();
    memcpy(to->wake, from->wake, (size_t)count * sizeof(kept_wake));
    memcpy(to->retained, from->retained, (size_t)count * bytes);
    memcpy(to->out, from->out, from->wake[count - 1].out_count * sizeof(double));
    memcpy(to->printed, from->printed, MOST_PRINTED);
    to->wakes = count;
    to->spacing = from->spacing;
}

/* Puts the rig to where the last of some wakes of a kept run was, with all that it had written until then. */
static void go_on_from(rig *r, const kept_run *run, int count)
{
    const kept_wake *wake = &run->wake[count - 1];
    size_t index;
    memcpy((unsigned char *)r + COURSE_FROM, wake->course, COURSE_BYTES);
    memcpy(r->retained, run->retained + (size_t)(count - 1) * retained_bytes(), retained_bytes());
    memcpy(r->printed, run->printed, MOST_PRINTED);
    for (index = 0; index < wake->out_count; index += 1) put(r, run->out[index]);
}

/* Begins to keep a run. @return whether the rig goes on from an earlier one. */
static int resume(rig *r, const double *numbers, size_t number_count)
{
    struct kept *kept = r->kept;
    kept_run *best, *oldest = NULL;
    int index, wakes;
    kept->count += 1;
    kept->now = NULL;
    kept->since = 0;
#if defined(DOZEWATCH_EVERY_WAKE)
    return 0;
#endif
    if (number_count > MOST_KEPT_NUMBERS || retained_bytes() > MOST_KEPT_RETAINED || r->writes_each_wake) return 0;
    best = best_of(kept, &r->world, &wakes);
    if (best != NULL) best->used = kept->count;
    for (index = 0; index < KEPT_RUNS; index += 1) {
        kept_run *run = &kept->runs[index];
        if (run != best && (oldest == NULL || run->used < oldest->used)) oldest = run;
    }
    oldest->is_whole = 0;
    oldest->used = kept->count;
    oldest->wakes = 0;
    oldest->spacing = FIRST_SPACING;
    oldest->out_count = 0;
    oldest->number_count = number_count;
    memcpy(oldest->numbers, numbers, number_count * sizeof(double));
    if (best != NULL) {
        go_on_from(r, best, wakes);
        copy_wakes(oldest, best, wakes);
        oldest->out_count = best->wake[wakes - 1].out_count;
        set_fault(r, r->fault);
    }
    kept->now = oldest;
    return best != NULL;
}

/* What has been written belongs to the run that is being made. */
static void keep_out(rig *r)
{
    kept_run *run = r->kept->now;
    if (run == NULL) return;
    if (run->out_count + (size_t)r->out_count - (size_t)r->out_kept > MOST_KEPT_OUT) {
        r->kept->now = NULL;
        run->wakes = 0;
        return;
    }
    memcpy(run->out + run->out_count, r->out + r->out_kept, (size_t)(r->out_count - r->out_kept) * sizeof(double));
    run->out_count += (size_t)(r->out_count - r->out_kept);
    r->out_kept = r->out_count;
}

static void thin_out(kept_run *run)
{
    size_t bytes = retained_bytes();
    int index;
    for (index = 0; index < KEPT_WAKES / 2; index += 1) {
        run->wake[index] = run->wake[2 * index + 1];
        memcpy(run->retained + (size_t)index * bytes, run->retained + (size_t)(2 * index + 1) * bytes, bytes);
    }
    run->wakes = KEPT_WAKES / 2;
}

/* Before a wake: keeps what the device is now, unless it has just done so. */
static void keep_wake(rig *r)
{
    struct kept *kept = r->kept;
    kept_run *run = kept->now;
    kept_wake *wake;
    if (run == NULL || (kept->since += 1) < run->spacing) return;
    kept->since = 0;
    if (run->wakes == KEPT_WAKES) {
        thin_out(run);
        run->spacing *= 2;
    }
    keep_out(r);
    if (kept->now == NULL) return;
    wake = &run->wake[run->wakes];
    wake->wake_ms = r->wake_ms;
    wake->out_count = run->out_count;
    memcpy(wake->course, (const unsigned char *)r + COURSE_FROM, COURSE_BYTES);
    memcpy(run->retained + (size_t)run->wakes * retained_bytes(), r->retained, retained_bytes());
    run->wakes += 1;
}

/* The run is over. */
static void keep_run(rig *r)
{
    kept_run *run = r->kept->now;
    if (run == NULL) return;
    memcpy(run->printed, r->printed, MOST_PRINTED);
    run->is_whole = 1;
}
