// One timeline through the owner's firmware: run, judged and reported like a replay of the machine.
import { roundedDurationText, trueMs } from '../../base/index.js';
import { drainedRun, explainRun, type RigRun, sendsByWake } from '../../rig/index.js';
import { experimentOf, localTime, type Timeline } from '../../scenarios/index.js';
import type { Experiment, Trace } from '../../sim/index.js';
import { type Explanation, judge, type Verdict, type Wanted } from '../../verdict/index.js';
import { dayAndTime, held } from '../../wording/index.js';
import type { World } from '../../world/index.js';
import type { LoadedWatch } from '../inputs/load-watch.js';
import { lateByLessThanASecond, underASecondMs } from '../layout/within-a-second.js';
import { judgedRun, type Replay } from '../replay/one.js';
import { askOf, type Firmware } from './firmware.js';
import { decidingLines, type NextSteps, ownAlert, type Subject } from './memory.js';
import { machineGets, type Origin, originLines, originOf } from './origin.js';
import { rigTraceLine } from './trace-line.js';

/** @param at called now and then with the share of the timeline that is done. */
export async function rigReplay(
  timeline: Timeline,
  watch: LoadedWatch,
  on: { readonly firmware: Firmware; readonly at?: (share: number) => void },
): Promise<Replay> {
  const { firmware, at } = on;
  const { world } = timeline;
  const experiment = experimentOf(timeline, watch);
  const ask = askOf(firmware, watch, timeline.start);
  const { lengthMs } = world;
  const first = await firmware.rig.runInSteps(experiment, ask, (atMs) => at?.(atMs / lengthMs));
  const over = (another: World): RigRun => firmware.rig.run({ ...experiment, world: another }, ask);
  const run = drainedRun(first, experiment, over);
  const judged = judgedRun(timeline, tolerant(watch, firmware.toleranceMs), (another) =>
    another === world
      ? run.trace
      : drainedRun(over(another), { ...experiment, world: another }, over).trace,
  );
  const { failure, printed, printedBytes } = run;
  const unmet = judged.unmet ?? [];
  const worst = unmet.some(({ name }) => name.startsWith('worstDelay'))
    ? worstOpening(judged.verdict)
    : null;
  const subject = firstFinding(judged, { isUnmet: unmet.length > 0, worst, experiment, run });
  const origin =
    failure === null && (subject !== null || unmet.length > 0)
      ? originOf(timeline, tolerant(watch, firmware.toleranceMs), judged.verdict)
      : null;
  const next = nextSteps(firmware, timeline, { watch, origin });
  const deciding =
    failure === null && subject === null
      ? unmet.length === 0
        ? []
        : (next.notOfFirmware ?? next.ofFirmware)
      : [
          ...decidingLines(firmware, run, {
            experiment,
            subject,
            ask,
            clockOf: (atMs) => dayAndTime(localTime(timeline.start, atMs)),
            next,
          }),
          ...(isWithinASecond(judged.trace, {
            isClean: held(judged.verdict.summary),
            timeline,
            watch,
            toleranceMs: firmware.toleranceMs,
          })
            ? [lateByLessThanASecond]
            : []),
        ];
  return {
    ...judged,
    experiment,
    firmware: {
      file: firmware.file,
      wordBits: firmware.wordBits,
      failure,
      printed,
      printedBytes,
      deciding,
    },
    traced: () => run.trace,
    explained: (limit, wanted) =>
      rigExplanations(run, judged.verdict, { experiment, limit, worst, wanted }),
    lines: () => rigLines(run, timeline),
  };
}

/** The watch file with a deadline that is later by what is tolerated. */
function tolerant(watch: LoadedWatch, toleranceMs: number): LoadedWatch {
  const { watchFile } = watch;
  const { reportWithinMs } = watchFile.judge;
  if (toleranceMs === 0 || reportWithinMs === null) return watch;
  const judge = { ...watchFile.judge, reportWithinMs: trueMs(reportWithinMs + toleranceMs) };
  return { ...watch, watchFile: { ...watchFile, judge } };
}

/** Whether all that is wrong are reports that are late by less than a second. */
function isWithinASecond(
  trace: Trace,
  {
    timeline,
    watch,
    toleranceMs,
    isClean,
  }: {
    readonly timeline: Timeline;
    readonly watch: LoadedWatch;
    readonly toleranceMs: number;
    /** Nothing is wrong without a tolerance. */
    readonly isClean: boolean;
  },
): boolean {
  if (toleranceMs > 0 || isClean) return false;
  const asked = tolerant(watch, underASecondMs).watchFile.judge;
  const judged = judge(timeline.world.openings, trace, asked, timeline.logged?.unseen);
  return held(judged.summary);
}

