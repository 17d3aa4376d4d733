// What takes too long for a page that follows a hand: all bounds with their picture, years of use, and a search.

import { boundsOf, type Curve } from '../../bounds/index.js';
import { detectionChart, tuneChart } from '../../chart/index.js';
import { emptyTally, estimateOf, join, tallyYears } from '../../estimate/index.js';
import { bouncesTooMuch, livingOf, yearsLivedWith, yearWorlds } from '../../scenarios/index.js';
import { priceText, type SheetRow, sheetRows, trialCells } from '../../wording/index.js';
import { deviceTiming } from '../../world/index.js';
import { fieldsOf, searchFront } from '../front.js';
import { type Plan, planning } from '../plan.js';
import { type PageParts, plannedReport } from '../planned-report.js';
import type { PlannerState } from '../state.js';

export interface Task {
  readonly id: number;
  readonly kind: 'bounds' | 'years' | 'front' | 'report';
  readonly state: PlannerState;
  readonly widthPx: number;
  /** For a report. */
  readonly page?: PageParts;
  /** Of bounds: the curve before the last change. */
  readonly ghost?: Curve | undefined;
}

/** Settings worth choosing, as the cells of their row, and what the fields then say. */
export interface Choice {
  readonly cells: readonly string[];
  readonly set: Readonly<Record<string, string>>;
  readonly isRecommended: boolean;
}

export interface YearlyRate {
  readonly name: string;
  readonly perYear: string;
  /** The interval that holds it, in 95 of 100 such searches. */
  readonly range: string;
}

/** What a task found so far. */
type Found = {
  /** How much of the work is done, 0 to 1. */
  readonly share: number;
} & (
  | {
      readonly kind: 'bounds';
      readonly picture: string;
      readonly words: readonly string[];
      readonly sheet: readonly SheetRow[];
    }
  | {
      readonly kind: 'years';
      readonly words: readonly string[];
      readonly rates: readonly YearlyRate[];
    }
  | {
      readonly kind: 'front';
      /** Empty: nothing is found yet. */
      readonly picture: string;
      readonly words: readonly string[];
      readonly choices: readonly Choice[];
    }
  | {
      readonly kind: 'report';
      /** A whole page; null: what is given out cannot be read back. */
      readonly html: string | null;
    }
);

type AnyAnswer = Found & { readonly id: number };

/** What was found for tasks of a kind. */
export type Answer<Kind extends Task['kind']> = Extract<AnyAnswer, { readonly kind: Kind }>;

export function isTask(value: unknown): value is Task {
  return typeof value === 'object' && value !== null && 'state' in value && 'kind' in value;
}

/** Whether a message of the worker answers the task. */
export function isAnswerTo<Kind extends Task['kind']>(
  { id, kind }: Task & { readonly kind: Kind },
  value: unknown,
): value is Answer<Kind> {
  if (typeof value !== 'object' || value === null) return false;
  return 'kind' in value && value.kind === kind && 'id' in value && value.id === id;
}

export function* answerTask(task: Task): Generator<AnyAnswer> {
  const planned = planning()(task.state);
  if (!planned.ok) return;
  for (const found of workOn(task, planned.plan)) yield { id: task.id, ...found };
}

function workOn(task: Task, plan: Plan): Generator<Found> {
  switch (task.kind) {
    case 'bounds':
      return findBounds(task, plan);
    case 'years':
      return findYears(plan);
    case 'front':
      return findFront(task, plan);
    case 'report':
      return makeReport(task);
  }
}

function* findBounds({ widthPx, ghost }: Task, { question, watchFile }: Plan): Generator<Found> {
  const bounds = boundsOf(question);
  const options = { theme: 'page' as const, bare: true, widthPx };
  const picture = detectionChart({ bounds, watchFile, file: 'watch.yaml', ghost, options });
  const points = bounds.findings.map(
    ({ sentence }) => `${sentence.charAt(0).toUpperCase()}${sentence.slice(1)}.`,
  );
  const prices = bounds.remedies.flatMap((remedy) => {
    const price = priceText(remedy, watchFile);
    const changes = remedy.changes.map(({ key, value }) => `${key}: ${value}`).join(' and ');
    return price === null ? [] : [`The price of ${changes}: ${price}.`];
  });
  const words = [...(bounds.advice === null ? [] : [bounds.advice, ...prices]), ...points];
  yield {
    kind: 'bounds',
    share: 1,
    picture,
    words,
    sheet: sheetRows(bounds, watchFile.environment),
  };
}

const rateNames = { missed: 'missed', late: 'late', falseAlarms: 'false alarms' } as const;
const years = 200;
const yearsAtOnce = 10;
const confidence = 0.95;

function* findYears({ question, watchFile, profile }: Plan): Generator<Found> {
  if (profile === null) return;
  const habits = { profile, contact: watchFile.contact, outages: null, powerCuts: null };
  if (bouncesTooMuch(habits)) {
    const words = ['The contact would change more often in a year than memory should hold.'];
    yield { kind: 'years', share: 1, words, rates: [] };
    return;
  }
  const worldOf = yearWorlds(habits);
  const people = yearsLivedWith(livingOf(watchFile));
  const source = {
    program: question.program,
    timing: deviceTiming({}, watchFile.timing),
    judge: watchFile.judge,
    seed: '1',
    worldOf: (year: number) => worldOf('1', year),
    livedWith: (seed: string) => people.livedWith(watchFile.watch, seed),
    asSeen: people.asSeen,
  };
  const tally = emptyTally();
  for (let year = 0; year < years; year += yearsAtOnce) {
    join(tally, tallyYears(source, year, year + yearsAtOnce));
    const { rates } = estimateOf(tally, confidence);
    const rows = (['missed', 'late', 'falseAlarms'] as const).map((name) => {
      const { perYear, low, high } = rates[name];
      const range = `${low.toFixed(2)} to ${high.toFixed(2)}`;
      return { name: rateNames[name], perYear: perYear.toFixed(2), range };
    });
    yield { kind: 'years', share: (year + yearsAtOnce) / years, words: [], rates: rows };
  }
}

const noFront = { kind: 'front', picture: '', words: [], choices: [] } as const;

function* findFront({ widthPx }: Task, { watchFile, profile }: Plan): Generator<Found> {
  const search = searchFront(watchFile, profile);
  if (search === null) {
    yield {
      ...noFront,
      share: 1,
      words: ['Choose a board and a battery: the search weighs how long a charge lasts.'],
    };
    return;
  }
  for (const { share, answer, requirements } of search) {
    if (answer === null) {
      yield { ...noFront, share };
      continue;
    }
    const options = { theme: 'page' as const, bare: true, widthPx };
    const { front, recommended } = answer;
    yield {
      kind: 'front',
      share: 1,
      picture: tuneChart({ answer, requirements, file: 'watch.yaml', options }),
      words: recommended === null ? ['None of the settings tried meets every requirement.'] : [],
      choices: front.map(({ trial }) => ({
        cells: trialCells(trial, true),
        set: fieldsOf(trial.settings),
        isRecommended: trial === recommended,
      })),
    };
  }
}

function* makeReport({ state, page }: Task): Generator<Found> {
  const html = page === undefined ? null : plannedReport(state, page);
  yield { kind: 'report', share: 1, html };
}
