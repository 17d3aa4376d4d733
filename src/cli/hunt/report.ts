// What a hunt found, for a terminal: the finding, the timeline that shows it, and how to replay it.
import {
  counted,
  durationText,
  listText,
  numberText,
  plain,
  roughDurationText,
  roundedDurationText,
} from '../../base/index.js';
import type { Adversity, Finding, Property } from '../../hunt/index.js';
import type { TimingRanges } from '../../model/index.js';
import type { Mutant } from '../../mutants/index.js';
import type { Summary, Verdict } from '../../verdict/index.js';
import type { Paint } from '../layout/paint.js';
import { courseLines } from './course.js';
import type { ProofLine } from './proof-line.js';
import type { Reason } from './why.js';

/** Counterexamples of one property that do not count. */
export interface Excused {
  readonly property: string;
  /** What each of them is about; null: the timeline as a whole. */
  readonly of: 'opening' | 'alert' | null;
  readonly count: number;
}

export interface ExcusedBreaches {
  /** How many of the timelines have one. */
  readonly timelines: number;
  readonly each: readonly Excused[];
  /** Those of a timeline are not counted beyond some number; true: none had that many. */
  readonly isAll: boolean;
}

export interface HuntView {
  /** What was tried; empty in a hunt for the difference that a mistake makes. */
  readonly properties: readonly Property[];
  readonly fault: Mutant | null;
  readonly adversity: Adversity;
  /** Of each timeline that was tried. */
  readonly lengthMs: number;
  readonly seed: number;
  /** Timelines tried. */
  readonly runs: number;
  /** When the latest opening of all timelines began. */
  readonly latestOpeningMs: number;
  /** Counterexamples of a firmware that the machine of the watch file shows on the same timeline. */
  readonly excused: ExcusedBreaches;
  /** `bounds` proves one of them at least. */
  readonly isExcusedProved: boolean;
  /** The command that proves bounds of the same watch, with the same faults as far as a search takes them. */
  readonly proof: () => ProofLine;
  /** The properties of this hunt of which `bounds` proves nothing. */
  readonly unproved: readonly string[];
  /** The command that tries more timelines; null: there are no more to try. */
  readonly more: string | null;
  /** The device runs a firmware of the user's, of which nothing can be proved. */
  readonly isFirmware: boolean;
  /** The watch file has a supply, which a hunt does not drain. */
  readonly hasSupply: boolean;
  readonly found: {
    readonly finding: Finding;
    readonly verdict: Verdict;
    /** What the faulty watch made of the same timeline. */
    readonly mutantSummary: Summary | null;
    readonly reasons: readonly Reason[];
    /** What decided it, line by line. */
    readonly deciding: readonly string[];
    /** The device's times, with their ranges. */
    readonly timing: TimingRanges;
    /** The text of the counterexample's scenario. */
    readonly scenario: string;
    /** The file that it was written to; null: it is printed. */
    readonly saved: string | null;
    readonly again: string;
    readonly replay: string;
    /** What to do about it; null: nothing that a command can help with. */
    readonly next: string | null;
  } | null;
}

/** For a mistake that makes no difference with the settings of a watch. */
export function alikeReport(fault: Mutant, paint: Paint): string {
  return `${paint.bold('No difference')}: with these settings, the mistake "${fault.mistake}" changes nothing, whatever happens.\n`;
}

export function huntReport(view: HuntView, paint: Paint): string {
  const lines = view.found === null ? nothing(view, paint) : finding(view, view.found, paint);
  return `${lines.map((line) => line.trimEnd()).join('\n')}\n`;
}

function nothing(view: HuntView, paint: Paint): string[] {
  const charged = view.hasSupply ? ', with a battery that is always charged' : '';
  const tried = `${counted(view.runs, 'timeline')} of up to ${durationText(view.lengthMs)}, seed ${String(view.seed)}${charged}`;
  if (view.fault !== null) {
    return [
      `${paint.doubtful(paint.bold('Nothing found'))}: no difference between this watch and one with the mistake`,
      `"${view.fault.mistake}" in ${tried}.`,
    ];
  }
  return [
    `${paint.good(paint.bold('Nothing found'))} in ${tried}.`,
    '',
    'Checked in each of them:',
    ...view.properties.map(({ name, promise }) => `  ${promise} ${paint.dim(`[${name}]`)}`),
    faultsText(view.adversity),
    `The latest opening began ${roughDurationText(view.latestOpeningMs)} after power-on; nothing later was tried.`,
    ...(view.excused.timelines === 0
      ? []
      : [
          '',
          paint.doubtful(excusedText(view)),
          'The cause is the settings, not the firmware.',
          ...(view.isExcusedProved
            ? [`Next: what these settings can promise: ${plain(view.proof().command)}`]
            : []),
        ]),
    '',
    view.isFirmware
      ? 'This proves nothing about the firmware; --runs tries more timelines.'
      : `A hunt that finds nothing proves nothing. ${proofText(view)}`,
  ];
}

