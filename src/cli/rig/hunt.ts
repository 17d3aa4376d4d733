// A hunt for a timeline that breaks the owner's firmware, or on which it decides differently from the machine.

import { roundedDurationText } from '../../base/index.js';
import {
  type Breach,
  deviceProperties,
  judgedProperties,
  type NamedProperty,
  unlessTheMachine,
} from '../../hunt/index.js';
import { mostExcusedBreaches } from '../../model/index.js';
import { conformance, type RigRun } from '../../rig/index.js';
import { type Experiment, simulate } from '../../sim/index.js';
import type { HuntOptions } from '../hunt/options.js';
import type { Excused, ExcusedBreaches } from '../hunt/report.js';
import type { HuntedDevice } from '../hunt/run.js';
import type { LoadedWatch } from '../inputs/load-watch.js';
import { askOf, type Firmware } from './firmware.js';
import { decidingLines } from './memory.js';
import { rigExplanations } from './replay.js';

/** A firmware takes longer than the machine: fewer timelines, longer ones among them, and all that can go wrong. */
export function rigHuntOptions(options: HuntOptions): HuntOptions {
  return {
    ...options,
    runs: options.runs ?? (options.for === undefined ? '1000' : undefined),
    length: options.length ?? '60d',
    with: options.with ?? (options.calm === true ? undefined : 'outages,power,resets'),
  };
}

/** Breaches that do not count, and on how many timelines they are. */
function excusedSoFar() {
  const counts = new Map<string, { property: string; of: Excused['of']; count: number }>();
  let timelines = 0;
  let last: unknown = null;
  let inTimeline = new Map<string, number>();
  let isAll = true;
  const add = ({ property, subject }: Breach, trial: unknown): void => {
    // One timeline is done before the next begins.
    if (trial !== last) {
      timelines += 1;
      inTimeline = new Map();
    }
    last = trial;
    const here = (inTimeline.get(property) ?? 0) + 1;
    inTimeline.set(property, here);
    if (here === mostExcusedBreaches) isAll = false;
    const of = subject?.kind ?? null;
    const counted = counts.get(property) ?? { property, of, count: 0 };
    counted.count += 1;
    counts.set(property, counted);
  };
  const so = (): ExcusedBreaches => ({ timelines, each: [...counts.values()], isAll });
  return { add, so };
}

/** @param conforms hunt for a difference from the machine, not for a broken promise. */
export function huntedFirmware(
  firmware: Firmware,
  watch: LoadedWatch,
  conforms: boolean,
): HuntedDevice {
  const { watchFile, program } = watch;
  const ask = askOf(firmware, watch, null);
  let last: { readonly run: RigRun; readonly experiment: Experiment } | null = null;
  const runOf = (experiment: Experiment, wakes: boolean): RigRun => {
    const run = firmware.rig.run(experiment, { ...ask, wakes });
    last = { run, experiment };
    return run;
  };
  const counted = excusedSoFar();
  const own = deviceProperties(program, watchFile.watch);
  // What stopped a firmware is why it missed something.
  const [running, others] = [own.slice(0, 1), own.slice(1)];
  const asked = unlessTheMachine(
    [...running, ...judgedProperties(watchFile.judge), ...others],
    counted.add,
  );
  const conformsProperty: NamedProperty = {
    about: [],
    property: {
      name: 'conforms',
      promise: 'the firmware decides like the machine of the watch file',
      breach({ question }) {
        if (last === null) return null;
        const trace = simulate(last.experiment);
        const found = conformance(last.run, trace, watchFile.watch, question.toleranceMs);
        if (found === null) return null;
        const what = `at +${roundedDurationText(found.atMs)} ${found.what}`;
        return { property: 'conforms', subject: null, what };
      },
    },
  };
  return {
    option: conforms ? '--conform' : '--hunt',
    clockStartsMs: firmware.clockStartsMs,
    toleranceMs: firmware.toleranceMs,
    commandWith: firmware.commandWith,
    properties: conforms ? [conformsProperty] : asked,
    excused: counted.so,
    run(experiment) {
      const { trace, failure } = runOf(experiment, conforms);
      if (failure === null) return { trace, stopped: null };
      const at = `at +${roundedDurationText(failure.atMs)}`;
      return { trace, stopped: `${at} ${failure.what} [${failure.kind}]` };
    },
    deciding(experiment, subject) {
      const run = runOf(experiment, true);
      const found = conforms
        ? conformance(run, simulate(experiment), watchFile.watch, firmware.toleranceMs)
        : null;
      return decidingLines(firmware, run, { experiment, subject, ask, wake: found?.wake });
    },
    isLikeTheMachine(experiment, toleranceMs) {
      const run = runOf(experiment, true);
      return conformance(run, simulate(experiment), watchFile.watch, toleranceMs) === null;
    },
    explained: (experiment, verdict, { kind, index }) =>
      rigExplanations(runOf(experiment, true), verdict, {
        experiment,
        limit: 1,
        every: true,
        wanted: (one) => one.kind === kind && one.index === index,
      }),
  };
}
