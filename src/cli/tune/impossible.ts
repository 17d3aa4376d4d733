// Where no settings meet every requirement: what to relax and what to set then, why, and what else could be relaxed.
import { durationText, listText, percentText } from '../../base/index.js';
import type { Relaxation, Shortfall, Trial } from '../../tune/index.js';
import { failuresOf, knownRate, linesToWrite, livesText } from '../../wording/index.js';
import { paragraphText } from '../layout/table-text.js';
import type { TuneView } from './view.js';
import { requirementText } from './words.js';

/** The requirements to relax so that some settings meet all; empty: there is no bound at all for one of them, or nothing is proved. */
export function relaxedBy({ relaxations, nearest }: TuneView['answer']): readonly Shortfall[] {
  const [first] = relaxations;
  const some = first === undefined ? (nearest?.shortfalls ?? []) : [first];
  return some.every(({ got }) => Number.isFinite(got)) ? some : [];
}

export function impossible(view: TuneView, width: number): readonly string[] {
  const { answer, watch } = view;
  const fails = [...failuresOf(answer).map((clause) => `${clause}.`), ...outageWords(view)].map(
    (words) => paragraphText(words, width),
  );
  const [first, ...others] = answer.relaxations;
  if (first !== undefined) {
    const lines = linesToWrite(watch, first.trial.settings);
    return [
      '\n',
      ...fails,
      `\nRelax one requirement, ${relaxText(first)}, and ${settingsWords(lines)}\n`,
      ...lines.map((line) => `  ${line}\n`),
      paragraphText(priceOf(view, first.trial), width),
      ...(others.length === 0 ? [] : alternatives(view, others, width)),
    ];
  }
  const { nearest } = answer;
  if (nearest === null) {
    const words =
      'Nothing is proved of any of them: each search met more states than it may. Ask less of the environment.';
    return ['\n', paragraphText(words, width)];
  }
  const wants = nearest.shortfalls.map((shortfall) =>
    Number.isFinite(shortfall.got)
      ? relaxText(shortfall)
      : `${requirementText(shortfall.name, shortfall.asked)}, for which there is no bound at all`,
  );
  const lines = linesToWrite(watch, nearest.trial.settings);
  return [
    '\n',
    ...fails,
    '\n',
    paragraphText(
      `No single requirement is to blame. For the settings that come nearest, relax ${listText(wants)}, and ${settingsWords(lines)}`,
      width,
    ),
    ...lines.map((line) => `  ${line}\n`),
    paragraphText(`${priceOf(view, nearest.trial)} ${nearestWords(answer)}`, width),
  ];
}

/** Where a network outage keeps every setting, tried or not, from a requirement. */
function outageWords({ head, requirements }: TuneView): readonly string[] {
  const { sureFromMs, worstDelayMs } = requirements;
  const { outageMs, from } = head;
  // At rest an outage delays an alert, but hides no opening.
  const hides = from === 'anyState' && sureFromMs !== null && outageMs > sureFromMs;
  const delays = worstDelayMs !== null && outageMs > worstDelayMs;
  if (!hides && !delays) return [];
  const what = [
    ...(hides ? [`${requirementText('sureFrom', sureFromMs)} from any state`] : []),
    ...(delays ? [requirementText('worstDelay', worstDelayMs)] : []),
  ];
  const rest = hides ? ', or leave out --any-state for what holds at rest' : '';
  return [
    `No setting can meet ${listText(what)} while a network outage may last ${durationText(outageMs)} (environment: in the watch file). To see what settings alone can improve, search with longestOutage: 0s there${rest}.`,
  ];
}

/** Why these are the nearest, and why what they have differs from the best. */
function nearestWords({ outOfReach, nearest }: TuneView['answer']): string {
  const isBest = outOfReach.every(({ name, got }) =>
    nearest?.shortfalls.some((one) => one.name === name && one.got === got),
  );
  const others = isBest
    ? ''
    : ' The best figures above belong to other settings, which fail more requirements, or one of them by more.';
  return `They are the nearest: no others fail fewer requirements, and of those that fail as few, no others have a smaller worst failure (in proportion to what is required).${others}`;
}

function relaxText({ name, asked, got }: Shortfall): string {
  return `${requirementText(name, asked)} to ${requirementText(name, got)}`;
}

/** Each with its own settings: they are not those of the first. */
function alternatives(
  view: TuneView,
  others: readonly Relaxation[],
  width: number,
): readonly string[] {
  const title = `\n${paragraphText('That is the smallest change in proportion to what is required. Alternatives, each with its own settings:', width)}`;
  return [
    title,
    ...others.map((other) => {
      const lines = linesToWrite(view.watch, other.trial.settings);
      const set = lines.length === 0 ? 'keep your settings' : `set ${lines.join(', ')}`;
      return paragraphText(
        `relax ${relaxText(other)}, and ${set}. ${priceOf(view, other.trial)}`,
        width,
        '  - ',
      );
    }),
  ];
}

/** What comes before the lines to write; without any, the present settings are the ones. */
function settingsWords(lines: readonly string[]): string {
  return lines.length === 0 ? 'keep your settings.' : 'set';
}

/** What settings cost that are not recommended, beside the bounds. */
function priceOf(
  { head, reportWithinMs, watch }: TuneView,
  { years, settings }: Pick<Trial, 'years' | 'settings'>,
): string {
  const { falseAlarms, missed, late } = years.rates;
  const lates = reportWithinMs === null ? '' : `, ${knownRate(late)} late`;
  const repeats =
    settings.alertCooldownMs === 0 &&
    watch.alertCooldownMs > 0 &&
    watch.afterAlert === 'keep-watching'
      ? ' Without a cooldown, every check that reads open raises another alert once the last one is delivered.'
      : '';
  return `With these ${head.lasts} ${livesText(years.lifeMs)}; per year, with ${percentText(head.confidence)} intervals, ${knownRate(missed)} missed${lates} and ${knownRate(falseAlarms)} false alarms.${repeats}`;
}
