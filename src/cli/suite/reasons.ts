// Why the expectations of a scenario are not met: sentences on the openings and the alerts that they count, and on no others.
import { counted, roundedDurationText } from '../../base/index.js';
import { type Expectations, localTime, type UnmetExpectation } from '../../scenarios/index.js';
import type { AlertKind, JudgedAlert, OpeningOutcome } from '../../verdict/index.js';
import { dayAndTime } from '../../wording/index.js';
import type { Replay } from '../replay/one.js';

/** The most sentences on openings, and the most on alerts, with one scenario. */
const mostReasons = 3;

type Name = Expectations['counts'][number]['name'];

/** The counts that an opening of an outcome raises, and those that it lowers by not being reported, or not in time. */
const raisedBy: Readonly<Partial<Record<OpeningOutcome, readonly Name[]>>> = {
  missed: ['missed', 'undelivered'],
  unpowered: ['missed', 'unpowered', 'undelivered'],
  late: ['late'],
};
const loweredBy: Readonly<Partial<Record<OpeningOutcome, readonly Name[]>>> = {
  missed: ['reported', 'late', 'alerts'],
  unpowered: ['reported', 'late', 'alerts'],
  late: ['reported', 'missed'],
};

const alertsRaise: Readonly<Record<AlertKind, readonly Name[]>> = {
  true: ['alerts'],
  early: ['alerts', 'earlyAlerts'],
  false: ['alerts', 'falseAlarms'],
  repeat: ['alerts', 'repeats'],
  unknown: [],
};

/** What is not met: counts that are too high, counts that are too low, and limits of the worst latency. */
interface Failed {
  readonly high: ReadonlySet<string>;
  readonly low: ReadonlySet<string>;
  readonly isLatency: boolean;
}

/** @param expects what `unmet` is a part of. */
export function reasonsOf(
  replay: Replay,
  expects: Expectations,
  unmet: readonly UnmetExpectation[],
): readonly string[] {
  const { explained, verdict, timeline } = replay;
  const failed = failedOf(replay, expects, unmet);
  const at = (ms: number): string => dayAndTime(localTime(timeline.start, ms));
  const worst = failed.isLatency ? worstOpening(replay) : null;
  const countsOpening = (index: number): boolean => {
    const { outcome } = verdict.openings.at(index);
    return (
      index === worst ||
      (raisedBy[outcome] ?? []).some((name) => failed.high.has(name)) ||
      (loweredBy[outcome] ?? []).some((name) => failed.low.has(name)) ||
      (failed.isLatency && worst === null && (outcome === 'missed' || outcome === 'unpowered'))
    );
  };
  const countsAlert = ({ kind }: JudgedAlert): boolean =>
    alertsRaise[kind].some((name) => failed.high.has(name));
  const found = explained(mostReasons, ({ kind, index }) => {
    const alert = verdict.alerts[index];
    return kind === 'opening' ? countsOpening(index) : alert !== undefined && countsAlert(alert);
  });
  const ofOpenings = found.filter(({ subject }) => subject.kind === 'opening');
  const sentences = new Map(
    found.map(({ subject, sentence }) => [`${subject.kind} ${String(subject.index)}`, sentence]),
  );
  const all = {
    openings: verdict.openings.leaveOpens.filter(countsOpening).length,
    alerts: [...verdict.alerts.entries()].filter(([, alert]) => countsAlert(alert)),
  };
  const isWorstNew = worst !== null && !sentences.has(`opening ${String(worst)}`);
  return [
    ...ofOpenings.map(({ subject: { index }, sentence }) => {
      const { fromMs, outcome } = verdict.openings.at(index);
      return `${at(fromMs)}, ${outcome}: ${sentence}`;
    }),
    ...(isWorstNew ? [latencyText(replay, worst, at)] : []),
    ...restText(all.openings - ofOpenings.length - (isWorstNew ? 1 : 0), 'leave-open'),
    ...shownOf(all.alerts).map(([index, { decidedMs, kind, opening }]) => {
      const sentence = sentences.get(`alert ${String(index)}`);
      const fromMs = opening === null ? null : verdict.openings.at(opening).fromMs;
      const after =
        fromMs === null
          ? 'decided with the door shut'
          : `decided ${roundedDurationText(decidedMs - fromMs)} after the door opened`;
      return `${at(decidedMs)}, ${alertWords(kind)}: ${sentence ?? after}`;
    }),
    ...restText(all.alerts.length - mostReasons, 'alert'),
  ];
}

type NumberedAlert = readonly [index: number, alert: JudgedAlert];

/** As many alerts as are listed, in their order: true ones only where too few others are counted. */
function shownOf(alerts: readonly NumberedAlert[]): readonly NumberedAlert[] {
  const isTrue = ([, { kind }]: NumberedAlert): boolean => kind === 'true';
  const byDoubt = [...alerts.filter((one) => !isTrue(one)), ...alerts.filter(isTrue)];
  return byDoubt.slice(0, mostReasons).toSorted(([one], [other]) => one - other);
}

function restText(rest: number, name: string): readonly string[] {
  return rest > 0 ? [`… and ${counted(rest, `more ${name}`)}`] : [];
}

function failedOf(
  { verdict: { summary } }: Replay,
  expects: Expectations,
  unmet: readonly UnmetExpectation[],
): Failed {
  const names = new Set(unmet.map(({ name }) => name));
  const counts = expects.counts.filter(({ name }) => names.has(name));
  return {
    high: new Set(
      counts.filter(({ name, most }) => (summary[name] ?? 0) > most).map(({ name }) => name),
    ),
    low: new Set(
      counts.filter(({ name, least }) => (summary[name] ?? 0) < least).map(({ name }) => name),
    ),
    isLatency: names.has('worstDelayAtMost') || names.has('worstDelayAtLeast'),
  };
}

/** The leave-open that was reported after the longest time; null: none was reported. */
function worstOpening({ verdict: { openings, summary } }: Replay): number | null {
  const worst = openings.leaveOpens.find((index) => {
    const { delayMs } = openings.at(index);
    return delayMs !== null && delayMs === summary.worstDelayMs;
  });
  return worst ?? null;
}

function latencyText({ verdict }: Replay, index: number, at: (ms: number) => string): string {
  const { fromMs, delayMs } = verdict.openings.at(index);
  return `${at(fromMs)}, worst latency: the alert of this opening was delivered ${roundedDurationText(delayMs ?? 0, 'at most')} after the door opened`;
}

/** In the words of the verdict: `false alarm`, `early alert`. */
function alertWords(kind: AlertKind): string {
  if (kind === 'false') return 'false alarm';
  return kind === 'repeat' ? 'repeated alert' : `${kind} alert`;
}
