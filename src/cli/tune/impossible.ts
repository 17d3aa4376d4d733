// Where no settings meet every requirement: what to relax and what to set then, why, and what else could be relaxed.
import { listText, numberText, percentText, sentence, trueMs } from '../../base/index.js';
import { obstacleOf } from '../../bounds/index.js';
import {
  keepsAtRest,
  type Relaxation,
  type Shortfall,
  sameFailure,
  type Trial,
  type TuneAnswer,
  type TuneQuestion,
} from '../../tune/index.js';
import { countText, failuresOf, knownRate, linesToWrite, livesText } from '../../wording/index.js';
import { paragraphText } from '../layout/table-text.js';
import { faultsText } from './beyond-rates.js';
import type { TuneView } from './view.js';
import { requirementText } from './words.js';

/** What to do first: relax one requirement, or those that the nearest settings lack. Null: nothing is proved. */
type Lead =
  | { readonly kind: 'alone'; readonly trial: Trial; readonly shortfalls: readonly Shortfall[] }
  | { readonly kind: 'nearest'; readonly trial: Trial; readonly shortfalls: readonly Shortfall[] };

function leadOf({ relaxations, nearest, present, restRequired }: TuneAnswer): Lead | null {
  const [first] = relaxations;
  const isBounded = nearest?.shortfalls.every(({ got }) => Number.isFinite(got)) === true;
  const keeps = keepsAtRest(present, restRequired);
  if (first !== undefined && (keeps(first.trial) || !isBounded)) {
    return { kind: 'alone', trial: first.trial, shortfalls: [first] };
  }
  return nearest === null ? null : { kind: 'nearest', ...nearest };
}

/** The requirements to relax so that some settings meet all; empty: there is no bound at all for one of them, or nothing is proved. */
export function relaxedBy(answer: TuneAnswer): readonly Shortfall[] {
  const some = leadOf(answer)?.shortfalls ?? [];
  return some.every(({ got }) => Number.isFinite(got)) ? some : [];
}

export function impossible(view: TuneView, width: number): readonly string[] {
  const { answer, watch, beyondRates } = view;
  const lead = leadOf(answer);
  if (lead === null) {
    const words =
      'Nothing is proved of any of them: each search met more states than it may. Ask less of the environment.';
    return ['\n', paragraphText(words, width)];
  }
  const obstacles = obstacleWords(view);
  const lines = linesToWrite(watch, lead.trial.settings);
  const which = lines.length === 0 ? 'your settings' : 'the settings below';
  const rest = beyondRates.atRest(lead.trial, answer, which);
  const first = [
    ...failuresOf(answer).map((clause) => `${clause}.`),
    ...(obstacles.length > 0 ? obstacles : faultsText(view, lead.trial)),
    ...(rest === null ? [] : [rest]),
  ];
  const others = answer.relaxations.filter(({ trial }) => trial !== lead.trial);
  return [
    '\n',
    ...first.map((words) => paragraphText(words, width)),
    '\n',
    paragraphText(leadText(lead, answer, settingsWords(lines)), width),
    ...lines.map((line) => `  ${line}\n`),
    paragraphText(
      `${priceOf(view, lead.trial)}${lead.kind === 'nearest' && answer.relaxations.length === 0 ? ` ${nearestWords(answer)}` : ''}`,
      width,
    ),
    ...profileWords(view, lead).map((words) => paragraphText(words, width)),
    ...(others.length === 0 ? [] : alternatives(view, others, { lead, width })),
  ];
}

/** A figure that is enough by the years of the fitted profile, below the interval that its log leaves open. */
function profileWords({ head }: TuneView, { shortfalls, trial }: Lead): readonly string[] {
  const got = shortfalls.find(({ name }) => name === 'falseAlarms')?.got;
  const { high } = trial.years.rates.falseAlarms;
  if (got === undefined || head.logDays === null || high <= got) return [];
  return [
    `That ${countText(got, 'up')} is enough rests on the fitted profile: a log of ${numberText(head.logDays)} days alone cannot rule out ${countText(high, 'up')} per year (${percentText(head.confidence)}), the upper end in the table.`,
  ];
}

