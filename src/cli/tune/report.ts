// The report of `tune` for a terminal: what to choose and why, then what else there is to choose from.
import {
  counted,
  numberText,
  percentText,
  roundedDurationText,
  sentence,
} from '../../base/index.js';
import { yearsOfResample } from '../../estimate/index.js';
import {
  changesFrom,
  type FrontPoint,
  type Proved,
  type Trial,
  type TuneRequirements,
  type Weighed,
  type WeighedName,
} from '../../tune/index.js';
import {
  assumingText,
  boundText,
  countText,
  givenCells,
  givenColumns,
  knownRate,
  linesToWrite,
  livesText,
  missedOtherwise,
  plainCut,
  trialCells,
  trialColumns,
} from '../../wording/index.js';
import type { Paint } from '../layout/paint.js';
import {
  type Column,
  factsText,
  paragraphText,
  type Row,
  tableFits,
  tableText,
} from '../layout/table-text.js';
import { alternatives } from './alternatives.js';
import { impossible } from './impossible.js';
import type { TuneView } from './view.js';
import { askedText } from './words.js';

interface TuneStyle {
  readonly width: number;
  readonly paint: Paint;
  /** Whether the whole front is shown, however long. */
  readonly all: boolean;
}

const mostRows = 20;

export function tuneReport(view: TuneView, style: TuneStyle): string {
  const { width } = style;
  return [
    paragraphText(headline(view, style.paint), width),
    ...verdict(view, width),
    `\n${factsText(facts(view), width)}`,
    frontText(view, style),
  ].join('');
}

function headline({ answer, head }: TuneView, paint: Paint): string {
  const name = paint.bold(plainCut(head.file ?? 'the defaults', 200));
  const all = counted(head.searched, 'setting');
  const assumed = assumingText(head.assumes);
  if (answer.meeting === 0) {
    const none =
      head.searched === 1
        ? paint.bad('which does NOT meet every requirement')
        : paint.bad('NONE meets every requirement');
    const but = answer.recommended === null ? '' : `, ${paint.good('but your settings do')}`;
    return head.searched === 1
      ? `${name}: one setting was tried, ${none}${but}${assumed}.`
      : `${name}: of ${all}, ${none}${but}${assumed}.`;
  }
  const meet = paint.good(
    `${numberText(answer.meeting)} ${answer.meeting === 1 ? 'meets' : 'meet'} every requirement`,
  );
  const isPresentMore = answer.candidates > answer.meeting;
  const also = isPresentMore ? `, and ${paint.good('your settings also do')}` : '';
  return `${name}: of ${all}, ${meet}${also}${assumed}.`;
}

function verdict(view: TuneView, width: number): readonly string[] {
  const { answer, watch } = view;
  const { recommended } = answer;
  if (recommended === null) return impossible(view, width);
  const lines = linesToWrite(watch, recommended.settings);
  const which = lines.length === 0 ? 'your settings' : 'the settings below';
  const rest = view.beyondRates.atRest(recommended, answer, which);
  return [
    ...(rest === null ? [] : [`\n${paragraphText(rest, width)}`]),
    ...(lines.length === 0
      ? ['\nRecommended: keep your settings.\n']
      : ['\nRecommended, under watch:\n', ...lines.map((line) => `  ${line}\n`)]),
    paragraphText(reasonOf(view, recommended), width),
    ...comparison(view, recommended, width),
    ...needs(view, recommended, width),
    ...alternatives(view, recommended, width),
  ];
}

/** What each step of the choice kept, in the order of the steps. */
const chosenBy: Readonly<Record<TuneView['answer']['prefer'], string>> = {
  sure: 'the fewest misses, as far as the simulated years show; then the fewest false alarms; then the longest life; then the soonest alert',
  quiet:
    'the fewest false alarms, as far as the simulated years show; then the fewest misses; then the longest life; then the soonest alert',
  life: 'the longest life, within 3 %; then the fewest misses; then the fewest false alarms; then the soonest alert',
};

/** Why a row with more misses than another may be chosen. */
function alikeWords(confidence: number): string {
  return `A count of misses, late reports or false alarms that lies within the ${percentText(confidence)} interval of the lowest is taken as equal to it`;
}

