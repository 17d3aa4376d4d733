/* The rig's host: compiled together with a firmware, it runs timeline after timeline through it in virtual time. It
   follows the order of the simulator at one instant: door, contact and network have changed; then power loss, reset,
   end of a send, what the firmware does, the timer, the contact edge. One unit, for a quick compilation. */
#if defined(__linux__)
#define _GNU_SOURCE
#endif
#include <errno.h>
#include <fcntl.h>
#include <pthread.h>
#include <setjmp.h>
#include <signal.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/resource.h>
#include <sys/time.h>
#include <time.h>
#include <unistd.h>
#if defined(__APPLE__)
#include <mach-o/getsect.h>
#include <mach-o/ldsyms.h>
#else
#include <link.h>
#endif
#if defined(__linux__)
#include <sys/syscall.h>
#include <ucontext.h>
/* Straight from the system: a firmware may have functions with these names. */
#define read(fd, to, bytes) syscall(SYS_read, fd, to, bytes)
#define write(fd, from, bytes) syscall(SYS_write, fd, from, bytes)
#endif

#include "dozewatch_rig.h"
#include "world.c"
#include "rig.c"
#include "memory.c"
#include "guard.c"
#include "device.c"
#include "resume.c"
#include "timeline.c"

/* Room for the numbers of one timeline: only what is used of it is ever touched. */
#if UINTPTR_MAX > 0xffffffffu
#define MOST_NUMBERS ((size_t)1 << 27)
#else
#define MOST_NUMBERS ((size_t)1 << 24)
#endif

/* Reads all of it, or ends: whoever asked is gone. */
static void read_fully(int fd, void *to, size_t bytes)
{
    unsigned char *at = to;
    while (bytes > 0) {
        ssize_t count = read(fd, at, bytes);
        if (count < 0 && errno == EINTR) continue;
        if (count <= 0) _exit(OWN_EXIT);
        at += count;
        bytes -= (size_t)count;
    }
}

/* What a firmware prints goes into a pipe that the rig empties after each wake. */
static void take_over_output(rig *r)
{
    int ends[2];
    int nowhere = open("/dev/null", O_RDONLY);
    if (nowhere < 0 || pipe(ends) != 0) _exit(70);
    r->error_fd = fcntl(STDERR_FILENO, F_DUPFD, 200);
    r->printed_fd = fcntl(ends[0], F_DUPFD, 200);
    fcntl(r->printed_fd, F_SETFL, O_NONBLOCK);
    fcntl(ends[1], F_SETFL, O_NONBLOCK);
    dup2(nowhere, STDIN_FILENO);
    dup2(ends[1], STDOUT_FILENO);
    dup2(ends[1], STDERR_FILENO);
    close(nowhere);
    close(ends[0]);
    close(ends[1]);
    setvbuf(stdout, NULL, _IONBF, 0);
    setvbuf(stderr, NULL, _IONBF, 0);
}

/* Moved to high numbers: a firmware that closes all it can think of does not reach them. */
static int open_end(const char *path, int flags)
{
    int fd = open(path, flags), high;
    if (fd < 0) _exit(72);
    high = fcntl(fd, F_DUPFD, 200);
    close(fd);
    return high;
}

/* Arguments: the pipe that timelines come from, and the one that traces go to. */
int main(int count, char **arguments)
{
    rig *r = own_pages_at((unsigned char *)THE_RIG_AT, sizeof(rig));
    double *numbers =
        mmap(NULL, MOST_NUMBERS * sizeof(double), PROT_READ | PROT_WRITE, MAP_PRIVATE | MAP_ANONYMOUS | MAP_NORESERVE, -1, 0);
    int asks;
    unsigned char here;
    static const struct itimerval none;
    setitimer(ITIMER_PROF, &none, NULL);
    setitimer(ITIMER_REAL, &none, NULL);
    if (count != 3 || numbers == MAP_FAILED) return 70;
    r->out_fd = open_end(arguments[2], O_WRONLY);
    asks = open_end(arguments[1], O_RDONLY);
    r->stack_top = &here;
    has_begun = 1;
    open_heap();
    take_over_output(r);
    r->pristine = early_snapshot != NULL ? early_snapshot : take_snapshot();
    r->retained = own_pages(retained_bytes());
    r->built = own_pages(retained_bytes());
    r->kept = open_kept();
    set_guards();
    for (;;) {
        double head[4];
        read_fully(asks, head, sizeof head);
        if (head[0] < 0 || head[0] > (double)MOST_NUMBERS) _exit(OWN_EXIT);
        read_fully(asks, numbers, (size_t)head[0] * sizeof(double));
        r->seconds = 0;
        r->seconds_limit = (int64_t)head[1];
        r->writes_each_wake = (int)head[2];
        r->most_ticks = head[3] != 0 ? FEWER_TICKS : MOST_TICKS;
        read_world(&r->world, numbers);
        run_timeline(r, numbers, (size_t)head[0]);
    }
}