function leadText({ kind, shortfalls }: Lead, { relaxations }: TuneAnswer, set: string): string {
  if (kind === 'alone') {
    return `Relax one requirement, ${listText(shortfalls.map(relaxText))}, and ${set}`;
  }
  const wants = shortfalls.map((shortfall) =>
    Number.isFinite(shortfall.got)
      ? relaxText(shortfall)
      : `${requirementText(shortfall.name, shortfall.asked)}, for which there is no bound at all`,
  );
  const why =
    relaxations.length === 0
      ? 'No single requirement is to blame. For the settings that come nearest, relax'
      : 'To relax one requirement alone would give up what your settings do at rest. To keep that, relax';
  return `${why} ${listText(wants)}, and ${set}`;
}

/** Where a fault keeps every setting, tried or not, from a requirement. */
function obstacleWords({
  head,
  requirements,
  beyondRates: { demanded },
}: TuneView): readonly string[] {
  const { sureFromMs, worstDelayMs } = requirements;
  const { from } = head;
  const judge = {
    leaveOpenAfterMs: trueMs(sureFromMs ?? 1),
    reportWithinMs: worstDelayMs === null ? null : trueMs(worstDelayMs),
  };
  const obstacleTo = (key: 'leaveOpenAfter' | 'reportWithin', start: TuneQuestion['from']) =>
    key === 'leaveOpenAfter' && sureFromMs === null
      ? null
      : obstacleOf(key, { ...demanded, judge }, start);
  const sure = obstacleTo('leaveOpenAfter', from);
  const soon = obstacleTo('reportWithin', from);
  const found = [
    {
      obstacle: sure,
      what: `${requirementText('sureFrom', sureFromMs ?? 0)}${from === 'anyState' ? ' from any state' : ''}`,
    },
    { obstacle: soon, what: requirementText('worstDelay', worstDelayMs ?? 0) },
  ].flatMap(({ obstacle, what }) => (obstacle === null ? [] : [{ ...obstacle, what }]));
  if (found.length === 0) return [];
  const reasons = [...new Set(found.map(({ why }) => why))].map((why) => {
    const these = found.filter((one) => one.why === why).map(({ what }) => what);
    return `No setting can meet ${listText(these, 'or')} while ${why} (environment: in the watch file).`;
  });
  const lines = [...new Set(found.flatMap(({ without }) => without.map(({ line }) => line)))];
  const rest =
    from === 'anyState' && soon === null && obstacleTo('leaveOpenAfter', 'atRest') === null
      ? ', or leave out --any-state for what holds at rest'
      : '';
  return [
    `${reasons.join(' ')} To see what settings alone can improve, search with ${listText(lines)} there${rest}.`,
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
  return `They are the nearest: no others fail fewer requirements, and of those that fail as few, no others have a smaller worst failure (in proportion to what is required; what differs by less than ${percentText(sameFailure)} counts as equal, and then the next worst failure decides).${others}`;
}

function relaxText({ name, asked, got }: Shortfall): string {
  return `${requirementText(name, asked)} to ${requirementText(name, got)}`;
}

/** Each with its own settings: they are not those of the first. */
function alternatives(
  view: TuneView,
  others: readonly Relaxation[],
  { lead, width }: { readonly lead: Lead; readonly width: number },
): readonly string[] {
  const least =
    lead.kind === 'alone' ? 'That is the smallest change in proportion to what is required. ' : '';
  const title = `\n${paragraphText(`${least}Alternatives, each with its own settings:`, width)}`;
  return [
    title,
    ...others.map((other) => {
      const lines = linesToWrite(view.watch, other.trial.settings);
      const set = lines.length === 0 ? 'keep your settings' : `set ${lines.join(', ')}`;
      return paragraphText(
        `relax ${relaxText(other)}${lead.kind === 'alone' ? '' : ' alone'}, and ${set}. ${priceOf(view, other.trial)}${restOf(view, other.trial)}`,
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

function restOf({ beyondRates, answer }: TuneView, trial: Trial): string {
  const rest = beyondRates.atRest(trial, answer, 'these');
  return rest === null ? '' : ` ${rest}`;
}

/** What settings cost that are not recommended, beside the bounds. */
function priceOf(
  { head, reportWithinMs, beyondRates }: TuneView,
  { years, settings }: Pick<Trial, 'years' | 'settings'>,
): string {
  const { falseAlarms, missed, late } = years.rates;
  const lates = reportWithinMs === null ? '' : `, ${knownRate(late)} late`;
  const repeats = beyondRates.repeats(settings).map((clause) => ` ${sentence(clause)}`);
  return `With these ${head.lasts} ${livesText(years.lifeMs)}; per year, with ${percentText(head.confidence)} intervals, ${knownRate(missed)} missed${lates} and ${knownRate(falseAlarms)} false alarms.${repeats.join('')}`;
}
