// Where a finding comes from: the firmware, or the settings or the expectation, since the machine of the watch file does no better
// on the same timeline.
import { plain, shellWord } from '../../base/index.js';
import { type Expectations, type Timeline, unmetExpectations } from '../../scenarios/index.js';
import type { Summary, Verdict } from '../../verdict/index.js';
import type { LoadedWatch } from '../inputs/load-watch.js';
import { replayOne } from '../replay/one.js';
import { heldTo } from '../suite/run-case.js';

/** What firmware and machine got on one timeline. */
interface Compared {
  readonly expects: Expectations;
  readonly firmware: Verdict;
  readonly machine: Verdict;
}

export interface Origin {
  /** Expectations that neither meets. */
  readonly shared: readonly {
    readonly name: string;
    /** What the machine gets. */
    readonly got: string;
  }[];
  /** Every expectation that the firmware does not meet is one of them. */
  readonly isAll: boolean;
  /** Something is better than expected, or no matter of better and worse. */
  readonly isOfExpectation: boolean;
  /** The machine also misses an opening of this index, or reports it about as late. */
  readonly isOfMachine: (opening: number) => boolean;
}

/** @param watch with what it tolerates. */
export function originOf(timeline: Timeline, watch: LoadedWatch, firmware: Verdict): Origin {
  const expects = timeline.expect ?? heldTo;
  const machine = replayOne(timeline, watch).verdict;
  const compared = { expects, firmware, machine };
  const unmet = unmetExpectations(expects, firmware.summary).map(({ name }) => name);
  const shared = unmetExpectations(expects, machine.summary).filter(
    ({ name }) => unmet.includes(name) && isNoWorse(name, compared),
  );
  return {
    shared,
    isAll: shared.length === unmet.length,
    isOfExpectation:
      timeline.expect !== null && unmet.some((name) => !isTooMuch(name, expects, firmware.summary)),
    isOfMachine(index) {
      const its = machine.openings.at(index);
      const own = firmware.openings.at(index);
      const laterByMs = (own.delayMs ?? 0) - (its.delayMs ?? 0);
      return (
        its.outcome === 'missed' ||
        (its.outcome === own.outcome && laterByMs <= watch.watchFile.watch.checkIntervalMs)
      );
    },
  };
}

/** The firmware is no further from what is expected than the machine. */
function isNoWorse(name: string, { expects, firmware, machine }: Compared): boolean {
  const count = expects.counts.find((one) => one.name === name);
  if (count === undefined) return true;
  const [own, its] = [firmware, machine].map(({ summary }) => summary[count.name] ?? 0);
  if (own === undefined || its === undefined) return false;
  return own > count.most ? its >= own : its <= own;
}

/** Counts and limits of which less is better. */
const lessIsBetter: readonly string[] = [
  'missed',
  'late',
  'undecided',
  'unpowered',
  'falseAlarms',
  'earlyAlerts',
  'repeats',
  'undelivered',
  'worstDelayAtMost',
];

/** It is worse than expected. */
function isTooMuch(name: string, { counts }: Expectations, summary: Summary): boolean {
  const count = counts.find((one) => one.name === name);
  if (count === undefined) return lessIsBetter.includes(name);
  const got = summary[count.name] ?? 0;
  return name === 'reported' ? got < count.least : lessIsBetter.includes(name) && got > count.most;
}

/** What to do where the firmware is not at fault. */
export function originLines(
  { shared, isOfExpectation }: Origin,
  { file }: Timeline,
  { name }: LoadedWatch,
): readonly string[] {
  const command = (...all: readonly string[]): string =>
    ['dozewatch', ...all, ...(name === null ? [] : ['-c', name])]
      .map((word) => shellWord(plain(word)))
      .join(' ');
  if (!isOfExpectation) {
    return [
      'So this comes from the settings, not from this firmware.',
      `Next: ${command('bounds')}`,
    ];
  }
  return [
    machineGets({ shared }),
    'So this comes from the expectation or the settings, not from this firmware.',
    `Next: correct expect: in ${plain(file)}. What the machine gets there, and why: ${command('replay', file)}`,
  ];
}

/** Of the expectations that neither meets. */
export function machineGets({ shared }: Pick<Origin, 'shared'>): string {
  const got = shared.map((one) => `${one.name}: ${one.got}`).join(', ');
  return `The machine of the watch file does not meet ${shared.length === 1 ? 'this' : 'these'} either: it gets ${got}.`;
}
