// What takes too long for a page that follows a hand: all bounds with their picture, and years of use.
import { boundsOf } from '../../bounds/index.js';
import { detectionChart } from '../../chart/index.js';
import { emptyTally, estimateOf, join, tallyYears } from '../../estimate/index.js';
import { builtInProfile, yearWorlds } from '../../scenarios/index.js';
import { planning } from '../plan.js';
import type { PlannerState } from '../state.js';

export interface Task {
  readonly id: number;
  readonly kind: 'bounds' | 'years';
  readonly state: PlannerState;
  readonly widthPx: number;
}

export interface Answer {
  readonly id: number;
  readonly kind: Task['kind'];
  /** How much of the work is done, 0 to 1. */
  readonly share: number;
  readonly picture: string;
  readonly words: readonly string[];
}

export function isTask(value: unknown): value is Task {
  return typeof value === 'object' && value !== null && 'state' in value && 'kind' in value;
}

export function isAnswer(value: unknown): value is Answer {
  return typeof value === 'object' && value !== null && 'share' in value && 'words' in value;
}

const years = 200;
const yearsAtOnce = 10;
const confidence = 0.95;

export function* answerTask({ id, kind, state, widthPx }: Task): Generator<Answer> {
  const planned = planning()(state);
  if (!planned.ok) return;
  const { watchFile, question } = planned.plan;
  if (kind === 'bounds') {
    const bounds = boundsOf(question);
    const options = { theme: 'page' as const, bare: true, widthPx };
    const picture = detectionChart({ bounds, watchFile, file: 'watch.yaml', options });
    const points = bounds.findings.map(
      ({ sentence }) => `${sentence.charAt(0).toUpperCase()}${sentence.slice(1)}.`,
    );
    yield {
      id,
      kind,
      share: 1,
      picture,
      words: [...(bounds.advice === null ? [] : [bounds.advice]), ...points],
    };
    return;
  }
  const profile = builtInProfile('flower-store');
  if (profile === null) return;
  const worldOf = yearWorlds({ profile, contact: null, outages: null, powerCuts: null });
  const source = {
    program: question.program,
    timing: watchFile.timing,
    judge: watchFile.judge,
    seed: '1',
    worldOf: (year: number) => worldOf('1', year),
  };
  const tally = emptyTally();
  for (let year = 0; year < years; year += yearsAtOnce) {
    join(tally, tallyYears(source, year, year + yearsAtOnce));
    const { rates } = estimateOf(tally, confidence);
    const words = (['missed', 'late', 'falseAlarms'] as const).map((name) => {
      const { perYear, low, high } = rates[name];
      const label = { missed: 'Missed', late: 'Late', falseAlarms: 'False alarms' }[name];
      return `${label}: ${perYear.toFixed(2)} a year (${low.toFixed(2)} to ${high.toFixed(2)})`;
    });
    yield { id, kind, share: (year + yearsAtOnce) / years, picture: '', words };
  }
}
