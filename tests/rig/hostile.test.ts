// Firmware that is broken or hostile: each way has its name and its instant, and nothing is left running.
import { execFileSync, spawnSync } from 'node:child_process';
import { existsSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it, onTestFinished } from 'vitest';
import type { Rig } from '../../src/cli/rig/process.js';
import type { Experiment } from '../../src/sim/index.js';
import { idealContactEdges, spansOf } from '../../src/world/index.js';
import { ownFolder } from '../cli/run-here.js';
import { dayOfADoor, textOnTheRig } from './on-the-rig.js';

const leftBehind = path.join(tmpdir(), `dozewatch-left-behind-${String(process.pid)}`);
const firstCheckMs = 400;
const ask = { wakes: true, limitSeconds: 20 };

/** Bodies of dw_wake that go wrong at the first wake. */
const atOnce: readonly (readonly [what: string, kind: string, body: string])[] = [
  ['computes without end', 'endless-loop', 'for (volatile int x = 0;;) x++;'],
  ['waits for the clock to go on by itself', 'endless-loop', 'while (dw_clock_ms() < 5000) {}'],
  ['divides by zero', 'crashed', 'volatile int z = 0; volatile int y = 100 / z; (void)y;'],
  ['follows a null pointer', 'crashed', 'volatile int *volatile p = 0; *p = 1;'],
  ['aborts', 'crashed', 'abort();'],
  ['prints without end', 'floods-output', 'for (;;) printf("again\\n");'],
  ['forks', 'asks-the-system', 'for (;;) fork();'],
  ['starts another program', 'asks-the-system', 'if (system("true")) dw_sleep_ms(1000);'],
  ['signals its parent', 'asks-the-system', 'kill(getppid(), SIGKILL);'],
  ['closes every file', 'asks-the-system', 'for (int i = 0; i < 1024; i++) close(i);'],
  ['waits for a signal', 'asks-the-system', 'pause();'],
  ['blocks all signals', 'asks-the-system', 'sigset_t s; sigfillset(&s); sigprocmask(0, &s, 0);'],
  ['takes all memory', 'out-of-memory', 'for (;;) memset(malloc(100000), 1, 100000);'],
  ['gives memory back twice', 'misused-heap', 'char *m = malloc(9); give(m); give(m);'],
  ['gives back what it never took', 'misused-heap', 'give((char *)hours);'],
  ['gives back the middle of a block', 'misused-heap', 'give((char *)malloc(99) + 16);'],
  ['writes one past a block and gives it back', 'misused-heap', 'give(filled(malloc(16), 17));'],
  ['writes one past a block', 'misused-heap', 'hours[0] = *filled(malloc(16), 17); break;'],
  ['writes far past a block', 'crashed', 'hours[0] = *filled(malloc(16), 99 << 20);'],
  [
    'writes to a block given back',
    'misused-heap',
    'char *m = malloc(99); give(m); *filled(m, 1) = 2; break;',
  ],
  [
    'goes on from a block given back',
    'misused-heap',
    'char **m = malloc(8); give((char *)m); **(char *volatile *)m = 1;',
  ],
  [
    'prints more than fits',
    'out-of-bounds',
    'char b[8]; sprintf(b, "%d", 100000000 + cause); give(b);',
  ],
  [
    'copies more than fits',
    'out-of-bounds',
    'char b[8]; memcpy(b, retained, 8 + (size_t)which); give(b);',
  ],
  ['raises an abort', 'crashed', 'raise(SIGABRT);'],
  ['exits', 'exited', 'exit(3);'],
  ['ends the rig', 'broke-the-rig', '_exit(77);'],
  ['stops itself', 'asks-the-system', 'raise(SIGSTOP);'],
  ['has a local array of 8 MiB', 'stack-overflow', 'hours[0] = large(cause);'],
  ['writes over its stack', 'out-of-bounds', 'char b[8]; char *volatile p = b; memset(p, 7, 600);'],
  ['calls itself without end', 'stack-overflow', 'hours[0] = deeper(1);'],
  ['writes one past an array', 'out-of-bounds', 'for (int i = 0; i <= 4; i++) hours[i] = cause;'],
  [
    'writes past what it retains',
    'out-of-bounds',
    'char *volatile p = retained; memset(p, 1, 40);',
  ],
  ['writes a file', 'asks-the-system', `fopen("${leftBehind}", "w");`],
  ['runs through memory', 'crashed', 'for (char *p = (char *)stdout;; p += 64) *p = 1;'],
];

/** All of them in one firmware: for how many seconds the door is open from the start says which. */
const chosen = `
  DW_RETAINED static char retained[8];
  static int hours[4];
  static int deeper(volatile int n) { volatile char b[99]; b[0] = n; return deeper(n + 1) + b[0]; }
  __attribute__((noinline)) static void give(char *volatile m) { free(m); }
  __attribute__((noinline)) static char *filled(char *volatile m, int n) { memset(m, 1, n); return m; }
  __attribute__((noinline)) static int large(int n) { volatile char b[8 << 20]; b[0] = n; return b[0] + b[n]; }
  void dw_wake(dw_cause cause) {
    int which = 0;
    while (dw_contact_is_open()) { which += 1; dw_delay_ms(1000); }
    switch (which) {
      ${atOnce.map(([, , body], index) => `case ${String(index + 1)}: { ${body} break; }`).join('\n')}
    }
    dw_sleep_ms(60000 + retained[0] * hours[0] + (cause == DW_CONTACT ? deeper(1) : 0));
  }`;

