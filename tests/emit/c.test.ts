// Emitted C, compiled and run in the rig, against an XState actor of the same watch.
import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import path from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { deviceMs } from '../../src/base/index.js';
import type { WatchSettings } from '../../src/machine/index.js';
import type { RigRun } from '../../src/rig/index.js';
import { type Experiment, sleepClock } from '../../src/sim/index.js';
import { idealContactEdges } from '../../src/world/index.js';
import { onTheRig } from '../rig/on-the-rig.js';
import { type ActorRun, runActor } from '../support/actor-runner.js';
import { experimentsWith, logicSettings, scales, watchSettings } from '../support/arbitraries.js';
import { expandWakes } from '../support/expand.js';
import { programOf, watchWith } from '../support/experiments.js';
import { expectSame } from '../support/same.js';
import { emittedFolder, strict } from './emitted.js';

/** Every combination of what a watch file may say, each at its edge. */
function combinations(): readonly WatchSettings[] {
  const thresholds = [
    { open: 1, outOf: 1 },
    { open: 2, outOf: 2 },
    { open: 2, outOf: 3 },
  ];
  const wakings = ['timer', 'opening', 'any-change'] as const;
  const all: WatchSettings[] = [];
  for (let bits = 0; bits < 64; bits += 1) {
    const heartbeats = (bits & 1) !== 0;
    // Each threshold and each way of waking meets each pair of the others.
    const escalationThreshold = thresholds[(bits + (bits >> 3)) % 3] ?? { open: 2, outOf: 2 };
    const wakeOn = wakings[(bits + (bits >> 2)) % 3] ?? 'timer';
    all.push(
      watchWith({
        escalationThreshold,
        clearThreshold: (bits & 2) === 0 ? 1 : 2,
        cooldownEndsWhenShut: (bits & 4) !== 0,
        afterAlert: (bits & 8) === 0 ? 'keep-watching' : 'hold-until-reset',
        unsentWhenShut: (bits & 16) === 0 ? 'send' : 'drop',
        retryAttempts: (bits & 32) === 0 ? 1 : 3,
        wakeOn,
        heartbeats,
        heartbeatIntervalMs: heartbeats ? deviceMs(86_400_000) : null,
      }),
    );
  }
  return all;
}

describe('emit c', () => {
  it('compiles without a warning for every combination of settings', () => {
    const programs = Object.fromEntries(
      combinations().map((watch, index) => [`watch${String(index)}`, programOf(watch)]),
    );
    const prefixes = Object.keys(programs);
    expect(prefixes.length).toBe(64);
    const all = prefixes.map((prefix) => `#include "${prefix}.c"\n`).join('');
    const folder = emittedFolder(programs, { 'all.c': all });
    execFileSync('cc', [...strict, '-c', '-o', 'all.o', 'all.c'], { cwd: folder, stdio: 'pipe' });
  });

  it('reads its tables by one macro only, so that they can lie where a pointer does not reach', () => {
    const messages = watchWith({ heartbeats: true, heartbeatIntervalMs: deviceMs(86_400_000) });
    const folder = emittedFolder({ one: programOf(watchWith({})), two: programOf(messages) });
    for (const name of ['one', 'two']) {
      const upper = name.toUpperCase();
      const source = readFileSync(path.join(folder, `${name}.c`), 'utf8');
      const uses = source.match(new RegExp(`.*${name}_after_.*`, 'gu')) ?? [];
      const isMacroOrTable = new RegExp(`${upper}_READ\\(${name}_after_|${upper}_TABLE `, 'u');
      expect(uses.filter((line) => !isMacroOrTable.test(line))).toEqual([]);
      const far = [`-D${upper}_TABLE=__attribute__((section(".far")))`];
      const read = [`-D${upper}_READ(item)=(*(const volatile ${name}_item *)&(item))`];
      execFileSync('cc', [...strict, ...far, ...read, '-c', '-o', `${name}.o`, `${name}.c`], {
        cwd: folder,
        stdio: 'pipe',
      });
      expect(readFileSync(path.join(folder, `${name}.o`)).includes('.far')).toBe(true);
    }
  });

  it('decides in the rig as an XState actor does, in 250 timelines of random watches, whatever goes wrong', async () => {
    const watches = scales.flatMap((scale) =>
      fc
        .sample(
          logicSettings.chain((logic) => watchSettings(logic, scale)),
          5,
        )
        .map((watch) => ({ watch, scale: { ...scale, lengthMs: scale.lengthMs / 5 } })),
    );
    const met = new Set<string>();
    let timelines = 0;
    for (const { watch, scale } of watches) {
      const program = programOf(watch);
      const file = path.join(emittedFolder({ watch: program }), 'watch_rig.c');
      const rig = await onTheRig(file, 'cc', 'kept');
      for (const drawn of fc.sample(experimentsWith(program, scale), 22)) {
        const experiment = onItsOwnClock(keepingHeartbeats(drawn));
        if (program.watch.heartbeats && isResetInFirstBoot(experiment)) continue;
        const run = rig.run(experiment, { wakes: true, limitSeconds: 20 });
        expectSame(seenOnTheRig(run), seenOfTheActor(runActor(experiment)));
        for (const fault of faultsIn(experiment)) met.add(fault);
        timelines += 1;
      }
      rig.close();
    }
    expect(timelines).toBeGreaterThan(250);
    expect([...met].sort()).toEqual(['clock', 'contact', 'network', 'power', 'reset']);
  });
});