function reasonOf({ answer, head, reportWithinMs }: TuneView, { proved, years }: Trial): string {
  const { falseAlarms, missed, late } = years.rates;
  const start = head.from === 'atRest' ? 'at rest' : 'from any state';
  const sure = `sure from ${boundText(proved.sureFromMs, 'never')}, reported within ${boundText(proved.worstDelayMs, 'no fixed time')} (proved, ${start}${head.gaps === null ? '' : `, ${head.gaps}`})`;
  const lates = reportWithinMs === null ? '' : `, ${knownRate(late)} late`;
  const rates = `per year, with ${percentText(head.confidence)} intervals, ${knownRate(missed)} missed${lates} and ${knownRate(falseAlarms)} false alarms`;
  const why =
    answer.meeting === 0
      ? 'None of the settings tried meets all requirements, and yours do'
      : answer.candidates === 1
        ? 'It is the only one that meets all requirements'
        : `Of the ${numberText(answer.candidates)} that meet every requirement, it is chosen for ${chosenBy[answer.prefer]} (--prefer ${answer.prefer}). ${alikeWords(head.confidence)}`;
  return `${sentence(`${head.lasts} ${livesText(years.lifeMs)}; ${sure}; ${rates}`)} ${sentence(why)}`;
}

/** What gets better and what gets worse, compared with the present settings. */
function comparison(
  { answer, head, watch, reportWithinMs, beyondRates, anyState, yoursFromAnyState }: TuneView,
  chosen: Trial,
  width: number,
): string[] {
  const { present } = answer;
  if (present === null || linesToWrite(watch, chosen.settings).length === 0) return [];
  const rate = (name: 'missed' | 'late' | 'falseAlarms', words: string): Change => {
    const [before, after] = [weighedOf(present, name, head), weighedOf(chosen, name, head)];
    const counts =
      before.count === after.count
        ? `${numberText(after.count)} in both`
        : `${numberText(before.count)} against ${numberText(after.count)}`;
    const text = `${words} (${counts})`;
    // Within each other's intervals the years cannot tell which is less. The doubt of a profile is of both alike.
    const isAlike = after.perYear <= before.high && before.perYear <= after.high;
    return { text, gain: isAlike ? 0 : before.perYear - after.perYear };
  };
  const bound = (name: 'sureFromMs' | 'worstDelayMs', words: string, none: string): Change => {
    const [was, is] = [present.proved[name], chosen.proved[name]];
    const [before, after] = [boundText(was, none), boundText(is, none)];
    return { text: fromTo(words, before, after), gain: before === after ? null : was - is };
  };
  const [lived, lives] = [present.years.lifeMs, chosen.years.lifeMs];
  const [before, after] = [livesText(lived), livesText(lives)];
  const isSame = Math.abs(lives - lived) < 0.01 * lived || lives === lived;
  const life = {
    text: fromTo('life', before, after),
    gain: before === after ? null : isSame ? 0 : lives - lived,
  };
  const changes = [
    rate('missed', 'missed'),
    ...(reportWithinMs === null ? [] : [rate('late', 'late')]),
    rate('falseAlarms', 'false alarms'),
    life,
    bound('worstDelayMs', 'worst latency', 'no limit'),
    bound('sureFromMs', 'sure from', 'never'),
    ...restChange(present, chosen),
    ...(head.from === 'atRest' ? anyStateChanges(yoursFromAnyState, anyState) : []),
    quietChange(present, chosen),
    ...beyondRates.repeats(chosen.settings).map((text) => ({ text, gain: -1 })),
  ];
  const of = (isIn: (gain: number) => boolean): string =>
    changes
      .filter(({ gain }) => gain !== null && isIn(gain))
      .map(({ text }) => text)
      .join('; ') || 'nothing';
  const facts = [
    ['better', of((gain) => gain > 0)],
    ['worse', of((gain) => gain < 0)],
    ['no clear change', of((gain) => gain === 0)],
  ] as const;
  const { years } = weighedOf(chosen, 'missed', head);
  const title = `Compared with your settings (counts are yours against these, in the same ${counted(years, 'simulated year')})`;
  return [`\n${paragraphText(title, width)}`, factsText(facts, width)];
}

/** What settings are compared by: with a profile that was fitted to a log also years of its resamples. */
function weighedOf({ years }: Trial, name: WeighedName, head: TuneView['head']): Weighed {
  return years.overall?.[name] ?? { ...years.rates[name], years: head.years };
}

