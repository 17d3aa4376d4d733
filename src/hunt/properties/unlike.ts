// The difference between two watches: a timeline on which another program gets another verdict.
import { durationText, roundedDurationText } from '../../base/index.js';
import { type Program, simulate } from '../../sim/index.js';
import { judge, type Summary } from '../../verdict/index.js';
import type { Property, Ran } from '../question.js';
import { trialSeed } from '../trial.js';

/** What may differ, and its words. How often the device checks does not count. */
const compared = [
  ['missed', 'missed'],
  ['late', 'late'],
  ['reported', 'reported'],
  ['undecided', 'undecided'],
  ['alerts', 'alerts'],
  ['falseAlarms', 'false alarms'],
  ['earlyAlerts', 'early alerts'],
  ['repeats', 'repeats'],
] as const;

/** The property that `other` gets the same verdict. A scenario's expectations can notice every breach. */
export function alikeProperty(name: string, other: Program): Property {
  return {
    name,
    promise: 'the other watch gets the same verdict',
    breach(ran) {
      const difference = differenceOf(ran.verdict.summary, summaryOf(ran, other));
      if (difference === null) return null;
      return { property: name, subject: null, what: difference };
    },
  };
}

/** What another program makes of the same trial. */
export function summaryOf({ question, trial, world }: Ran, program: Program): Summary {
  const experiment = { program, timing: trial.timing, world, seed: trialSeed };
  const trace = simulate(experiment, { record: 'none' });
  return judge(world.openings, trace, question.judge).summary;
}

function differenceOf(sound: Summary, other: Summary): string | null {
  const counts = compared
    .filter(([key]) => sound[key] !== other[key])
    .map(([key, words]) => `${words} ${other[key]} instead of ${sound[key]}`);
  if (counts.length > 0) return counts.join(', ');
  if (sound.worstDelayMs === other.worstDelayMs) return null;
  return `worst detection latency ${latencyTexts(other.worstDelayMs, sound.worstDelayMs).join(' instead of ')}`;
}

/** Rounded, unless they would then look alike. */
function latencyTexts(...latenciesMs: readonly (number | null)[]): readonly string[] {
  const texts = (text: (ms: number) => string): readonly string[] =>
    latenciesMs.map((ms) => (ms === null ? 'none' : text(ms)));
  const rounded = texts((ms) => roundedDurationText(ms, 'at most'));
  return new Set(rounded).size === rounded.length ? rounded : texts(durationText);
}
