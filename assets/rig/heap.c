/* The heap: blocks of powers of two from an arena. What static initialisers take stays; each wake has an arena of its own,
   at addresses that no wake had before, and what lies in the arenas of earlier wakes cannot be read any more: on a device it
   is gone with the sleep. The state of the heap is static data, and so is put back before each wake as well. Each block knows whether it is taken, and has a few bytes behind it that nobody may change. What is given back
   is filled, and lies unused for as long as there is room: who writes to it later shows. */

#define HEAP_BYTES ((size_t)32 << 20)
#if UINTPTR_MAX > 0xffffffffu
#define HEAP_AT ((uintptr_t)0x6900000000)
/* For the arenas of all wakes; used from the start again when it is used up. */
#define HEAP_SPAN ((size_t)3 << 30)
#else
#define HEAP_AT ((uintptr_t)0x40000000)
#define HEAP_SPAN ((size_t)512 << 20)
#endif
#define HEAP_STEP ((size_t)64 << 10)
#define HEAP_CLASSES 26
/* Behind what was asked for. */
#define HEAP_GUARD_BYTES 8
#define HEAP_GUARD 0xa5
/* In what was given back; a pointer out of it leads nowhere. */
#define HEAP_FREED 0xdd
/* So much is taken of the arena before anything is handed out again. */
#define HEAP_FRESH_BYTES ((size_t)4 << 20)

/* A firmware may bring functions of its own in place of those of the library. */
#define INSTEAD __attribute__((weak))

enum { BLOCK_TAKEN = 0x7a4e, BLOCK_FREE = 0x0f3e };

typedef union heap_block {
    struct {
        uint16_t size_class, state;
        uint32_t asked; /* bytes */
        union heap_block *next;
    } head;
    /* All that C asks an allocator to align for; C99 has no name for it. */
    long double widest_number;
    long long widest_integer;
    void *pointer;
} heap_block;

/* The arena that is taken from, and that of the static initialisers. */
static unsigned char *heap_base, *heap_first;
static size_t heap_used, heap_first_used;
/* Given back longest ago, and last. */
static heap_block *heap_free[HEAP_CLASSES], *heap_free_last[HEAP_CLASSES];

static unsigned heap_class(size_t bytes)
{
    unsigned class = 4;
    while (class < HEAP_CLASSES && ((size_t)1 << class) < bytes) class += 1;
    return class;
}

static void open_heap(void)
{
    if (heap_first != NULL) return;
    /* Asked for at one address, so that pointers are the same in each run. */
    heap_base = mmap((void *)HEAP_AT, HEAP_SPAN, PROT_NONE, MAP_PRIVATE | MAP_ANONYMOUS | MAP_NORESERVE, -1, 0);
    if (heap_base == MAP_FAILED || mprotect(heap_base, HEAP_BYTES, PROT_READ | PROT_WRITE) != 0) _exit(70);
    heap_first = heap_base;
}

/* Before a wake: it takes nothing yet. */
static void begin_arena(void)
{
    heap_first_used = heap_used;
    heap_base = NULL;
    heap_used = 0;
}

static void open_arena(void)
{
    if (!has_begun || heap_base != NULL) return;
    if (the_rig->heap_at == 0 || the_rig->heap_at + 2 * HEAP_BYTES > HEAP_SPAN) the_rig->heap_at = HEAP_BYTES;
    heap_base = heap_first + the_rig->heap_at;
    if (mprotect(heap_base, HEAP_BYTES, PROT_READ | PROT_WRITE) != 0) _exit(70);
    memset(heap_free, 0, sizeof heap_free);
}

/* After a wake: what it took is gone. */
static void close_arena(void)
{
    size_t bytes = (heap_used + HEAP_STEP - 1) / HEAP_STEP * HEAP_STEP;
    if (heap_base == NULL || heap_base == heap_first) return;
    if (bytes > HEAP_BYTES) bytes = HEAP_BYTES;
    madvise(heap_base, bytes, MADV_DONTNEED);
    mprotect(heap_base, HEAP_BYTES, PROT_NONE);
    the_rig->heap_at += bytes == 0 ? HEAP_STEP : bytes;
}

/* In the arena of an earlier wake: they lie one after the other. */
static int is_stale(const void *memory)
{
    const unsigned char *at = memory, *now = heap_base;
    if (heap_first == NULL || at < heap_first + HEAP_BYTES) return 0;
    if (now == NULL) now = heap_first + the_rig->heap_at;
    return at < now;
}

static void *handed_out(heap_block *block, size_t bytes)
{
    block->head.state = BLOCK_TAKEN;
    block->head.asked = (uint32_t)bytes;
    memset((unsigned char *)(block + 1) + bytes, HEAP_GUARD, HEAP_GUARD_BYTES);
    return block + 1;
}

static void *refused(void)
{
    if (has_begun) the_rig->heap_refused = 1;
    else early_refused = 1;
    errno = ENOMEM;
    return NULL;
}