function fromTo(words: string, was: string, is: string): string {
  return was === is ? `${words} ${is}` : `${words}: ${is} instead of ${was}`;
}

interface Change {
  readonly text: string;
  /** 0: no clear change; null: none that is shown. */
  readonly gain: number | null;
}

/** What the recommendation asks of the hardware, and which of its promises do not hold from any state. */
function needs(
  { anyState, requirements, head }: TuneView,
  { settings, proved, years }: Trial,
  width: number,
): string[] {
  const isSure = proved.sureFromMs <= (requirements.sureFromMs ?? 0);
  const sentences: string[] = [
    ...(head.from === 'atRest' && isSure && years.rates.missed.count > 0
      ? [
          `The simulated years miss leave-opens although none is missed at rest: ${missedOtherwise(head.assumes, { missed: years.rates.missed.count, byLoss: years.missedByLoss })}.`,
        ]
      : []),
    ...(head.from === 'atRest' && anyState !== null ? fromAnyState(anyState, requirements) : []),
  ];
  const asked = requirements.falseAlarmsPerYear;
  if (asked !== null && head.logDays !== null && years.rates.falseAlarms.high > asked) {
    sentences.push(
      `That there are so few false alarms rests on the fitted profile: a log of ${numberText(head.logDays)} days cannot rule out ${countText(years.rates.falseAlarms.high, 'up')} per year (${percentText(head.confidence)}).`,
    );
  }
  if (settings.wakeOn !== 'timer') {
    const edges =
      settings.wakeOn === 'opening' ? 'when the door opens' : 'when the door opens or shuts';
    sentences.unshift(
      `It needs the contact on a pin that can wake the device from sleep (wakeOn: ${settings.wakeOn}), armed to wake it ${edges}.`,
    );
  }
  return sentences.map((one) => `\n${paragraphText(one, width)}`);
}

function fromAnyState(
  { isKnown, inSpiteOfBounce: { sureFromMs, worstDelayMs } }: Proved,
  requirements: TuneRequirements,
): readonly string[] {
  if (!isKnown)
    return ['From any state nothing is proved: that search met more states than it may.'];
  const fails = [
    ...(sureFromMs > (requirements.sureFromMs ?? Number.POSITIVE_INFINITY)
      ? [
          Number.isFinite(sureFromMs)
            ? `it is sure only from ${boundText(sureFromMs, 'never')}`
            : 'no opening is long enough to be sure',
        ]
      : []),
    ...(worstDelayMs > (requirements.worstDelayMs ?? Number.POSITIVE_INFINITY)
      ? [
          Number.isFinite(worstDelayMs)
            ? `the alert may take ${boundText(worstDelayMs, 'no limit')}`
            : 'the alert may take any time',
        ]
      : []),
  ];
  if (fails.length === 0) return ['Its promises also hold from any state.'];
  return [
    `From any state it does NOT keep what it promises at rest: ${fails.join(', and ')} (a door that shuts and opens again between two checks stays the same opening to the device). Search with --any-state to require it.`,
  ];
}

/** With bounds at rest, what holds from any state may get worse. */
function anyStateChanges(was: Proved | null, is: Proved | null): readonly Change[] {
  if (was?.isKnown !== true || is?.isKnown !== true) return [];
  return (
    [
      ['worstDelayMs', 'from any state worst latency', 'no limit'],
      ['sureFromMs', 'from any state sure from', 'never'],
    ] as const
  ).map(([name, words, none]) => {
    const [before, after] = [was.inSpiteOfBounce[name], is.inSpiteOfBounce[name]];
    const [from, to] = [boundText(before, none), boundText(after, none)];
    return { text: fromTo(words, from, to), gain: from === to ? null : before - after };
  });
}

/** With bounds from any state, what holds at rest may get worse. */
function restChange({ proved: was }: Trial, { proved: is }: Trial): readonly Change[] {
  if (was.atRest === undefined || is.atRest === undefined) return [];
  const [before, after] = [was.atRest.sureFromMs, is.atRest.sureFromMs];
  const [from, to] = [boundText(before, 'never'), boundText(after, 'never')];
  return [
    { text: fromTo('sure from at rest', from, to), gain: from === to ? null : before - after },
  ];
}