/** Every wake: what it read and sent, and how it went to sleep. */
function seenOnTheRig({ trace, failure }: RigRun) {
  return { wakes: expandWakes(trace).map(seenIn), failure };
}

function seenOfTheActor({ wakes }: ActorRun) {
  return { wakes: wakes.map(seenIn), failure: null };
}

/** Firmware names no interval: what counts is how long it sleeps. */
function seenIn(wake: ActorRun['wakes'][number]) {
  const { cause, wakeMs, checkMs, contact, alertSend, heartbeatSend, sleep, holds } = wake;
  const asleep = sleep === null ? null : [sleep.fromMs, sleep.lengthMs];
  const [alert, heartbeat] = [withoutCutWait(alertSend), withoutCutWait(heartbeatSend)];
  return { cause, wakeMs, checkMs, contact, alert, heartbeat, asleep, holds };
}

/** Of a send that is cut off, a device does not learn how long it waited for the network, nor whether it would have failed. */
function withoutCutWait(send: ActorRun['wakes'][number]['alertSend']) {
  return send?.outcome === 'cutOff' ? { ...send, waitedMs: undefined, wouldFail: undefined } : send;
}

/** A device that is reset before its first check cannot know for how long it has had power. */
function isResetInFirstBoot(experiment: Experiment): boolean {
  const { wakes } = runActor(experiment);
  return wakes.some(
    ({ cause, checkMs }, index) =>
      cause === 'power-on' && checkMs === null && wakes[index + 1]?.cause === 'reset',
  );
}

/**
 * With a steady error a device counts parts of a millisecond that its clock does not show; the rig makes up for that from
 * the last delivery or heartbeat on, and cannot for both. The same sleeps, and a clock that reads whole milliseconds.
 */
function onItsOwnClock(experiment: Experiment): Experiment {
  const { program, timing, seed } = experiment;
  const { countsNominal, ppm } = sleepClock(timing.clockError, seed);
  if (!program.watch.heartbeats || countsNominal || ppm === null) return experiment;
  const inTurn = { kind: 'inTurn' as const, ppm: [ppm] };
  return { ...experiment, timing: { ...timing, clockError: inTurn } };
}

/**
 * A cleared memory has no time of the last heartbeat: the emitted firmware sends one at once if the interval has passed since
 * power-on, the simulated watch counts from the reset. So resets of a watch with heartbeats keep memory here.
 */
function keepingHeartbeats(experiment: Experiment): Experiment {
  const { program, world } = experiment;
  const { resetEffects } = world;
  if (!program.watch.heartbeats || resetEffects === undefined) return experiment;
  const kept = resetEffects.map((effect) => ({ ...effect, clears: false }));
  return { ...experiment, world: { ...world, resetEffects: kept } };
}

/** What goes wrong in an experiment. */
function faultsIn({ world, timing: { clockError } }: Experiment): readonly string[] {
  const ideal = idealContactEdges(world.openings);
  return [
    ...(clockError.kind === 'fixed' && clockError.ppm === 0 ? [] : ['clock']),
    ...(world.powerLost.fromMs.length > 0 ? ['power'] : []),
    ...(world.resetsMs.length > 0 ? ['reset'] : []),
    ...(world.networkDown.fromMs.length > 0 ? ['network'] : []),
    ...(world.contact.length === ideal.length ? [] : ['contact']),
  ];
}
