// What `replay --json` prints, piece by piece: a log of a million openings never becomes one giant text.
import { cellAt } from '../../base/index.js';
import type { ProvedRequirements } from '../../bounds/index.js';
import type { EveryPhase } from '../../phase/index.js';
import { checkedExpectations, localTime, type Timeline } from '../../scenarios/index.js';
import type { Trace } from '../../sim/index.js';
import type { Explanation, JudgedAlert, Verdict } from '../../verdict/index.js';
import {
  type FirmwareView,
  isoTime,
  laterEndMs,
  type PhasesView,
  remarkText,
} from '../../wording/index.js';
import { noSpans } from '../../world/index.js';
import type { LoadedWatch } from '../inputs/load-watch.js';

const replaySchema = 'dozewatch/replay/2';

const piece = 1_000;

/** One replay, as far as its JSON shows it. */
export interface ReplayToPrint {
  readonly timeline: Timeline;
  readonly verdict: Verdict;
  readonly trace: Pick<Trace, 'lowBattery' | 'lowBatteryDue'>;
  readonly reasons: readonly Explanation[];
  /** Null: the machine of the watch file ran, and nothing is said of a firmware. */
  readonly firmware: FirmwareView | null;
  /** Null: bounds cannot search what ran. */
  readonly proved: ProvedRequirements | null;
  readonly phases: PhasesView | null;
}

/** Replays as one object; each opening and each alert on a line of its own. */
export function* replaysJson(
  watch: LoadedWatch,
  replays: Iterable<ReplayToPrint>,
): Generator<string> {
  const head = { file: watch.name, settings: watch.settings() };
  yield `{\n"schema": ${JSON.stringify(replaySchema)},\n"watch": ${JSON.stringify(head)},\n"replays": [`;
  let separator = '\n';
  for (const replay of replays) {
    yield separator;
    yield* replayJson(replay, watch);
    separator = ',\n';
  }
  yield '\n]\n}';
}

function* replayJson(
  { timeline, verdict, trace, reasons, firmware, proved, phases }: ReplayToPrint,
  { watchFile }: LoadedWatch,
): Generator<string> {
  const { summary, openings, alerts } = verdict;
  const { leaveOpenAfterMs, reportWithinMs, quietUpToMs } = watchFile.judge;
  const warns = watchFile.watch.lowBattery !== undefined;
  const { file, name, start, world, expect, remarks } = timeline;
  const every = phases?.areJudged === true ? phases.every : null;
  const hasGaps = (timeline.logged?.unseen.fromMs.length ?? 0) > 0;
  yield keys({
    file,
    name,
    start: isoTime(localTime(start, 0)),
    zone: start.timeZone,
    lengthMs: world.lengthMs,
    powerOnMs: world.powerOnAtMs,
    required: { leaveOpenAfterMs, reportWithinMs, quietUpToMs },
    summary: {
      ...summary,
      // Among the expectations only: the list of alerts says which were not delivered.
      undelivered: undefined,
      ...(warns ? { lowBatteryMessages: summary.lowBatteryMessages ?? 0 } : {}),
      ...every?.summary,
      ...(every?.judged === undefined ? {} : { phasesJudged: every.judged }),
    },
  });
  yield ',\n"openings": ';
  yield* jsonList(openings.count, (index) => {
    const { fromMs, toMs, durationMs, outcome, delayMs } = openings.at(index);
    const opening = { fromMs, toMs, durationMs, outcome, delayMs };
    return every === null ? opening : { ...opening, ...sharesOf(every, index, hasGaps) };
  });
  yield ',\n"alerts": ';
  yield* jsonList(alerts.length, (index) => alertJson(alerts[index]));
  const rest = keys({
    reasons: reasons.map(({ subject: { kind: of, index }, sentence }) => ({ of, index, sentence })),
    repairs: remarks.map((remark) => {
      const { code, source } = remark;
      return { line: source.line ?? null, code, sentence: remarkText(remark) };
    }),
    unavailable: unavailableIn(timeline),
    ...(warns
      ? {
          lowBattery: trace.lowBattery.map(({ deliveredMs, withAlert }) => ({
            deliveredMs,
            withAlert,
          })),
          lowBatteryDue: dueJson(trace.lowBatteryDue),
        }
      : {}),
    expectations: expect === null ? [] : checkedExpectations(expect, summary),
    proved: proved === null ? null : { atRest: proved.atRest, anyState: proved.anyState },
    ...(verdict.cutOff === undefined
      ? {}
      : { cutOff: { opening: verdict.cutOff, laterEndMs: laterEndMs(timeline) } }),
    ...(firmware === null ? {} : { firmware: firmwareJson(firmware) }),
  });
  yield `,\n${rest.slice(2)}\n}`;
}

/** Null: none was due. */
function dueJson(due: Trace['lowBatteryDue']): object | null {
  if (due === null) return null;
  const { firstMs, failed, cutOff, lastMs } = due;
  return { firstMs, failed, cutOff, lastMs };
}

/** The keys of an object, a line each, without its end. */
function keys(object: Readonly<Record<string, unknown>>): string {
  const lines = Object.entries(object).map(
    ([key, value]) => `${JSON.stringify(key)}: ${JSON.stringify(value)}`,
  );
  return `{\n${lines.join(',\n')}`;
}

/** The spans without evidence, the last up to the end of the timeline. */
function unavailableIn({ logged, world }: Timeline): readonly object[] {
  const spans = logged?.unavailable ?? noSpans;
  return Array.from(spans.fromMs, (fromMs, index) => ({
    fromMs,
    toMs: Math.min(cellAt(spans.toMs, index), world.lengthMs),
  }));
}

/** @param hasGaps the log has spans without a state: then an opening may be unknown at some phases. */
function sharesOf(every: EveryPhase, index: number, hasGaps: boolean): object {
  const at = every.openingAt(index);
  const { reportedShare, inTimeShare, cutOffShare, falseAlarmShare, unknownShare } = at;
  const { leastDelayMs, greatestDelayMs } = at;
  const shares = {
    reportedShare,
    inTimeShare,
    cutOffShare,
    falseAlarmShare,
    leastDelayMs,
    greatestDelayMs,
  };
  return hasGaps ? { ...shares, unknownShare } : shares;
}

function firmwareJson(view: FirmwareView): object {
  const { file, wordBits, failure, printed, printedBytes, deciding } = view;
  const more = deciding.length === 0 ? {} : { deciding };
  return { file, wordBits, failure, printedBytes, printed, ...more };
}

function alertJson(alert: JudgedAlert | undefined): object | undefined {
  if (alert === undefined) return undefined;
  const { decidedMs, deliveredMs, kind, opening } = alert;
  return { decidedMs, deliveredMs, kind, opening };
}

function* jsonList(count: number, itemAt: (index: number) => unknown): Generator<string> {
  let lines: string[] = [];
  yield '[';
  for (let index = 0; index < count; index += 1) {
    lines.push(`${index === 0 ? '\n' : ',\n'}${JSON.stringify(itemAt(index))}`);
    if (lines.length < piece) continue;
    yield lines.join('');
    lines = [];
  }
  yield `${lines.join('')}${count === 0 ? '' : '\n'}]`;
}