/** A shorter quiet time is a price that no rate of the simulated years need show. */
function quietChange({ proved: was }: Trial, { proved: is }: Trial): Change {
  const text = (ms: number): string => {
    if (!Number.isFinite(ms)) return 'any length';
    return ms <= 0 ? 'no length' : roundedDurationText(ms, 'at least');
  };
  const [before, after] = [text(was.quietUpToMs), text(is.quietUpToMs)];
  return {
    text: fromTo('quiet up to', before, after),
    gain: before === after ? null : is.quietUpToMs - was.quietUpToMs,
  };
}

function facts({ head, requirements }: TuneView): (readonly [string, string])[] {
  const { lived, unknown, years, resamples } = head;
  const doubt =
    resamples === 0
      ? ''
      : `; those below also in ${counted(yearsOfResample(years, resamples), 'year')} of each of ${numberText(resamples)} other profiles that the log leaves open, which the intervals include`;
  const from = head.from === 'atRest' ? 'at rest' : 'from any state';
  const unknowns =
    unknown === 0 ? '' : `; ${counted(unknown, 'search', 'searches')} outgrew its limit`;
  return [
    ['required', askedOf(requirements, head.gaps).join('; ') || 'nothing'],
    ['tried', head.tried === '' ? 'one setting' : head.tried],
    [
      'proved',
      `for ${head.searched === 1 ? 'this one' : `all ${numberText(head.searched)}`}, ${from}${head.gaps === null ? '' : `, ${head.gaps}`}${unknowns}`,
    ],
    [
      'simulated',
      `${counted(lived, 'setting')}, ${lived === 1 ? 'in' : 'each in the same'} ${counted(years, 'year')}, seed ${plainCut(head.seed, 200)}${doubt}`,
    ],
    ['profile', plainCut(head.profile, 600)],
  ];
}

function askedOf(requirements: TuneRequirements, gaps: string | null): readonly string[] {
  const { sureFromMs, worstDelayMs, quietUpToMs, lifeMs, falseAlarmsPerYear } = requirements;
  return (
    [
      ['sureFrom', sureFromMs],
      ['worstDelay', worstDelayMs],
      ['quietUpTo', quietUpToMs],
      ['life', lifeMs],
      ['falseAlarms', falseAlarmsPerYear],
    ] as const
  ).flatMap(([name, value]) => {
    if (value === null) return [];
    const isOfGaps = gaps !== null && (name === 'sureFrom' || name === 'worstDelay');
    return [`${askedText(name, value)}${isOfGaps ? ` (${gaps})` : ''}`];
  });
}