/** What proves the properties that were hunted: `bounds`, as far as it knows them. */
function proofText({ properties, unproved, proof, adversity, more }: HuntView): string {
  const isSilent = unproved.length === properties.length && unproved.length > 0;
  const rest = unproved.length === 0 ? '' : `bounds does not prove ${listText(unproved)}.`;
  if (isSilent) return more === null ? rest : `${rest} More timelines: ${plain(more)}`;
  const { command, isLighter } = proof();
  const chatter =
    adversity.misreads > 0 && (!isLighter || command.includes('--chatter'))
      ? ' (of chatter: one stretch in which the contact reads shut)'
      : '';
  const fewer = isLighter
    ? ' (with fewer faults than were hunted: all of them together take too many states for a proof)'
    : '';
  const what = rest === '' ? 'For a proof' : `${rest} For a proof of the others`;
  return `${what}${chatter}${fewer}: ${plain(command)}`;
}

/** One timeline may break several requirements, and one of them at several openings. */
function excusedText({ excused: { timelines, each, isAll }, runs }: HuntView): string {
  const where =
    timelines === runs && runs > 1
      ? `In all ${numberText(runs)}`
      : `In ${numberText(timelines)} of ${counted(runs, 'timeline')}`;
  const broken = each.map(({ property, of, count }) =>
    of === null
      ? `[${property}]`
      : `[${property}] for ${isAll ? '' : 'at least '}${counted(count, of)}`,
  );
  return `${where} the firmware broke ${listText(broken)}, and so did the machine of the watch file.`;
}

function finding(view: HuntView, found: NonNullable<HuntView['found']>, paint: Paint): string[] {
  const { breach, trial, seed } = found.finding;
  const { summary } = found.verdict;
  const head =
    view.fault === null
      ? `${paint.bad(paint.bold('FOUND'))}  ${plain(breach.what)} ${paint.dim(`[breaks: ${breach.property}]`)}`
      : `${paint.bold('FOUND')}  a timeline that reveals the mistake "${view.fault.mistake}"`;
  const broken = view.properties.find(({ name }) => name === breach.property);
  return [
    head,
    ...(broken === undefined
      ? [`       ${plain(breach.what)}`]
      : [`       the requirement: ${broken.promise}`]),
    '',
    `A small timeline that shows it${view.hasSupply ? ' (the battery is always charged)' : ''}, ${roundedDurationText(trial.lengthMs)} from power-on:`,
    ...courseLines(trial, found.timing).map((line) => `  ${line}`),
    '',
    ...found.reasons.map(({ of, sentence }) => `${of}: ${plain(sentence)}.`),
    `Verdict: ${verdictText(summary)}.`,
    ...found.deciding.map(plain),
    ...(found.mutantSummary === null
      ? []
      : [`With the mistake: ${verdictText(found.mutantSummary)}.`]),
    '',
    `Found after ${counted(view.runs, 'timeline')} of up to ${durationText(view.lengthMs)} (seed ${seedWords(view.seed, seed)}).`,
    ...(found.saved === null
      ? []
      : [`Written: ${plain(found.saved)}`, `Replay:  ${plain(found.replay)}`]),
    `Again:   ${plain(found.again)}`,
    ...(found.next === null ? [] : [`Next:    ${plain(found.next)}`]),
    ...(found.saved === null ? ['', 'The same as a scenario (-o FILE writes it to a file):'] : []),
  ];
}

/** Below the report, where the finding was not written to a file: to be copied, and so as it is on every terminal. */
export function scenarioBelow({ found }: HuntView): string {
  if (found?.saved !== null) return '';
  return `\n${found.scenario.trimEnd().split('\n').map(plain).join('\n')}\n`;
}

function verdictText(summary: Summary): string {
  const { leaveOpens, reported, late, undecided, missed } = summary;
  const outcomes = [
    late > 0 ? `${String(reported)} reported in time` : `${String(reported)} reported`,
    ...(late > 0 ? [`${String(late)} reported late`] : []),
    ...(undecided > 0 ? [`${String(undecided)} undecided`] : []),
    `${String(missed)} missed`,
  ];
  const parts = [
    ...(leaveOpens === 0 ? ['no leave-open'] : [counted(leaveOpens, 'leave-open'), ...outcomes]),
    counted(summary.alerts, 'alert'),
    counted(summary.falseAlarms, 'false alarm'),
  ];
  const { worstDelayMs } = summary;
  if (worstDelayMs !== null)
    parts.push(`worst detection latency ${roundedDurationText(worstDelayMs, 'at most')}`);
  return parts.join(', ');
}

function faultsText(adversity: Adversity): string {
  const { outages, powerLosses, resets, misreads } = adversity;
  const parts: string[] = [];
  const upTo = (ms: number): string => `of up to ${durationText(ms)}`;
  if (outages > 0) {
    parts.push(`${counted(outages, 'network outage')} ${upTo(adversity.longestOutageMs)}`);
  }
  if (powerLosses > 0) {
    const losses = counted(powerLosses, 'power loss', 'power losses');
    parts.push(`${losses} ${upTo(adversity.longestPowerLossMs)}`);
  }
  if (resets > 0) parts.push(counted(resets, 'reset'));
  if (misreads > 0) {
    parts.push(`${counted(misreads, 'contact fault')} ${upTo(adversity.longestChatterMs)}`);
  }
  return parts.length === 0
    ? 'Only the door moved; nothing failed.'
    : `What could go wrong in each: ${parts.join(', ')}.`;
}

/** A long hunt goes on with its own seeds; the finding names the one that leads back to it. */
function seedWords(hunted: number, found: number): string {
  return hunted === found
    ? String(found)
    : `${String(hunted)}, and then ${String(found)}, which found it`;
}
