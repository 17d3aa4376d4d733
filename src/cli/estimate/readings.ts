// The options of `estimate` and `merge`, each checked and turned into what it means.

import { shellWord } from '../../base/index.js';
import { type PrecisionName, precisionNames } from '../../estimate/index.js';
import {
  mostEstimatedYears,
  mostJobs,
  mostMishapsAYear,
  mostShards,
  stretchLimits,
} from '../../model/index.js';
import { type Mishaps } from '../../scenarios/index.js';
import { durationOf, perYearOf, shareOf } from '../arguments/values.js';
import { wholeNumber } from '../arguments/whole-number.js';
import { problem } from '../problem.js';
import type { EstimateOptions } from './options.js';

/** A part of the years: the `index`-th of `of`, from 1. */
export interface Shard {
  readonly index: number;
  readonly of: number;
}

export interface Precision {
  readonly of: PrecisionName;
  readonly share: number;
}

export interface EstimatePlan {
  readonly years: number;
  readonly confidence: number;
  readonly outages: Mishaps | null;
  readonly powerCuts: Mishaps | null;
  readonly precision: Precision | null;
  readonly jobs: number | null;
  readonly shard: Shard | null;
}

const usualYears = 1_000;
const usualMostYears = 100_000;

/** @throws InputProblem for the first option that makes no sense. */
export function planOf(options: EstimateOptions): EstimatePlan {
  const { years, jobs } = options;
  const precision = precisionOf(options);
  const usual = precision === null ? usualYears : usualMostYears;
  const shard = options.shard === undefined ? null : shardOf(options.shard);
  const plan = {
    years:
      years === undefined
        ? usual
        : wholeNumber('--years', { least: 1, most: mostEstimatedYears })(years),
    confidence: confidenceOf(options.confidence),
    outages: mishapsOf('outage', options.outageRate, options.outageLasting),
    powerCuts: mishapsOf('power-loss', options.powerLossRate, options.powerLossLasting),
    precision,
    jobs: jobs === undefined ? null : wholeNumber('--jobs', { least: 1, most: mostJobs })(jobs),
    shard,
  };
  checkShard(plan, options);
  return plan;
}

export function confidenceOf(text: string): number {
  return shareOf('--confidence', text, { least: 0.5, most: 0.99999 });
}

/** The years of a shard: from the first to before the last. */
export function yearsOf(years: number, shard: Shard | null): readonly [from: number, to: number] {
  if (shard === null) return [0, years];
  const { index, of } = shard;
  return [Math.floor(((index - 1) * years) / of), Math.floor((index * years) / of)];
}

function precisionOf(options: EstimateOptions): Precision | null {
  const { precision, precisionOf: rate } = options;
  if (precision === undefined) {
    if (rate === undefined) return null;
    throw problem('precision-missing', '--precision-of', {
      message: 'this option needs --precision',
      hint: 'add it, such as --precision 10%',
    });
  }
  const share = shareOf('--precision', precision, { least: 0.001, most: 1 });
  const of = precisionNames.find((name) => name === rate) ?? 'missed-share';
  return { of, share };
}

function checkShard(plan: EstimatePlan, options: EstimateOptions): void {
  const { shard, precision, years } = plan;
  if (shard === null) {
    if (options.output === undefined) return;
    throw problem('output-without-shard', '--output', {
      message: '--output is only for the part that --shard simulates',
      found: options.output,
      hint: `add --shard, such as --shard 1/2, or send the report to a file with > ${shellWord(options.output)}`,
    });
  }
  if (precision !== null) {
    throw problem('shard-with-precision', '--precision', {
      message: 'a part does not know how precise the whole will be',
      hint: 'give --years instead of --precision',
    });
  }
  if (options.output === undefined) {
    throw problem('output-missing', '--shard', {
      message: 'this option needs --output, the file for the part',
      hint: `add it, such as -o part-${String(shard.index)}.json`,
    });
  }
  if (options.json === true) {
    throw problem('json-with-shard', '--json', {
      message: 'a part is written to its file and is not printed',
      hint: 'leave --json out here, and give it to dozewatch merge',
    });
  }
  if (options.chart !== undefined) {
    throw problem('chart-with-shard', '--chart', {
      message: 'a part of the years has no picture',
      hint: 'leave --chart out here, and give it to dozewatch merge',
    });
  }
  if (shard.of > years) {
    throw problem('shard-empty', '--shard', {
      message: 'there are more parts than years',
      hint: 'raise --years, or make fewer parts',
      found: `${String(shard.of)} parts of ${String(years)} years`,
    });
  }
}

function shardOf(text: string): Shard {
  const [, index = '', of = ''] = /^(\d{1,6})\/(\d{1,6})$/u.exec(text.trim()) ?? [];
  const shard = { index: Number(index), of: Number(of) };
  const fits = shard.of <= mostShards && shard.index >= 1 && shard.index <= shard.of;
  if (index !== '' && fits) return shard;
  throw problem('shard-unreadable', '--shard', {
    message: 'this does not name a part of the years',
    found: text,
    expected: `i/n with i from 1 to n, and n at most ${String(mostShards)}, such as 3/8`,
  });
}

/** What goes wrong again and again, as two options say it: how often, and how long on average. */
export function mishapsOf(
  what: 'outage' | 'power-loss',
  rate: string | undefined,
  lasting: string | undefined,
): Mishaps | null {
  if (rate === undefined) {
    if (what === 'power-loss' || lasting === undefined) return null;
    throw problem('option-missing', `--${what}-lasting`, {
      message: `this option needs --${what}-rate`,
      hint: `add it, such as --${what}-rate 12/year`,
    });
  }
  if (lasting === undefined) {
    throw problem('option-missing', `--${what}-rate`, {
      message: `this option needs --${what}-lasting`,
      hint: `add it, such as --${what}-lasting 30m`,
    });
  }
  const perYear = perYearOf(`--${what}-rate`, rate, { least: 0, most: mostMishapsAYear });
  const meanMs = durationOf(`--${what}-lasting`, lasting, stretchLimits);
  return perYear === 0 ? null : { perYear, meanMs };
}