function frontText(view: TuneView, { width, paint, all }: TuneStyle): string {
  const { answer, head, reportWithinMs, watch } = view;
  const { front, recommended, pool, present } = answer;
  if (front.length === 0) return '';
  const shown = (all ? front : someOf(front, recommended)).map(({ trial }) => trial);
  const isPresent = ({ settings }: Trial): boolean => changesFrom(watch, settings) === 0;
  const listed = present === null || shown.some(isPresent) ? shown : [...shown, present];
  const isVaried = new Set(listed.map(({ settings }) => settings.alertCooldownMs)).size > 1;
  const hidden = new Set<string>([
    ...(isVaried ? [] : ['cooldown']),
    ...(reportWithinMs === null ? ['late'] : []),
  ]);
  const isShown = (_: unknown, index: number): boolean =>
    !hidden.has(trialColumns[index]?.title ?? '');
  const isGiven = (_: unknown, index: number): boolean =>
    new Set(listed.map((trial) => givenCells(trial)[index])).size > 1;
  // Beside what else is set, before what it comes to.
  const setCount = trialColumns.filter(isShown).findIndex(({ title }) => title === 'sure from');
  const beside = <Cell>(cells: readonly Cell[], more: readonly Cell[]): readonly Cell[] =>
    cells.toSpliced(setCount, 0, ...more);
  const shownColumns = beside<Column>(trialColumns.filter(isShown), givenColumns.filter(isGiven));
  const isAnyState = head.from === 'anyState';
  const restAt = shownColumns.findIndex(({ title }) => title === 'sure from') + 1;
  const withRest = <Cell>(cells: readonly Cell[], more: Cell): readonly Cell[] =>
    isAnyState ? cells.toSpliced(restAt, 0, more) : cells;
  const columns = [
    { title: '' },
    ...withRest<Column>(shownColumns, { title: 'at rest', align: 'right' }),
  ] as const;
  const rows = listed.map((trial): Row => {
    const isChosen = trial === recommended;
    const given = givenCells(trial).map((cell) => cell ?? '');
    const cells = withRest(
      beside(trialCells(trial, all).filter(isShown), given.filter(isGiven)),
      boundText(trial.proved.atRest?.sureFromMs ?? 0, 'never'),
    );
    const marks = `${isChosen ? '>' : ''}${isPresent(trial) ? '=' : ''}`;
    return {
      cells: [marks, ...cells.map((cell) => (isChosen ? paint.bold(cell) : cell))],
      below: [],
    };
  });
  const table = tableFits(columns, rows, width)
    ? { columns, rows }
    : settingsBelow(columns, rows, setCount + givenColumns.filter(isGiven).length);
  const others = listed.length > shown.length ? ', and yours' : '';
  const title =
    pool === 'meeting'
      ? `Settings that meet every requirement and that no other beats${others}`
      : `Settings that no other beats, whether or not they meet the requirements${others}`;
  const left = front.length - shown.length;
  const more = left === 0 ? '' : `  and ${numberText(left)} between them (--all)\n`;
  const marks = [
    ...(recommended === null ? [] : ['> recommended']),
    ...(present === null ? [] : ['= your settings']),
  ].join(', ');
  const sure = percentText(head.confidence);
  const note = paragraphText(
    `${marks === '' ? '' : `${marks}. `}Missed, late and false alarms are per year, ${all ? `with ${sure} intervals` : `as simulated ("at most": with ${sure} confidence; --all shows the intervals)`}; alert at: open checks that decide an alert${isAnyState ? '; at rest: sure from there' : ''}. No other beats these: no setting tried is at least as good in each of worst latency, sure from, life, missed, late and false alarms${isAnyState ? ' (and no further from what is required at rest)' : ''}, and better in one.${beatenText(answer, present !== null && answer.presentMeets && !front.some(({ trial }) => isPresent(trial)), left === 0)}`,
    width,
  );
  return `\n${title}\n${[...tableText(table.columns, table.rows, width)].join('')}${more}\n${note}`;
}

/** For a narrow terminal: what is set, in words below what it leads to. @param set how many columns after the first are settings. */
function settingsBelow(
  columns: readonly Column[],
  rows: readonly Row[],
  set: number,
): { readonly columns: readonly Column[]; readonly rows: readonly Row[] } {
  const others = <Item>(all: readonly Item[]): readonly Item[] => all.toSpliced(1, set);
  return {
    columns: others(columns),
    rows: rows.map(({ cells }) => ({
      cells: others(cells),
      below: [
        columns
          .slice(1, 1 + set)
          .map(({ title }, index) => `${title} ${cells[index + 1] ?? ''}`)
          .join(', '),
      ],
    })),
  };
}

/** The others that meet every requirement. */
function beatenText(
  { pool, front, candidates }: TuneView['answer'],
  isPresentOne: boolean,
  isAll: boolean,
): string {
  const others = candidates - front.length;
  if (pool !== 'meeting' || others <= 0) return '';
  if (isPresentOne && others === 1) {
    return ' Yours also meets every requirement; one that is listed is at least as good as it in all of these.';
  }
  const yours = isPresentOne ? ', yours among them,' : '';
  return ` ${counted(others, 'other')}${yours} also ${others === 1 ? 'meets' : 'meet'} every requirement; one that is listed${isAll ? '' : ' with --all'} is at least as good as ${others === 1 ? 'it' : 'each of them'} in all of these.`;
}

/** The ends, the recommended one, and as many between as a table should hold. */
function someOf(front: readonly FrontPoint[], recommended: Trial | null): readonly FrontPoint[] {
  if (front.length <= mostRows) return front;
  const step = (front.length - 1) / (mostRows - 1);
  const wanted = new Set(Array.from({ length: mostRows }, (_, index) => Math.round(index * step)));
  return front.filter(({ trial }, index) => wanted.has(index) || trial === recommended);
}