/* Whether nobody has written to a block since it was given back. */
static int is_untouched(const heap_block *block)
{
    const unsigned char *at = (const unsigned char *)(block + 1);
    size_t bytes = (size_t)1 << block->head.size_class;
    return at[0] == HEAP_FREED && memcmp(at, at + 1, bytes - 1) == 0;
}

static void *handed_out_again(unsigned class, size_t bytes)
{
    heap_block *block = heap_free[class];
    if (block->head.state != BLOCK_FREE || !is_untouched(block)) end_wake(FAIL_HEAP, 0);
    heap_free[class] = block->head.next;
    return handed_out(block, bytes);
}

static void *heap_take(size_t bytes)
{
    unsigned class;
    heap_block *block;
    size_t whole_size;
    open_heap();
    open_arena();
    if (bytes > HEAP_BYTES) return refused();
    class = heap_class(bytes + HEAP_GUARD_BYTES);
    if (class >= HEAP_CLASSES) return refused();
    whole_size = sizeof(heap_block) + ((size_t)1 << class);
    if (heap_free[class] != NULL && heap_used + whole_size > HEAP_FRESH_BYTES) return handed_out_again(class, bytes);
    if (whole_size > HEAP_BYTES - heap_used) return refused();
    block = (heap_block *)(void *)(heap_base + heap_used);
    heap_used += whole_size;
    block->head.size_class = (uint16_t)class;
    return handed_out(block, bytes);
}

static int guard_is_whole(const heap_block *block)
{
    const unsigned char *guard = (const unsigned char *)(block + 1) + block->head.asked;
    int index;
    for (index = 0; index < HEAP_GUARD_BYTES; index += 1) {
        if (guard[index] != HEAP_GUARD) return 0;
    }
    return 1;
}

/* Whether each block of an arena is as it was left. */
static int arena_is_whole(const unsigned char *base, size_t used)
{
    size_t at = 0;
    if (used > HEAP_BYTES) return 0;
    while (at < used) {
        const heap_block *block = (const heap_block *)(const void *)(base + at);
        if (block->head.size_class >= HEAP_CLASSES) return 0;
        if (block->head.state == BLOCK_TAKEN) {
            if (!guard_is_whole(block)) return 0;
        } else if (block->head.state != BLOCK_FREE || !is_untouched(block)) {
            return 0;
        }
        at += sizeof(heap_block) + ((size_t)1 << block->head.size_class);
    }
    return at == used;
}

static int heap_is_whole(void)
{
    return arena_is_whole(heap_base, heap_used) && arena_is_whole(heap_first, heap_first_used);
}

static int is_within(const unsigned char *at, const unsigned char *base, size_t used)
{
    return base != NULL && at >= base + sizeof(heap_block) && at < base + used;
}

/* On macOS functions of the library, such as strdup, go on taking memory from an allocator of its own. */
static int is_of_library(const void *memory)
{
#if defined(__APPLE__)
    const unsigned char *at = memory;
    return at < heap_first || at >= heap_first + HEAP_SPAN;
#else
    (void)memory;
    return 0;
#endif
}

/* The block of what a firmware gives back, which ends the wake unless it has it. */
static heap_block *block_of(void *memory)
{
    const unsigned char *at = memory;
    heap_block *block = (heap_block *)memory - 1;
    if (has_begun && is_stale(memory)) end_wake(FAIL_STALE, 0);
    if (!is_within(at, heap_base, heap_used) && !is_within(at, heap_first, heap_first_used)) end_wake(FAIL_HEAP, 0);
    if ((uintptr_t)at % sizeof(heap_block) != 0 || block->head.state != BLOCK_TAKEN) end_wake(FAIL_HEAP, 0);
    if (block->head.size_class >= HEAP_CLASSES || !guard_is_whole(block)) end_wake(FAIL_HEAP, 0);
    return block;
}

INSTEAD void *malloc(size_t bytes) { return heap_take(bytes); }

INSTEAD void free(void *memory)
{
    heap_block *block;
    unsigned class;
    if (memory == NULL || is_of_library(memory)) return;
    block = block_of(memory);
    class = block->head.size_class;
    memset(memory, HEAP_FREED, (size_t)1 << class);
    block->head.state = BLOCK_FREE;
    block->head.next = NULL;
    if (heap_free[class] == NULL) heap_free[class] = block;
    else heap_free_last[class]->head.next = block;
    heap_free_last[class] = block;
}

INSTEAD void *calloc(size_t count, size_t bytes)
{
    void *memory;
    if (bytes != 0 && count > HEAP_BYTES / bytes) return refused();
    memory = heap_take(count * bytes);
    return memory == NULL ? NULL : memset(memory, 0, count * bytes);
}

INSTEAD void *realloc(void *memory, size_t bytes)
{
    heap_block *block;
    void *moved;
    if (memory == NULL) return heap_take(bytes);
    block = block_of(memory);
    if (bytes < HEAP_BYTES && bytes + HEAP_GUARD_BYTES <= (size_t)1 << block->head.size_class) return handed_out(block, bytes);
    moved = heap_take(bytes);
    if (moved == NULL) return NULL;
    memcpy(moved, memory, block->head.asked);
    free(memory);
    return moved;
}