function openFor(seconds: number): Experiment {
  const experiment = dayOfADoor();
  const openings = spansOf([[0, firstCheckMs + seconds * 1_000 - 500]]);
  const world = { ...experiment.world, openings, contact: idealContactEdges(openings) };
  return { ...experiment, world };
}

describe('firmware that goes wrong at its first wake', () => {
  let rig: Rig;
  beforeAll(async () => {
    rig = await textOnTheRig(chosen, 'kept');
  });
  afterAll(() => rig.close());

  it.each(atOnce.map(([what, kind], index) => ({ what, kind, index })))(
    'that $what is told as $kind',
    ({ kind, index }) => {
      const { failure } = rig.run(openFor(index + 1), ask);
      expect(failure?.kind).toBe(kind);
      if (kind !== 'broke-the-rig') {
        expect(failure?.atMs).toBe(firstCheckMs + (index + 1) * 1_000);
      }
    },
  );

  it('leaves no file behind', () => {
    expect(existsSync(leftBehind)).toBe(false);
  });

  it('and runs well where nothing goes wrong', () => {
    expect(rig.run(dayOfADoor(), ask).failure).toBeNull();
  });
});

const olderWay = 'asks as older programs did';

/** Whether this system still has the calls of 32-bit programs: one of them asks for the number of the process. */
function hasOldCalls(): boolean {
  const folder = ownFolder({
    'old.c':
      'int main(void) { long r; __asm__ volatile("int $0x80" : "=a"(r) : "a"(20L) : "memory"); return r > 0 ? 0 : 1; }',
  });
  execFileSync('cc', ['-o', 'old', 'old.c'], { cwd: folder });
  return spawnSync(path.join(folder, 'old')).status === 0;
}

/** Calls that reach for the machine that the rig runs on, and what the report says that they ask for. */
const asked: readonly (readonly [what: string, words: string, body: string])[] = [
  ['reads the time of day', 'the time, which is this computer', 'hours[0] = (int)time(0);'],
  ['reads a clock', 'the time, which', 'struct timespec t; clock_gettime(CLOCK_MONOTONIC, &t);'],
  ['starts a thread', 'another process or thread', 'pthread_t t; pthread_create(&t, 0, other, 0);'],
  ['opens a pipe to a program', 'another process or thread', 'if (popen("true", "r")) abort();'],
  ['draws random numbers', 'random numbers', 'if (getrandom(hours, 4, 0)) dw_sleep_ms(1000);'],
  ['empties a file', 'a file', `if (truncate("${leftBehind}", 0)) dw_sleep_ms(1000);`],
  ['makes a link', 'a file', `if (symlink("/", "${leftBehind}")) dw_sleep_ms(1000);`],
  ['changes its folder', 'a file', 'if (chdir("/")) dw_sleep_ms(1000);'],
  ['sets an alarm', 'signals or timers', 'alarm(1);'],
  ['signals its parent', 'signals or timers', 'kill(getppid(), SIGKILL);'],
  [olderWay, 'something', '__asm__ volatile("int $0x80" :: "a"(2L) : "memory");'],
  ['asks to be nice', 'something that a device does not have', 'if (nice(5)) dw_sleep_ms(1000);'],
];

describe('firmware that asks the system', () => {
  let rig: Rig;
  beforeAll(async () => {
    rig = await textOnTheRig(
      `#include <pthread.h>
      #include <sys/random.h>
      #include <time.h>
      static void *other(void *on) { return on; }
      static int hours[4];
      void dw_wake(dw_cause cause) {
        while (dw_contact_is_open()) { hours[1] += 1; dw_delay_ms(1000); }
        switch (hours[1]) {
          ${asked.map(([, , body], index) => `case ${String(index + 1)}: { ${body} break; }`).join('\n')}
        }
        dw_sleep_ms(60000 + (cause == DW_CONTACT ? *(int *)other(hours) : 0));
      }`,
      'kept',
    );
  });
  afterAll(() => rig.close());

  it.each(asked.map(([what, words], index) => ({ what, words, index })))(
    'and $what is told what it asked for',
    ({ what, words, index }) => {
      writeFileSync(leftBehind, 'kept');
      onTestFinished(() => rmSync(leftBehind));
      const { failure } = rig.run(openFor(index + 1), ask);
      // A system without the old calls ends whatever makes one.
      if (what === olderWay && !hasOldCalls()) expect(failure?.kind).toBe('crashed');
      else {
        expect(failure?.kind).toBe('asks-the-system');
        expect(failure?.what).toContain(words);
      }
      expect(readFileSync(leftBehind, 'utf8')).toBe('kept');
    },
  );
});

