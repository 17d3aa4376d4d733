// What else could be chosen of the settings that meet every requirement: by what matters first.
import {
  choose,
  keepsAtRest,
  type Preference,
  preferences,
  type Trial,
  type TuneAnswer,
} from '../../tune/index.js';
import { boundText, linesToWrite, livesText, meanRate } from '../../wording/index.js';
import { factsText, paragraphText } from '../layout/table-text.js';
import type { TuneView } from './view.js';

export interface Alternative {
  readonly prefer: Preference;
  readonly trial: Trial;
}

/** What the other preferences would choose; empty: nothing meets every requirement, or only the present settings do. */
export function alternativesOf({
  pool,
  front,
  recommended,
  prefer,
  present,
  restRequired,
}: TuneAnswer): readonly Alternative[] {
  if (pool !== 'meeting' || recommended === null) return [];
  const trials = front.map(({ trial }) => trial);
  const kept = trials.filter(keepsAtRest(present, restRequired));
  return preferences
    .filter((other) => other !== prefer)
    .flatMap((other) => {
      const trial = choose(kept, other) ?? choose(trials, other);
      return trial === null ? [] : [{ prefer: other, trial }];
    });
}

const firstWords: Readonly<Record<Preference, string>> = {
  sure: 'few misses first',
  quiet: 'few false alarms first',
  life: 'a long life first',
};

export function alternatives(
  { answer, head, watch, reportWithinMs, beyondRates }: TuneView,
  chosen: Trial,
  width: number,
): readonly string[] {
  const others = alternativesOf(answer);
  if (answer.candidates < 2 || others.length === 0) return [];
  if (others.every(({ trial }) => trial === chosen)) {
    const options = others.map(({ prefer }) => `--prefer ${prefer}`).join(' or ');
    return [`\n${paragraphText(`With ${options} the answer is the same.`, width)}`];
  }
  const rows = others.map(({ prefer, trial }) => {
    const { proved, years } = trial;
    const { missed, late, falseAlarms } = years.rates;
    const lines = linesToWrite(watch, trial.settings);
    const lates = reportWithinMs === null ? '' : `, ${meanRate(late)} late`;
    const what =
      trial === chosen
        ? 'the same settings'
        : `${lines.length === 0 ? 'your settings' : lines.join(', ')} (${head.lasts} ${livesText(years.lifeMs)}, reported within ${boundText(proved.worstDelayMs, 'no fixed time')}; per year ${meanRate(missed)} missed${lates} and ${meanRate(falseAlarms)} false alarms${beyondRates
            .repeats(trial.settings)
            .map((clause) => `; ${clause}`)
            .join('')})`;
    return [`--prefer ${prefer}`, `${firstWords[prefer]}: ${what}`] as const;
  });
  return ['\nAlternatives, where something else matters first\n', factsText(rows, width)];
}
