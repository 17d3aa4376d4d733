/* Deep sleep: before each wake, every byte that a firmware can have changed is put back to what it was when the program
   began. That is the static data of the program and of its libraries, thread-local data, the heap (an allocator of
   our own) and the stack below the caller. What is retained is carried over by hand. The rig's own state lies in
   mappings of its own, which are not put back. */

#include "heap.c"

/* ---- static data: what is writable of the program and its libraries, without what is made read-only ---- */

#define MOST_REGIONS 64

typedef struct {
    unsigned char *at;
    size_t bytes;
    unsigned char *pristine;
} region;

typedef struct snapshot {
    region regions[MOST_REGIONS];
    int count;
    size_t heap_used;
    unsigned char *heap;
    unsigned char *retained; /* initial values */
} snapshot;

#if defined(__APPLE__)
extern unsigned char retained_start[] __asm("section$start$__DATA$dw_retained");
extern unsigned char retained_end[] __asm("section$end$__DATA$dw_retained");
extern unsigned char noinit_start[] __asm("section$start$__DATA$dw_noinit");
extern unsigned char noinit_end[] __asm("section$end$__DATA$dw_noinit");
#else
extern unsigned char retained_start[] __asm("__start_dw_retained");
extern unsigned char retained_end[] __asm("__stop_dw_retained");
extern unsigned char noinit_start[] __asm("__start_dw_noinit");
extern unsigned char noinit_end[] __asm("__stop_dw_noinit");
#endif

/* Beyond the firmware's own variables, which the linker puts first: a write that runs on past them shows here. The
   section is there even where a firmware retains nothing. */
#define GUARD_BYTES 64
#define GUARD 0x5a
#define EIGHT GUARD, GUARD, GUARD, GUARD, GUARD, GUARD, GUARD, GUARD
DW_RETAINED static volatile unsigned char retained_guard[GUARD_BYTES] = {EIGHT, EIGHT, EIGHT, EIGHT,
                                                                         EIGHT, EIGHT, EIGHT, EIGHT};
DW_RETAINED_NOINIT static volatile unsigned char noinit_guard[GUARD_BYTES] = {EIGHT, EIGHT, EIGHT, EIGHT,
                                                                              EIGHT, EIGHT, EIGHT, EIGHT};
static volatile unsigned char data_guard[GUARD_BYTES] = {EIGHT, EIGHT, EIGHT, EIGHT, EIGHT, EIGHT, EIGHT, EIGHT};
static volatile unsigned char zero_guard[GUARD_BYTES];

static int guards_are_whole(void)
{
    int index;
    for (index = 0; index < GUARD_BYTES; index += 1) {
        if (retained_guard[index] != GUARD || noinit_guard[index] != GUARD) return 0;
        if (data_guard[index] != GUARD || zero_guard[index] != 0) return 0;
    }
    return 1;
}

static size_t set_bytes(void) { return (size_t)(retained_end - retained_start); }
static size_t noinit_bytes(void) { return (size_t)(noinit_end - noinit_start); }

/* Of all that is retained: first what is set at power-on, then what is not. */
static size_t retained_bytes(void) { return set_bytes() + noinit_bytes(); }

static void store_retained(unsigned char *to)
{
    memcpy(to, retained_start, set_bytes());
    memcpy(to + set_bytes(), noinit_start, noinit_bytes());
}

static void load_retained(const unsigned char *from)
{
    memcpy(retained_start, from, set_bytes());
    memcpy(noinit_start, from + set_bytes(), noinit_bytes());
}

static int has_changed_retained(const unsigned char *from)
{
    return memcmp(from, retained_start, set_bytes()) != 0 || memcmp(from + set_bytes(), noinit_start, noinit_bytes()) != 0;
}

/* Of the firmware's own variables, where the guard comes last. */
static size_t own_set_bytes(void)
{
    size_t own = (size_t)(retained_guard - retained_start);
    return own + GUARD_BYTES == set_bytes() ? own : set_bytes();
}

static size_t own_noinit_bytes(void)
{
    size_t own = (size_t)(noinit_guard - noinit_start);
    return own + GUARD_BYTES == noinit_bytes() ? own : noinit_bytes();
}

/* @param at where they are to be; NULL: anywhere. */
static void *own_pages_at(unsigned char *at, size_t bytes)
{
    size_t page = (size_t)sysconf(_SC_PAGESIZE);
    size_t rounded = (bytes + page - 1) / page * page;
    /* A page that cannot be touched on either side: a write that runs on ends there. */
    unsigned char *pages = mmap(at == NULL ? NULL : at - page, rounded + 2 * page, PROT_NONE, MAP_PRIVATE | MAP_ANONYMOUS, -1, 0);
    if (pages == MAP_FAILED) _exit(70);
    if (mprotect(pages + page, rounded, PROT_READ | PROT_WRITE) != 0) _exit(70);
    if (at != NULL && pages + page != at) _exit(70);
    return pages + page;
}

static void *own_pages(size_t bytes) { return own_pages_at(NULL, bytes); }