function nextSteps(
  firmware: Firmware,
  timeline: Timeline,
  { watch, origin }: { readonly watch: LoadedWatch; readonly origin: Origin | null },
): NextSteps {
  const words = watch.name === null ? [] : ['-c', watch.name];
  const differs = firmware.commandWith([timeline.file, '--conform', ...words]);
  const isShared = origin !== null && !origin.isAll && origin.shared.length > 0;
  return {
    ofFirmware: [...(isShared ? [machineGets(origin)] : []), `Next: ${differs}`],
    notOfFirmware: origin?.isAll === true ? originLines(origin, timeline, watch) : null,
    isOfMachine: (opening) => origin?.isOfMachine(opening) === true,
  };
}

/** The leave-open that was reported after the longest time; null: none was reported. */
function worstOpening({ openings }: Verdict): number | null {
  let [worst, worstMs]: [number | null, number] = [null, -1];
  for (const index of openings.leaveOpens) {
    const { delayMs } = openings.at(index);
    if (delayMs !== null && delayMs > worstMs) [worst, worstMs] = [index, delayMs];
  }
  return worst;
}

/**
 * The first opening missed or late, else the one that is against an expectation of the worst latency, else a false alarm, else, where
 * an expectation is not met, a repeated alert.
 */
function firstFinding(
  { verdict: { openings, alerts } }: { readonly verdict: Verdict },
  on: {
    readonly isUnmet: boolean;
    readonly worst: number | null;
    readonly experiment: Experiment;
    readonly run: RigRun;
  },
): Subject {
  if (on.run.failure !== null) return null;
  const opening = openings.leaveOpens.find((index) => {
    const { outcome } = openings.at(index);
    return outcome === 'missed' || outcome === 'late';
  });
  const shown = opening ?? on.worst;
  if (shown !== null) return { kind: 'opening', index: shown };
  const all = [...alerts.entries()];
  const of = (kind: 'false' | 'repeat'): readonly number[] =>
    all.flatMap(([index, one]) => (one.kind === kind ? [index] : []));
  const falsely = of('false');
  const some = falsely.length > 0 || !on.isUnmet ? falsely : of('repeat');
  const alert =
    some.length === 0 ? null : (ownAlert(on.experiment, on.run, some) ?? falsely[0] ?? null);
  return alert === null ? null : { kind: 'alert', index: alert };
}

/**
 * Sentences on what was missed, late or false, in the order of the timeline within each.
 * @param every on alerts of each kind.
 */
export function rigExplanations(
  run: RigRun,
  verdict: Verdict,
  {
    experiment,
    limit,
    every = false,
    worst = null,
    wanted = () => true,
  }: {
    readonly experiment: Experiment;
    readonly limit: number;
    readonly every?: boolean;
    /** An opening that is explained although it was reported in time. */
    readonly worst?: number | null;
    /** Absent: all of them. */
    readonly wanted?: Wanted | undefined;
  },
): Explanation[] {
  const why = explainRun(run, experiment.world.openings, experiment.world);
  const openings = verdict.openings.leaveOpens
    .map((index) => ({ index, outcome: verdict.openings.at(index).outcome }))
    .filter(
      ({ index, outcome }) =>
        index === worst ||
        (outcome !== 'reported' && outcome !== 'undecided' && outcome !== 'brief'),
    )
    .filter(({ index }) => wanted({ kind: 'opening', index }))
    .slice(0, limit)
    .map(
      ({ index }): Explanation => ({
        subject: { kind: 'opening', index },
        ...asCause(flatSentence(run, verdict, index) ?? why.opening(index)),
        checksMs: [],
      }),
    );
  const alerts = [...verdict.alerts.entries()]
    .filter(([, { kind }]) => kind === 'false' || every)
    .filter(([index]) => wanted({ kind: 'alert', index }))
    .slice(0, limit)
    .map(
      ([index]): Explanation => ({
        subject: { kind: 'alert', index },
        ...asCause(why.alert(index)),
        checksMs: [],
      }),
    );
  return [...openings, ...alerts];
}

/** Of an opening that met a device without charge: when the charge ended. */
function flatSentence({ trace }: RigRun, verdict: Verdict, index: number): string | null {
  const { outcome, fromMs, durationMs } = verdict.openings.at(index);
  const flat = trace.flat.find((off) => off.fromMs < fromMs + durationMs && off.toMs > fromMs);
  if (outcome !== 'unpowered' || flat === undefined) return null;
  const beforeMs = fromMs - flat.fromMs;
  const when = beforeMs > 0 ? 'before it opened' : 'after it opened';
  const offMs = Math.min(flat.toMs, fromMs + durationMs) - Math.max(flat.fromMs, fromMs);
  return `the charge was used up ${roundedDurationText(Math.abs(beforeMs))} ${when}, so the device was off for ${roundedDurationText(offMs)} of it`;
}

function* rigLines({ reply }: RigRun, timeline: Timeline): Generator<string> {
  const moments = (atMs: number) => localTime(timeline.start, atMs);
  const sendsOf = sendsByWake(reply.sends);
  for (const [index, wake] of reply.wakes.entries()) {
    yield rigTraceLine(wake, sendsOf.get(index) ?? [], moments);
  }
}

/** What differs between two cases is not known apart from the words. */
function asCause(sentence: string): Pick<Explanation, 'sentence' | 'cause'> {
  return { sentence, cause: sentence };
}
