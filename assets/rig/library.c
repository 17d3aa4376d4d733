/* Functions of the C library that the rig answers in its place; a firmware may bring its own. */

/* Called by what the compiler adds to functions with arrays. */
INSTEAD void __stack_chk_fail(void) { end_wake(FAIL_BOUNDS, 0); }

/* In the library these block signals, which the rig refuses. */
INSTEAD void abort(void) { end_wake(FAIL_CRASH, SIGABRT); }

/* What a failed assert calls. */
INSTEAD void __assert_fail(const char *asserted, const char *file, unsigned line, const char *function)
{
    dprintf(STDERR_FILENO, "%s:%u: %s: assertion failed: %s\n", file, line, function, asserted);
    abort();
}

/* The time of this machine: read without asking the system, so that no filter sees it. Each run would be another. */
INSTEAD time_t time(time_t *to)
{
    (void)to;
    end_wake(FAIL_SYSTEM, SYSTEM_TIME);
}

INSTEAD int clock_gettime(clockid_t which, struct timespec *to)
{
    (void)which;
    (void)to;
    end_wake(FAIL_SYSTEM, SYSTEM_TIME);
}

INSTEAD clock_t clock(void) { end_wake(FAIL_SYSTEM, SYSTEM_TIME); }

/* These ask for memory or signals first: told as what they are for. */
INSTEAD int system(const char *command)
{
    (void)command;
    end_wake(FAIL_SYSTEM, SYSTEM_PROCESS);
}

INSTEAD FILE *popen(const char *command, const char *mode)
{
    (void)command;
    (void)mode;
    end_wake(FAIL_SYSTEM, SYSTEM_PROCESS);
}

INSTEAD int pthread_create(pthread_t *thread, const pthread_attr_t *with, void *(*runs)(void *), void *on)
{
    (void)thread;
    (void)with;
    (void)runs;
    (void)on;
    end_wake(FAIL_SYSTEM, SYSTEM_PROCESS);
}
