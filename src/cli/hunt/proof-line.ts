// The command that proves what was hunted: bounds of the same watch, with the faults of the hunt as far as one search can take them together.
import { greatestOf, shellWord, writeDuration } from '../../base/index.js';
import { provedOf, questionOf } from '../../bounds/index.js';
import type { Adversity, Trial } from '../../hunt/index.js';
import { type Environment, mostHintStates } from '../../model/index.js';
import type { LoadedWatch } from '../inputs/load-watch.js';
import { boundsWords } from '../layout/next-line.js';
import type { HuntOptions } from './options.js';

/** What may go wrong, as far as `bounds` has options for it. */
export type Faults = Pick<
  Environment,
  'outages' | 'longestOutageMs' | 'powerLosses' | 'longestPowerLossMs' | 'resets'
> & {
  /** The watch file states how long; a chatter that a hunt brought is not of it. */
  readonly longestChatterMs: number;
};

export interface ProofLine {
  readonly command: string;
  /** It has fewer faults than were given: with all of them a search meets too many states. */
  readonly isLighter: boolean;
}

export function mostFaults(adversity: Adversity): Faults {
  return {
    ...adversity,
    longestChatterMs: adversity.misreads > 0 ? adversity.longestChatterMs : 0,
  };
}

export function faultsIn({ networkDown, powerLost, resets }: Trial): Faults {
  const longest = (spans: Trial['networkDown']): number =>
    greatestOf(spans.map(([fromMs, toMs]) => toMs - fromMs));
  return {
    outages: networkDown.length,
    longestOutageMs: networkDown.length === 0 ? 0 : longest(networkDown),
    powerLosses: powerLost.length,
    longestPowerLossMs: powerLost.length === 0 ? 0 : longest(powerLost),
    resets: resets.length,
    longestChatterMs: 0,
  };
}

/** @param given what the proof is to allow. */
export function proofLine(
  { options, watch }: { readonly options: HuntOptions; readonly watch: LoadedWatch },
  given: Faults,
): ProofLine {
  const { environment } = watch.watchFile;
  const added = (of: Faults): readonly string[] => faultWords(of, environment);
  // The lightest first, each of which ends sooner than the next: only one search is given up.
  let fit: Faults | null = null;
  let proved = '';
  for (const of of [...lighterThan(given), given]) {
    const words = added(of).join(' ');
    // The same command again needs no other search.
    if (words !== proved && !ends(watch, of)) break;
    proved = words;
    fit = of;
  }
  fit ??= given;
  const words = [...boundsWords(watch, { ...options }), ...added(fit)];
  return { command: `dozewatch ${words.map(shellWord).join(' ')}`, isLighter: fit !== given };
}

/** With more and more of the faults: what multiplies the states most comes last. */
function lighterThan(given: Faults): readonly Faults[] {
  const calmer = { ...given, longestChatterMs: 0 };
  const one = {
    ...calmer,
    resets: Math.min(1, given.resets),
    powerLosses: Math.min(1, given.powerLosses),
    outages: Math.min(1, given.outages),
  };
  const outage = { ...one, resets: 0, powerLosses: 0 };
  return [{ ...outage, outages: 0 }, outage, one, calmer];
}

/** Whether the searches end soon with these faults. A longer search than this could be waited for, but not be promised to end. */
function ends({ watchFile, program, ownLogic }: LoadedWatch, of: Faults): boolean {
  const { environment: may } = watchFile;
  const environment: Environment = {
    ...may,
    outages: Math.max(may.outages, of.outages),
    longestOutageMs: Math.max(may.longestOutageMs, of.longestOutageMs),
    powerLosses: Math.max(may.powerLosses, of.powerLosses),
    longestPowerLossMs: Math.max(may.longestPowerLossMs, of.longestPowerLossMs),
    resets: Math.max(may.resets, of.resets),
    longestChatterMs: Math.max(may.longestChatterMs, of.longestChatterMs),
  };
  const question = questionOf({ ...watchFile, environment }, { table: program.table, ownLogic });
  const { alwaysReportedFromMs: sure, neverAlarmedUpToMs: quiet } = provedOf(
    question,
    mostHintStates,
  );
  return [sure.atRest, sure.anyState, quiet].every((bound) => bound !== undefined);
}

/** What goes wrong in timelines and may not go wrong by the watch file, as options: without them a proof leaves it out. */
function faultWords(of: Faults, may: Environment): string[] {
  const words: string[] = [];
  if (of.outages > 0 && may.longestOutageMs < of.longestOutageMs) {
    words.push('--outage', writeDuration(of.longestOutageMs));
  }
  if (of.outages > may.outages) words.push('--outages', String(of.outages));
  if (of.powerLosses > may.powerLosses) words.push('--power-losses', String(of.powerLosses));
  if (of.powerLosses > 0 && may.longestPowerLossMs < of.longestPowerLossMs) {
    words.push('--power-loss-lasting', writeDuration(of.longestPowerLossMs));
  }
  if (of.resets > may.resets) words.push('--resets', String(of.resets));
  if (may.longestChatterMs < of.longestChatterMs) {
    words.push('--chatter', writeDuration(of.longestChatterMs));
  }
  return words;
}
