// The report of `tune` for a terminal: what to choose and why, then what else there is to choose from.
import { counted, numberText, sentence } from '../../base/index.js';
import type { FrontPoint, Trial, TuneRequirements } from '../../tune/index.js';
import {
  boundText,
  knownRate,
  linesToWrite,
  livesText,
  plainCut,
  trialCells,
  trialColumns,
} from '../../wording/index.js';
import type { Paint } from '../layout/paint.js';
import { factsText, paragraphText, type Row, tableText } from '../layout/table-text.js';
import type { TuneView } from './view.js';
import { askedText, requirementText } from './words.js';

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
  if (answer.recommended === null) {
    return `${name}: of ${all}, ${paint.bad('NONE does all that is asked')}.`;
  }
  return `${name}: of ${all}, ${paint.good(`${numberText(answer.meeting)} do all that is asked`)}.`;
}

function verdict(view: TuneView, width: number): readonly string[] {
  const { answer, watch } = view;
  const { recommended } = answer;
  if (recommended === null) return impossible(view, width);
  const lines = linesToWrite(watch, recommended.settings);
  const written = lines.length === 0 ? ['(the watch file has them already)'] : lines;
  return [
    '\nRecommended, under watch:\n',
    ...written.map((line) => `  ${line}\n`),
    paragraphText(reasonOf(view, recommended), width),
  ];
}

function reasonOf({ answer, head }: TuneView, { proved, years }: Trial): string {
  const { falseAlarms } = years.rates;
  const start = head.from === 'atRest' ? 'from rest' : 'from any state';
  const lasts = `of all settings that do what is asked it lasts longest: ${livesText(years.lifeMs)}`;
  const sure = `sure from ${boundText(proved.sureFromMs, 'never')}, reported within ${boundText(proved.worstDelayMs, 'no fixed time')} (proved, ${start})`;
  const alarms = `${knownRate(falseAlarms)} false alarms a year`;
  const only = answer.meeting === 1 ? 'It is the only one: ' : '';
  return sentence(`${only}${lasts}; ${sure}; ${alarms}`);
}

function impossible({ answer, watch }: TuneView, width: number): readonly string[] {
  const { relaxations, nearest } = answer;
  const [first, ...others] = relaxations;
  if (first !== undefined) {
    const { name, asked, got, trial } = first;
    const lines = linesToWrite(watch, trial.settings);
    return [
      `\nThe one to relax: ${requirementText(name, asked)} to ${requirementText(name, got)}, with\n`,
      ...lines.map((line) => `  ${line}\n`),
      ...others.map(
        (other) =>
          `or else ${requirementText(other.name, other.asked)} to ${requirementText(other.name, other.got)}\n`,
      ),
    ];
  }
  if (nearest === null) {
    const words =
      'Nothing is proved of any of them: each search met more states than it may. Ask less of the environment.';
    return ['\n', paragraphText(words, width)];
  }
  const wants = nearest.shortfalls.map(({ name, asked, got }) =>
    Number.isFinite(got)
      ? `${requirementText(name, asked)} to ${requirementText(name, got)}`
      : `${requirementText(name, asked)}, for which there is no bound at all`,
  );
  return [
    '\n',
    paragraphText(
      `No single requirement is to blame. What comes nearest has to relax ${wants.join(', and ')}.`,
      width,
    ),
    ...linesToWrite(watch, nearest.trial.settings).map((line) => `  ${line}\n`),
  ];
}

function facts({ head, requirements }: TuneView): (readonly [string, string])[] {
  const { lived, unknown, years } = head;
  const from =
    head.from === 'atRest' ? 'the door shut and seen shut long before' : 'whatever went before';
  const unknowns =
    unknown === 0 ? '' : `; ${counted(unknown, 'search', 'searches')} outgrew its limit`;
  return [
    ['asked', askedOf(requirements).join('; ') || 'nothing'],
    ['proved', `for all ${numberText(head.searched)}, ${from}${unknowns}`],
    [
      'lived',
      `${numberText(lived)} settings through the same ${numberText(years)} years of ${plainCut(head.profile, 600)}, seed ${plainCut(head.seed, 200)}`,
    ],
  ];
}

function askedOf(requirements: TuneRequirements): readonly string[] {
  const { sureFromMs, worstDelayMs, quietUpToMs, lifeMs, falseAlarmsPerYear } = requirements;
  return (
    [
      ['sureFrom', sureFromMs],
      ['worstDelay', worstDelayMs],
      ['quietUpTo', quietUpToMs],
      ['life', lifeMs],
      ['falseAlarms', falseAlarmsPerYear],
    ] as const
  ).flatMap(([name, value]) => (value === null ? [] : [askedText(name, value)]));
}

function frontText({ answer, head }: TuneView, { width, paint, all }: TuneStyle): string {
  const { front, recommended, pool } = answer;
  if (front.length === 0) return '';
  const shown = all ? front : someOf(front, recommended);
  const columns = [{ title: '' }, ...trialColumns] as const;
  const rows = shown.map(({ trial }): Row => {
    const isChosen = trial === recommended;
    const cells = trialCells(trial);
    return {
      cells: [isChosen ? '>' : '', ...cells.map((cell) => (isChosen ? paint.bold(cell) : cell))],
      below: [],
    };
  });
  const what = pool === 'meeting' ? 'that do all that is asked' : 'of all, whatever is asked';
  const left = front.length - shown.length;
  const more = left === 0 ? '' : `  and ${numberText(left)} between them (--all)\n`;
  const note = paragraphText(
    `False alarms are a year, estimated, ${String(head.confidence * 100)} % sure; no setting tried beats any of these in worst delay, sure from, life and false alarms together.`,
    width,
  );
  return `\nSettings ${what}, unbeaten\n${[...tableText(columns, rows, width)].join('')}${more}\n${note}`;
}

/** The ends, the recommended one, and as many between as a table should hold. */
function someOf(front: readonly FrontPoint[], recommended: Trial | null): readonly FrontPoint[] {
  if (front.length <= mostRows) return front;
  const step = (front.length - 1) / (mostRows - 1);
  const wanted = new Set(Array.from({ length: mostRows }, (_, index) => Math.round(index * step)));
  return front.filter(({ trial }, index) => wanted.has(index) || trial === recommended);
}