describe('firmware with functions of its own in place of those of the library', () => {
  it('runs with them', async () => {
    const rig = await textOnTheRig(`
      static char pool[4096];
      static size_t used;
      void *malloc(size_t bytes) { used += 64; return bytes > 64 ? NULL : pool + used - 64; }
      void free(void *memory) { (void)memory; }
      void abort(void) { dw_sleep_ms(7200000); }
      ssize_t write(int fd, const void *from, size_t bytes) { (void)fd; (void)from; return (ssize_t)bytes; }
      void dw_wake(dw_cause c) { char *volatile m = malloc(8); dw_contact_is_open(); if (c == DW_RESET || used == 0) dw_sleep_ms(0); free(m); abort(); }`);
    const { failure, reply } = rig.run(dayOfADoor(), ask);
    expect(failure).toBeNull();
    expect(reply.wakes).toHaveLength(12);
  });
});

describe('firmware that goes wrong later', () => {
  it('that writes an end of its own where the rig answers is not believed', async () => {
    const rig = await textOnTheRig(`void dw_wake(dw_cause c) {
      double end[14] = {3}; (void)c;
      for (int fd = 3; fd < 300; fd++) if (write(fd, end, sizeof end) < 0) continue;
      dw_sleep_ms(60000);
    }`);
    expect(rig.run(dayOfADoor(), ask).failure).toMatchObject({ kind: 'broke-the-rig', atMs: 0 });
  });

  it('that sleeps for nothing is told as not resting, after a thousand times', async () => {
    const rig = await textOnTheRig('void dw_wake(dw_cause c) { (void)c; dw_sleep_ms(0); }');
    const { failure } = rig.run(dayOfADoor(), ask);
    expect(failure).toMatchObject({ kind: 'does-not-rest', atMs: 1_000 * firstCheckMs });
  });

  it('that returns when the door is open is told at the check that saw it', async () => {
    const rig = await textOnTheRig(
      'void dw_wake(dw_cause c) { (void)c; if (dw_contact_is_open()) return; dw_sleep_ms(60000); }',
    );
    const { failure, reply } = rig.run(dayOfADoor(), ask);
    expect(failure).toMatchObject({ kind: 'returned', atMs: 3_624_400 });
    expect(reply.wakes).toHaveLength(61);
  });

  it('runs again after a failure, from the start', async () => {
    const rig = await textOnTheRig('void dw_wake(dw_cause c) { (void)c; _exit(77); }');
    const once = rig.run(dayOfADoor(), ask);
    expect(rig.run(dayOfADoor(), ask).failure).toEqual(once.failure);
  });
});

/** Static initialisers that go wrong. */
const early: readonly (readonly [what: string, kind: string, body: string])[] = [
  ['ends it', 'exited', '_exit(0);'],
  ['ends it as the rig would', 'broke-the-rig', '_exit(77);'],
  ['computes without end', 'endless-loop', 'for (volatile int x = 0;;) x++;'],
  ['follows a null pointer', 'crashed', 'volatile int *volatile p = 0; *p = 1;'],
  ['calls itself without end', 'stack-overflow', 'n = deeper(1);'],
  ['takes all memory', 'out-of-memory', 'for (;;) memset(malloc(100000), 1, 100000);'],
  ['forks', 'asks-the-system', 'for (;;) fork();'],
  ['asks the device', 'called-too-early', 'n = (int)dw_clock_ms();'],
  ['waits for ever', 'waits-for-ever', 'for (;;) pause();'],
];

describe('firmware that never comes to its first wake', () => {
  it.each(early)('because a static initialiser %s is told as %s', async (_, kind, body) => {
    const rig = await textOnTheRig(`
      static volatile int n;
      __attribute__((unused)) static int deeper(volatile int n) { volatile char b[99]; b[0] = n; return deeper(n + 1) + b[0]; }
      __attribute__((constructor)) static void before(void) { ${body} }
      void dw_wake(dw_cause c) { (void)c; dw_sleep_ms(1000 + n); }`);
    const wanted = { kind, atMs: 0 };
    expect(rig.run(dayOfADoor(), ask).failure).toMatchObject(wanted);
    expect((await rig.runInSteps(dayOfADoor(), ask)).failure).toMatchObject(wanted);
  });

  it('because it has too many variables is told as that', async () => {
    const rig = await textOnTheRig(`
      static char all[100 << 20];
      void dw_wake(dw_cause c) { char *volatile at = all; at[c] = 1; dw_sleep_ms(1000); }`);
    const { failure } = rig.run(dayOfADoor(), ask);
    expect(failure).toMatchObject({ kind: 'out-of-memory', atMs: 0 });
    expect(failure?.what).toContain('64 MiB for its variables');
  });

  it('is not what a static initialiser is that only sets up', async () => {
    const rig = await textOnTheRig(`
      static int steps;
      __attribute__((constructor)) static void before(void) { char *m = malloc(9); steps = m != NULL; printf("set up\\n"); free(m); }
      void dw_wake(dw_cause c) { (void)c; dw_contact_is_open(); dw_sleep_ms(steps == 1 ? 3600000 : 0); }`);
    expect(rig.run(dayOfADoor(), ask).failure).toBeNull();
  });
});
