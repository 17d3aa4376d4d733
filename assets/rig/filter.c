/* Calls to the operating system, of which a firmware has next to none: the kernel hands every other one back as a signal.
   Where it has no such filter, the group of processes is killed at the end, and that must do. */
#if defined(__linux__) && (defined(__x86_64__) || defined(__aarch64__) || defined(__i386__))
#define HAS_FILTER 1
#if defined(__x86_64__)
#define OWN_MACHINE AUDIT_ARCH_X86_64
#elif defined(__i386__)
#define OWN_MACHINE AUDIT_ARCH_I386
#else
#define OWN_MACHINE AUDIT_ARCH_AARCH64
#endif
#include <linux/audit.h>
#include <linux/filter.h>
#include <linux/seccomp.h>
#include <sys/prctl.h>

/* What the rig needs while a firmware runs, and what printing may ask for. */
static const short let_through[] = {
    SYS_read,  SYS_write,      SYS_writev, SYS_rt_sigreturn, SYS_restart_syscall, SYS_getpid, SYS_gettid,
    SYS_getppid,
    SYS_mprotect, SYS_madvise, /* for the heap */
    SYS_futex, SYS_sched_yield, SYS_lseek, SYS_ioctl,        SYS_fcntl,           SYS_fstat,
#ifdef SYS_newfstatat
    SYS_newfstatat,
#endif
#if defined(__i386__)
    SYS__llseek, SYS_fstat64, SYS_fcntl64, SYS_sigreturn, SYS_statx,
#endif
};
#define LET_THROUGH ((int)(sizeof let_through / sizeof let_through[0]))