static void add_region(snapshot *of, unsigned char *at, size_t bytes)
{
    if (bytes == 0) return;
    if (of->count == MOST_REGIONS) _exit(70);
    of->regions[of->count].at = at;
    of->regions[of->count].bytes = bytes;
    of->count += 1;
}

#if defined(__APPLE__)
static void find_regions(snapshot *of)
{
    unsigned long bytes = 0;
    unsigned char *at = getsegmentdata(&_mh_execute_header, "__DATA", &bytes);
    add_region(of, at, bytes);
}

static int has_too_many_variables(void) { return 0; }
#else
static int add_object(struct dl_phdr_info *object, size_t size, void *to)
{
    snapshot *of = to;
    size_t page = (size_t)sysconf(_SC_PAGESIZE);
    uintptr_t relro_from = 0, relro_to = 0;
    int index;
    (void)size;
    for (index = 0; index < object->dlpi_phnum; index += 1) {
        const ElfW(Phdr) *part = &object->dlpi_phdr[index];
        if (part->p_type != PT_GNU_RELRO) continue;
        relro_from = object->dlpi_addr + part->p_vaddr;
        relro_to = (relro_from + part->p_memsz) / page * page;
    }
    for (index = 0; index < object->dlpi_phnum; index += 1) {
        const ElfW(Phdr) *part = &object->dlpi_phdr[index];
        uintptr_t from = object->dlpi_addr + part->p_vaddr;
        uintptr_t end = from + part->p_memsz;
        if (part->p_type == PT_TLS && object->dlpi_tls_data != NULL) {
            add_region(of, object->dlpi_tls_data, part->p_memsz);
        }
        if (part->p_type != PT_LOAD || (part->p_flags & PF_W) == 0) continue;
        if (relro_from >= from && relro_to > from && relro_to <= end) from = relro_to;
        add_region(of, (unsigned char *)from, end - from);
    }
    return 0;
}

static void find_regions(snapshot *of) { dl_iterate_phdr(add_object, of); }

/* Of the program itself, which comes first. */
static int add_variables(struct dl_phdr_info *object, size_t size, void *to)
{
    size_t *bytes = to;
    int index;
    (void)size;
    for (index = 0; index < object->dlpi_phnum; index += 1) {
        const ElfW(Phdr) *part = &object->dlpi_phdr[index];
        if (part->p_type == PT_LOAD && (part->p_flags & PF_W) != 0) *bytes += part->p_memsz;
    }
    return 1;
}

/* All of it is copied before each wake; and no device has as much. */
#define MOST_VARIABLES ((size_t)64 << 20)

static int has_too_many_variables(void)
{
    size_t bytes = 0;
    dl_iterate_phdr(add_variables, &bytes);
    return bytes > MOST_VARIABLES;
}
#endif

/* Takes the picture that each wake begins with: before the firmware's static initialisers, which run in each wake, as on a device
   that boots. Nothing of the rig itself may lie in static data that changes later. */
static snapshot *take_snapshot(void)
{
    snapshot *taken = own_pages(sizeof(snapshot));
    int index;
    find_regions(taken);
    for (index = 0; index < taken->count; index += 1) {
        region *one = &taken->regions[index];
        one->pristine = own_pages(one->bytes);
    }
    taken->retained = own_pages(retained_bytes());
    taken->heap_used = heap_used;
    taken->heap = own_pages(heap_used + 1);
    memcpy(taken->heap, heap_base, heap_used);
    store_retained(taken->retained);
    for (index = 0; index < taken->count; index += 1) {
        memcpy(taken->regions[index].pristine, taken->regions[index].at, taken->regions[index].bytes);
        mprotect(taken->regions[index].pristine, taken->regions[index].bytes, PROT_READ);
    }
    mprotect(taken, sizeof(snapshot), PROT_READ);
    return taken;
}

__attribute__((noinline)) static void restore(const snapshot *from)
{
    int index;
    for (index = 0; index < from->count; index += 1) {
        memcpy(from->regions[index].at, from->regions[index].pristine, from->regions[index].bytes);
    }
    /* It was taken before there was a device. */
    has_begun = 1;
    memcpy(heap_base, from->heap, from->heap_used);
    begin_arena();
}

#if defined(__APPLE__)
/* What they did stays as it was at the start. */
static void run_initialisers(void) {}
#else
typedef void initialiser(int, char **, char **);
extern initialiser *first_initialiser[] __asm("__init_array_start");
extern initialiser *last_initialiser[] __asm("__init_array_end");
__attribute__((constructor(101))) static void guard_initialisers(void);

/* The firmware's constructors, and those of retained objects among them. */
static void run_initialisers(void)
{
    static char *nothing[1];
    size_t index, count = (size_t)(last_initialiser - first_initialiser);
    for (index = 0; index < count; index += 1) {
        if ((void (*)(void))first_initialiser[index] != guard_initialisers) first_initialiser[index](0, nothing, nothing);
    }
}
#endif

/* Clears the stack below the caller: what one wake left there is not to be read by the next. */
#define SCRUBBED_BYTES 65536

__attribute__((noinline)) static void scrub_stack(void)
{
    unsigned char below[SCRUBBED_BYTES];
    memset(below, 0, sizeof below);
    __asm__ volatile("" : : "r"(below) : "memory");
}
