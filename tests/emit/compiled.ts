// Emitted watches compiled for this machine, several in one program, driven by lines of facts: what an XState actor
// lived through in a timeline goes in, what the C code orders comes out.
import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { onTestFinished } from 'vitest';
import { cFiles } from '../../src/emit/index.js';
import type { SleepInterval, WatchSettings } from '../../src/machine/index.js';
import type { Experiment, Program } from '../../src/sim/index.js';
import type { ClockError } from '../../src/world/index.js';
import type { ActorRun } from '../support/actor-runner.js';

export const strict = ['-std=c99', '-Wall', '-Wextra', '-Wpedantic', '-Wconversion', '-Werror'];

/** Facts as the driver reads them, and what the machine did about them. */
export interface Script {
  readonly lines: readonly string[];
  readonly wanted: readonly string[];
}

/** Compiles watches into one program; its result runs scripts, each of one of the watches. */
export function compiledWatches(
  programs: readonly Program[],
): (scripts: readonly (Script & { readonly index: number })[]) => readonly string[] {
  const folder = mkdtempSync(path.join(tmpdir(), 'dozewatch-test-'));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  for (const [index, program] of programs.entries()) {
    const prefix = `watch${String(index)}`;
    for (const { name, text } of cFiles(program, { prefix, origin: 'a test' }) ?? []) {
      writeFileSync(path.join(folder, name), text);
    }
  }
  writeFileSync(path.join(folder, 'driver.c'), driverText(programs));
  const binary = path.join(folder, 'driver');
  execFileSync('cc', [...strict, '-o', binary, path.join(folder, 'driver.c')], { stdio: 'pipe' });
  return (scripts) => {
    const input = scripts.flatMap(({ index, lines }) => [`W ${String(index)} 0`, ...lines]);
    const ran = spawnSync(binary, { input: `${input.join('\n')}\n`, maxBuffer: 2 ** 30 });
    if (ran.status !== 0) throw new Error(`the driver ended with ${String(ran.status)}`);
    return ran.stdout.toString().split('\n').slice(0, -1);
  };
}

function driverText(programs: readonly Program[]): string {
  const includes = programs.map((_, index) => `#include "watch${String(index)}.c"`);
  const cases = programs.map(({ watch }, index) => caseText(`watch${String(index)}`, watch));
  const calls = programs.map(
    (_, index) => `case ${String(index)}: act_watch${String(index)}(what, fact, clock); break;`,
  );
  return `#include <inttypes.h>
#include <stdio.h>
${includes.join('\n')}
${cases.join('\n')}
int main(void)
{
    char what;
    int fact, watch = 0;
    uint64_t clock;
    while (scanf(" %c %d %" SCNu64, &what, &fact, &clock) == 3) {
        if (what == 'W') watch = fact;
        switch (watch) {
        ${calls.join('\n        ')}
        default: return 1;
        }
    }
    return 0;
}
`;
}

function caseText(prefix: string, { heartbeats }: WatchSettings): string {
  const upper = prefix.toUpperCase();
  const beat = heartbeats ? `${prefix}_heartbeat_attempted(&memory, fact)` : 'orders';
  return `static void act_${prefix}(char what, int fact, uint64_t clock)
{
    static ${prefix}_memory memory = ${upper}_MEMORY_AT_POWER_ON;
    static const ${prefix}_memory at_power_on = ${upper}_MEMORY_AT_POWER_ON;
    ${prefix}_orders orders = {0, 0};
    switch (what) {
    case 'W': memory = at_power_on; return;
    case 'w': ${prefix}_wake(&memory, (${prefix}_cause)fact, clock); return;
    case 'c': orders = ${prefix}_check(&memory, fact, clock); break;
    case 'a': orders = ${prefix}_alert_attempted(&memory, fact, clock); break;
    default: orders = ${beat}; break;
    }
    printf("%u %" PRIu64 "\\n", (unsigned)orders.does, orders.sleep_ms);
}`;
}

const does = { blink: 1, drop: 2, decide: 4, alert: 8, heartbeat: 16, hold: 32, sleep: 64 };
const causes = ['power-on', 'reset', 'timer', 'contact'];

/** The run as lines of facts on the device's clock, with what the machine did at each. */
export function scriptOf(
  { program: { watch } }: Experiment,
  run: Pick<ActorRun, 'alerts' | 'wakes'>,
): Script {
  const decided = new Set(run.alerts.map(({ decidedMs }) => decidedMs));
  const dropped = new Set(run.alerts.map(({ droppedMs }) => droppedMs));
  const lines: string[] = [];
  const wanted: string[] = [];
  let offsetMs = 0;
  let asleep: ActorRun['wakes'][number]['sleep'] = null;
  for (const wake of run.wakes) {
    const ended = asleep !== null && asleep.fromMs + asleep.lengthMs === wake.wakeMs;
    if (asleep !== null && ended && wake.cause === 'timer') {
      offsetMs += nominalMs(watch, asleep.interval) - asleep.lengthMs;
    }
    asleep = wake.sleep;
    const at = (ms: number): string => String(ms + offsetMs + startMs);
    lines.push(`w ${String(causes.indexOf(wake.cause))} ${at(wake.wakeMs)}`);
    const { checkMs, alertSend, heartbeatSend } = wake;
    if (checkMs === null) continue;
    lines.push(`c ${wake.contact === 'open' ? '1' : '0'} ${at(checkMs)}`);
    const send = alertSend ?? heartbeatSend;
    const found =
      (wake.contact === 'open' ? does.blink : 0) +
      (dropped.has(checkMs) ? does.drop : 0) +
      (decided.has(checkMs) ? does.decide : 0) +
      (alertSend === null ? 0 : does.alert) +
      (heartbeatSend === null ? 0 : does.heartbeat);
    const end = endOf(watch, wake);
    wanted.push(
      send === null ? `${String(found + end.does)} ${String(end.sleepMs)}` : `${String(found)} 0`,
    );
    if (send === null || send.outcome === 'cutOff') continue;
    const kind = alertSend === null ? 'h' : 'a';
    lines.push(`${kind} ${send.outcome === 'delivered' ? '1' : '0'} ${at(send.endMs)}`);
    wanted.push(`${String(end.does)} ${String(end.sleepMs)}`);
  }
  return { lines, wanted };
}

/** Readings must not go below zero, whatever the clock's error. */
const startMs = 1e9;

function endOf(
  watch: WatchSettings,
  { sleep, holds }: ActorRun['wakes'][number],
): { readonly does: number; readonly sleepMs: number } {
  if (sleep !== null) return { does: does.sleep, sleepMs: nominalMs(watch, sleep.interval) };
  return { does: holds ? does.hold : 0, sleepMs: 0 };
}

function nominalMs(watch: WatchSettings, interval: SleepInterval): number {
  switch (interval) {
    case 'check':
      return watch.checkIntervalMs;
    case 'recheck':
      return watch.recheckIntervalMs;
    case 'retry':
      return watch.retryIntervalMs;
  }
}

/** The same sleeps, on a clock that the device reads in whole milliseconds of its own. */
export function onItsOwnClock(experiment: Experiment): Experiment {
  const { clockError } = experiment.timing;
  const ppm =
    clockError.kind === 'fixed'
      ? clockError.ppm
      : clockError.kind === 'drawn' && clockError.leastPpm === clockError.greatestPpm
        ? clockError.leastPpm
        : null;
  if (ppm === null) return experiment;
  const inTurn: ClockError = { kind: 'inTurn', ppm: [ppm] };
  return { ...experiment, timing: { ...experiment.timing, clockError: inTurn } };
}