/* What the others are for, and whether they are refused before main, too: the rig itself needs the rest until then. */
static const struct {
    short number;
    short kind;
    int early;
} refused_calls[] = {
#ifdef SYS_fork
    {SYS_fork, SYSTEM_PROCESS, 1},
    {SYS_vfork, SYSTEM_PROCESS, 1},
    {SYS_open, SYSTEM_FILE, 0},
    {SYS_creat, SYSTEM_FILE, 1},
    {SYS_unlink, SYSTEM_FILE, 1},
    {SYS_rename, SYSTEM_FILE, 1},
    {SYS_link, SYSTEM_FILE, 1},
    {SYS_symlink, SYSTEM_FILE, 1},
    {SYS_chmod, SYSTEM_FILE, 1},
    {SYS_chown, SYSTEM_FILE, 1},
    {SYS_lchown, SYSTEM_FILE, 1},
    {SYS_mknod, SYSTEM_FILE, 1},
    {SYS_mkdir, SYSTEM_FILE, 1},
    {SYS_rmdir, SYSTEM_FILE, 1},
    {SYS_stat, SYSTEM_FILE, 0},
    {SYS_access, SYSTEM_FILE, 0},
    {SYS_dup2, SYSTEM_FILE, 0},
    {SYS_pause, SYSTEM_WAIT, 0},
    {SYS_select, SYSTEM_WAIT, 0},
    {SYS_poll, SYSTEM_WAIT, 0},
    {SYS_alarm, SYSTEM_SIGNAL, 1},
    {SYS_time, SYSTEM_TIME, 0},
#endif
#if defined(__i386__)
    {SYS_mmap2, SYSTEM_MEMORY, 0},
    {SYS_clock_gettime64, SYSTEM_TIME, 0},
    {SYS_clock_nanosleep_time64, SYSTEM_WAIT, 0},
#endif
    {SYS_clone, SYSTEM_PROCESS, 1},
    {SYS_clone3, SYSTEM_PROCESS, 1},
    {SYS_execve, SYSTEM_PROCESS, 1},
    {SYS_execveat, SYSTEM_PROCESS, 1},
    {SYS_ptrace, SYSTEM_PROCESS, 1},
    {SYS_setpgid, SYSTEM_PROCESS, 1},
    {SYS_setsid, SYSTEM_PROCESS, 1},
    {SYS_kill, SYSTEM_SIGNAL, 1},
    {SYS_tkill, SYSTEM_SIGNAL, 1},
    {SYS_tgkill, SYSTEM_SIGNAL, 1},
    {SYS_rt_sigqueueinfo, SYSTEM_SIGNAL, 1},
    {SYS_setitimer, SYSTEM_SIGNAL, 0},
    {SYS_timer_create, SYSTEM_SIGNAL, 1},
    {SYS_rt_sigprocmask, SYSTEM_SIGNAL, 0},
    {SYS_rt_sigaction, SYSTEM_SIGNAL, 0},
    {SYS_sigaltstack, SYSTEM_SIGNAL, 0},
    {SYS_openat, SYSTEM_FILE, 0},
    {SYS_unlinkat, SYSTEM_FILE, 1},
    {SYS_renameat, SYSTEM_FILE, 1},
    {SYS_renameat2, SYSTEM_FILE, 1},
    {SYS_linkat, SYSTEM_FILE, 1},
    {SYS_symlinkat, SYSTEM_FILE, 1},
    {SYS_mkdirat, SYSTEM_FILE, 1},
    {SYS_mknodat, SYSTEM_FILE, 1},
    {SYS_fchmod, SYSTEM_FILE, 1},
    {SYS_fchmodat, SYSTEM_FILE, 1},
    {SYS_fchown, SYSTEM_FILE, 1},
    {SYS_fchownat, SYSTEM_FILE, 1},
    {SYS_truncate, SYSTEM_FILE, 1},
    {SYS_ftruncate, SYSTEM_FILE, 1},
    {SYS_faccessat, SYSTEM_FILE, 0},
    {SYS_chdir, SYSTEM_FILE, 1},
    {SYS_fchdir, SYSTEM_FILE, 1},
    {SYS_getcwd, SYSTEM_FILE, 0},
    {SYS_dup, SYSTEM_FILE, 0},
    {SYS_dup3, SYSTEM_FILE, 0},
    {SYS_pipe2, SYSTEM_FILE, 0},
    {SYS_close, SYSTEM_FILE, 0},
    {SYS_close_range, SYSTEM_FILE, 0},
    {SYS_socket, SYSTEM_NETWORK, 1},
    {SYS_socketpair, SYSTEM_NETWORK, 1},
    {SYS_mmap, SYSTEM_MEMORY, 0},
    {SYS_mremap, SYSTEM_MEMORY, 0},
    {SYS_munmap, SYSTEM_MEMORY, 0},
    {SYS_brk, SYSTEM_MEMORY, 0},
    {SYS_nanosleep, SYSTEM_WAIT, 0},
    {SYS_clock_nanosleep, SYSTEM_WAIT, 0},
    {SYS_pselect6, SYSTEM_WAIT, 0},
    {SYS_ppoll, SYSTEM_WAIT, 0},
    {SYS_gettimeofday, SYSTEM_TIME, 0},
    {SYS_clock_gettime, SYSTEM_TIME, 0},
    {SYS_times, SYSTEM_TIME, 0},
    {SYS_getrandom, SYSTEM_RANDOM, 0},
};
#define REFUSED ((int)(sizeof refused_calls / sizeof refused_calls[0]))

/* Of the first three arguments of a call, the one with this number. */
static uint64_t argument(const void *context, int number)
{
    const ucontext_t *at = context;
#if defined(__x86_64__)
    static const int held_in[] = {REG_RDI, REG_RSI, REG_RDX};
    return (uint64_t)at->uc_mcontext.gregs[held_in[number]];
#elif defined(__i386__)
    static const int held_in[] = {REG_EBX, REG_ECX, REG_EDX};
    return (uint32_t)at->uc_mcontext.gregs[held_in[number]];
#else
    return at->uc_mcontext.regs[number];
#endif
}

/* Where the C library ends a program by itself, as when a check of its own has failed. */
static int is_abort(int call, const void *context)
{
    if (call == SYS_tgkill) return argument(context, 2) == SIGABRT;
    if (call != SYS_rt_sigprocmask || argument(context, 0) != SIG_UNBLOCK || argument(context, 1) == 0) return 0;
    return *(const uint64_t *)(uintptr_t)argument(context, 1) == (uint64_t)1 << (SIGABRT - 1);
}

