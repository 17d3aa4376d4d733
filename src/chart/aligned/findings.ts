// What went wrong, worst first, in groups of one cause: each finding with the moment of opening that its row begins at.
import type { JudgedOpening } from '../../verdict/index.js';
import { spanAt } from '../../world/index.js';
import { settledMs } from '../facts/alerts.js';
import type { Window } from '../facts/window.js';
import { endOf, type Scene } from '../scene.js';

export type FindingKind = 'missed' | 'late' | 'false';

export interface AlignedFinding {
  readonly kind: FindingKind;
  /** Of the missed or late opening, or the alert. */
  readonly opening: number | null;
  readonly alert: number | null;
  /** When the door opened: this is where the rows are aligned. */
  readonly zeroMs: number;
  /** When the finding was over: the door shut and all alerts settled. */
  readonly endMs: number;
  /** Null: beyond the number that is explained. */
  readonly cause: string | null;
  readonly sentence: string | null;
}

/** Findings of one kind and one cause, the worst first. */
export interface FindingGroup {
  readonly kind: FindingKind;
  readonly cause: string | null;
  readonly findings: readonly AlignedFinding[];
}

const kinds: readonly FindingKind[] = ['missed', 'late', 'false'];

/** Every missed and late opening and false alarm; groups of the worst kind first, then the largest. */
export function findingGroups(scene: Scene): readonly FindingGroup[] {
  const groups = new Map<string, { kind: FindingKind; findings: AlignedFinding[] }>();
  for (const finding of [...openingFindings(scene), ...falseAlarms(scene)]) {
    const key = `${finding.kind} ${finding.cause ?? '?'}`;
    const group = groups.get(key);
    if (group === undefined) groups.set(key, { kind: finding.kind, findings: [finding] });
    else group.findings.push(finding);
  }
  return [...groups.values()]
    .map(({ kind, findings }) => ({ kind, cause: findings[0]?.cause ?? null, findings }))
    .toSorted(
      (a, b) =>
        kinds.indexOf(a.kind) - kinds.indexOf(b.kind) ||
        Number(a.cause === null) - Number(b.cause === null) ||
        b.findings.length - a.findings.length,
    );
}

/** Missed ones by how long the door was open, late ones by their detection latency; the longest first. */
function openingFindings(scene: Scene): readonly AlignedFinding[] {
  const { openings } = scene.verdict;
  const of = (kind: 'missed' | 'late', size: (opening: JudgedOpening) => number) =>
    openings.leaveOpens
      .map((index) => ({ index, opening: openings.at(index) }))
      .filter(({ opening: { outcome } }) =>
        kind === 'late' ? outcome === 'late' : outcome === 'missed' || outcome === 'unpowered',
      )
      .toSorted((a, b) => size(b.opening) - size(a.opening))
      .map(({ index, opening }): AlignedFinding => {
        const reportedMs = opening.delayMs === null ? 0 : opening.fromMs + opening.delayMs;
        const why = scene.explained.get(`opening ${index}`);
        return {
          kind,
          opening: index,
          alert: null,
          zeroMs: opening.fromMs,
          endMs: Math.max(endOf(opening), reportedMs),
          cause: why?.cause ?? null,
          sentence: why?.sentence ?? null,
        };
      });
  return [
    ...of('missed', ({ durationMs }) => durationMs),
    ...of('late', ({ delayMs }) => delayMs ?? 0),
  ];
}

/** In the order of the timeline: none is worse than another. */
function falseAlarms(scene: Scene): readonly AlignedFinding[] {
  const { verdict, trace, timeline, lengthMs } = scene;
  const { openings } = timeline.world;
  return verdict.alerts.flatMap(({ kind, decidedMs }, index): AlignedFinding[] => {
    if (kind !== 'false') return [];
    const why = scene.explained.get(`alert ${index}`);
    const firstMs = why?.checksMs[0] ?? decidedMs;
    const opening = spanAt(openings, firstMs);
    const record = trace.alerts[index];
    return [
      {
        kind,
        opening: null,
        alert: index,
        zeroMs: opening < 0 ? firstMs : (openings.fromMs[opening] ?? firstMs),
        endMs: record === undefined ? decidedMs : settledMs(record, lengthMs),
        cause: why?.cause ?? null,
        sentence: why?.sentence ?? null,
      },
    ];
  });
}

/** How much is drawn: the most groups, and the most rows of each. */
const mostGroups = 8;
const mostRows = 6;
/** With no more findings than this, each gets a row. */
const fewFindings = 14;

export interface ShownGroup extends FindingGroup {
  readonly rows: readonly AlignedFinding[];
}

export interface ShownFindings {
  readonly groups: readonly ShownGroup[];
  /** Findings of groups that are not drawn. */
  readonly others: number;
}

export function shownFindings(groups: readonly FindingGroup[]): ShownFindings {
  const all = groups.reduce((sum, { findings }) => sum + findings.length, 0);
  const most = all <= fewFindings ? fewFindings : mostRows;
  const shown = groups.slice(0, mostGroups);
  return {
    groups: shown.map((group) => ({ ...group, rows: group.findings.slice(0, most) })),
    others: groups.slice(mostGroups).reduce((sum, { findings }) => sum + findings.length, 0),
  };
}

/** The window that all rows share, from the moment of opening: a long finding is cut where most have ended. */
export function sharedWindow(scene: Scene, rows: readonly AlignedFinding[]): Window {
  const { watch, judge } = scene.watchFile;
  const lengths = rows.map(({ zeroMs, endMs }) => endMs - zeroMs).toSorted((a, b) => a - b);
  const median = lengths[Math.floor(lengths.length / 2)] ?? 0;
  const longest = lengths.at(-1) ?? 0;
  const checkMs = watch.checkIntervalMs;
  const wantedMs = Math.max(1.3 * judge.leaveOpenAfterMs, 1.6 * median, 2 * checkMs);
  return {
    fromMs: -Math.min(1.1 * checkMs, 0.4 * wantedMs),
    toMs: Math.max(
      1_000,
      Math.min(wantedMs, Math.max(1.1 * longest, 1.3 * judge.leaveOpenAfterMs)),
    ),
  };
}
