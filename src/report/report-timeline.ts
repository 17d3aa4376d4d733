// A judged timeline in the words of a report.
import { nameOfFile, plain, roundedDurationText, sentence, shellWord } from '../base/index.js';
import { alignedChart, overviewChart } from '../chart/index.js';
import { localTime, type Timeline } from '../scenarios/index.js';
import type { Trace } from '../sim/index.js';
import {
  dayAndTime,
  falselyAlarming,
  held,
  heldAtEveryPhase,
  leaveOpensAtPhases,
  mayHide,
  phaseCells,
  phaseColumns,
  phasesSpan,
  phasesWords,
  type ReplayView,
  replayFacts,
  timeAfter,
  unpainted,
  verdictStanding,
  verdictWords,
} from '../wording/index.js';
import { fitting, stillFitting } from './fitting.js';
import type { Fact, ReportFinding, ReportPhases, ReportTimeline } from './input.js';

/** The most findings in one table. */
const mostFindings = 300;
const mostRemarks = 20;

/** @param of.phasesCommand what judges every phase, where the page does not. */
export function reportTimeline(
  view: Omit<ReplayView, 'moments'>,
  of: { readonly trace: Trace; readonly phasesCommand: string },
): ReportTimeline {
  const { trace, phasesCommand } = of;
  const { timeline, verdict, unmet, watchFile, explanations } = view;
  const standing = verdictStanding(view, (unmet ?? []).length === 0);
  const input = { timeline, trace, verdict, watchFile };
  const moments = (atMs: number) => localTime(timeline.start, atMs);
  // A page is made to be shared: it names no folder of this machine.
  const watchName = view.watchName === null ? null : nameOfFile(view.watchName);
  const whole = { ...view, watchName, moments, isPage: true as const };
  const findings = findingsOf(whole);
  const expected = (unmet ?? []).map(
    ({ name, wanted, got }) => [`expected ${name}`, `wanted ${wanted}, got ${got}`] as const,
  );
  return {
    timeline,
    verdict: sentence(verdictWords(view, unpainted)),
    standing,
    isClean: held(verdict.summary) && expected.length === 0 && !mayHide(timeline),
    phases: phasesIn(whole),
    phasesCommand,
    facts: [...replayFacts(whole, unpainted), ...expected],
    overview: stillFitting((widthPx) => overviewChart(input, explanations, widthPx)),
    aligned: held(verdict.summary)
      ? null
      : fitting((widthPx) => alignedChart(input, explanations, widthPx) ?? ''),
    findings: findings.slice(0, mostFindings),
    moreFindings: Math.max(0, findings.length - mostFindings),
    remarks: timeline.remarks.slice(0, mostRemarks).map(({ source, message, hint }) => {
      const place = source.line === undefined ? '' : `line ${String(source.line)}: `;
      return plain(`${place}${message}${hint === undefined ? '' : ` (${hint})`}`);
    }),
  };
}

function phasesIn(view: ReplayView): ReportPhases | null {
  const every = view.phases?.every ?? null;
  if (every === null) return null;
  const leaveOpens = leaveOpensAtPhases(every, view.verdict);
  return {
    isSame: heldAtEveryPhase(every) && held(view.verdict.summary),
    verdict: sentence(phasesWords(every, view, unpainted)),
    span: [phasesSpan(every, view), falselyAlarming(every, view) ?? '']
      .filter((text) => text !== '')
      .map(sentence)
      .join(' '),
    columns: phaseColumns(view, every).map(({ title }) => title),
    rows: leaveOpens
      .slice(0, mostFindings)
      .map((index) => phaseCells(view, every, { index, paint: unpainted })),
    moreRows: Math.max(0, leaveOpens.length - mostFindings),
  };
}

function findingsOf({ verdict, explanations, moments, timeline }: ReplayView): ReportFinding[] {
  const why = new Map(
    explanations.map((one) => [`${one.subject.kind} ${one.subject.index}`, sentence(one.sentence)]),
  );
  const openings = verdict.openings.leaveOpens.flatMap((index) => {
    const { outcome, fromMs, toMs, durationMs, delayMs } = verdict.openings.at(index);
    if (outcome !== 'missed' && outcome !== 'late') return [];
    const from = moments(fromMs);
    const until = toMs === null ? 'the end' : timeAfter(moments(toMs), from);
    const words =
      delayMs === null ? '' : `, reported after ${roundedDurationText(delayMs, 'at most')}`;
    const note = timeline.notes.get(index);
    const noted = note === undefined ? '' : ` (${plain(note)})`;
    const finding: ReportFinding = {
      kind: outcome,
      when: `${dayAndTime(from)} to ${until}`,
      what: `open for ${roundedDurationText(durationMs)}${words}${noted}`,
      why: why.get(`opening ${index}`) ?? null,
    };
    return [{ atMs: fromMs, finding }];
  });
  const alerts = verdict.alerts.flatMap(({ kind, decidedMs, opening }, index) => {
    if (kind !== 'false') return [];
    const what =
      opening === null
        ? 'an alert, and the door was not open'
        : `an alert during an opening of ${roundedDurationText(verdict.openings.at(opening).durationMs)}`;
    const finding: ReportFinding = {
      kind,
      when: dayAndTime(moments(decidedMs)),
      what,
      why: why.get(`alert ${index}`) ?? null,
    };
    return [{ atMs: decidedMs, finding }];
  });
  return [...openings, ...alerts].sort((a, b) => a.atMs - b.atMs).map(({ finding }) => finding);
}

/** Where a report comes from. */
export function originFacts(
  timelines: readonly { readonly timeline: Timeline }[],
  { watchName, version }: { readonly watchName: string | null; readonly version: string },
): readonly Fact[] {
  return [
    [
      'watch file',
      watchName === null ? 'none given: the defaults apply' : plain(nameOfFile(watchName)),
    ],
    ...timelines.map(
      ({ timeline: { file, seed } }) =>
        ['timeline', `${plain(nameOfFile(file))}, seed ${plain(seed)}`] as const,
    ),
    ['version', `dozewatch ${version}`],
  ];
}

/** The command line of a page that others read: it also works where dozewatch is not installed. */
export function sharedCommandLine(...command: Parameters<typeof commandLineText>): string {
  return `npx ${commandLineText(...command)}`;
}

/** The command that writes the same page, as a shell takes it. */
export function commandLineText(
  command: 'report' | 'chart' | 'drill' | 'hunt',
  inputs: readonly string[],
  options: Readonly<Record<string, unknown>>,
): string {
  const given = Object.entries(options).flatMap(([key, value]): string[] => {
    const flag = `--${key.replace(/[A-Z]/gu, (letter) => `-${letter.toLowerCase()}`)}`;
    if (value === true) return key === 'bounds' ? [] : [flag];
    if (value === false) return [flag.replace('--', '--no-')];
    if (Array.isArray(value)) return [flag, ...value.map(String)];
    return typeof value === 'string' ? [flag, value] : [];
  });
  return dozewatchLine([command, ...inputs, ...given]);
}

/** Words of a command on a page, as a shell takes them. */
export function sharedWords(words: readonly string[]): string {
  return `npx ${dozewatchLine(words)}`;
}

function dozewatchLine(words: readonly string[]): string {
  return ['dozewatch', ...words].map((word) => shellWord(plain(withoutFolders(word)))).join(' ');
}

/** A page is made to be shared: of a path from the root of a disk it shows the file's name alone. */
function withoutFolders(word: string): string {
  return /^(?:\/|[A-Za-z]:[/\\])/u.test(word) ? nameOfFile(word) : word;
}