static void on_refused(int number, siginfo_t *info, void *context)
{
    int index;
    (void)number;
    if (info->si_arch != OWN_MACHINE) fail_from_signal(FAIL_SYSTEM, SYSTEM_OTHER);
    if (info->si_syscall == SYS_exit_group || info->si_syscall == SYS_exit) {
        fail_from_signal(FAIL_EXITED, (int)argument(context, 0));
    }
    if (is_abort(info->si_syscall, context)) fail_from_signal(FAIL_CRASH, SIGABRT);
    for (index = 0; index < REFUSED; index += 1) {
        if (refused_calls[index].number == info->si_syscall) {
            fail_from_signal(FAIL_SYSTEM, refused_calls[index].kind);
        }
    }
    fail_from_signal(FAIL_SYSTEM, SYSTEM_OTHER);
}

/* The rig's own way out, which the filter lets through. */
#define OWN_EXIT 77

/* Two instructions a call: it is compared, and its end follows. No jump has far to go. */
static unsigned short put_call(struct sock_filter *code, unsigned short at, long number, unsigned verdict)
{
    code[at++] = (struct sock_filter)BPF_JUMP(BPF_JMP | BPF_JEQ | BPF_K, (unsigned)number, 0, 1);
    code[at++] = (struct sock_filter)BPF_STMT(BPF_RET | BPF_K, verdict);
    return at;
}

/* @param early before main: what firmware must never do. Later: all but what is let through. */
static void refuse_calls(int early)
{
    struct sock_filter code[2 * REFUSED + 16];
    struct sock_fprog program;
    unsigned short at = 0;
    int index;
    const unsigned number = offsetof(struct seccomp_data, nr), first = offsetof(struct seccomp_data, args);
    const unsigned machine = offsetof(struct seccomp_data, arch);
    /* Calls in the manner of another machine have other numbers: none is let through. */
    code[at++] = (struct sock_filter)BPF_STMT(BPF_LD | BPF_W | BPF_ABS, machine);
    code[at++] = (struct sock_filter)BPF_JUMP(BPF_JMP | BPF_JEQ | BPF_K, OWN_MACHINE, 1, 0);
    code[at++] = (struct sock_filter)BPF_STMT(BPF_RET | BPF_K, SECCOMP_RET_TRAP);
    code[at++] = (struct sock_filter)BPF_STMT(BPF_LD | BPF_W | BPF_ABS, number);
    for (index = 0; early && index < REFUSED; index += 1) {
        if (refused_calls[index].early) at = put_call(code, at, refused_calls[index].number, SECCOMP_RET_TRAP);
    }
    for (index = 0; !early && index < LET_THROUGH; index += 1) {
        at = put_call(code, at, let_through[index], SECCOMP_RET_ALLOW);
    }
    code[at++] = (struct sock_filter)BPF_JUMP(BPF_JMP | BPF_JEQ | BPF_K, SYS_exit, 2, 0);
    code[at++] = (struct sock_filter)BPF_JUMP(BPF_JMP | BPF_JEQ | BPF_K, SYS_exit_group, 1, 0);
    code[at++] = (struct sock_filter)BPF_STMT(BPF_RET | BPF_K, early ? SECCOMP_RET_ALLOW : SECCOMP_RET_TRAP);
    code[at++] = (struct sock_filter)BPF_STMT(BPF_LD | BPF_W | BPF_ABS, first);
    at = put_call(code, at, OWN_EXIT, SECCOMP_RET_ALLOW);
    code[at++] = (struct sock_filter)BPF_STMT(BPF_RET | BPF_K, SECCOMP_RET_TRAP);
    program.len = at;
    program.filter = code;
    if (prctl(PR_SET_NO_NEW_PRIVS, 1, 0, 0, 0) != 0) return;
    if (prctl(PR_SET_SECCOMP, SECCOMP_MODE_FILTER, &program) != 0) return;
}
#else
#define OWN_EXIT 0
#endif
