// What `hunt` does, from its options and the watch file.

import { dayMs, randomStream, weekMs } from '../../base/index.js';
import {
  type Adversity,
  type AdversityKind,
  adversityKinds,
  calm,
  judgedProperties,
  type NamedProperty,
  namedProperties,
  withUsual,
} from '../../hunt/index.js';
import { longestHuntMs, mostHuntedRuns, possibleResets } from '../../model/index.js';
import { mutants } from '../../mutants/index.js';
import type { WatchFile } from '../../scenarios/index.js';
import { durationOf, namesOf } from '../arguments/values.js';
import { wholeNumber } from '../arguments/whole-number.js';
import { problem } from '../problem.js';
import type { HuntOptions } from './options.js';

export interface HuntPlan {
  readonly properties: readonly NamedProperty[];
  readonly adversity: Adversity;
  /** Infinity: no limit but time. */
  readonly runs: number;
  /** Null: no limit but runs. */
  readonly forMs: number | null;
  readonly lengthMs: number;
  readonly seed: number;
  readonly path: string | undefined;
}

const usualRuns = 2_000;
const seedBits = 2 ** 31;

/** @throws InputProblem for options that make no sense, alone or together. */
export function planOf(options: HuntOptions, watchFile: WatchFile): HuntPlan {
  if (options.path !== undefined && options.seed === undefined) {
    throw problem('seed-missing', '--path', {
      message: 'a path belongs to one seed',
      hint: 'give the --seed that was printed with it',
    });
  }
  if (options.mistake !== undefined && options.logic !== undefined) {
    throw problem('options-exclude', '--mistake', {
      message: "--mistake changes the watch's own logic, which --logic replaces",
      hint: 'leave out --mistake or --logic',
    });
  }
  if (options.mistake !== undefined && options.property !== undefined) {
    throw problem('options-exclude', '--mistake', {
      message: 'with --mistake the hunt looks for a difference, not for a property',
      hint: 'leave out --property',
    });
  }
  const path = options.path === undefined ? undefined : pathOf(options.path);
  const { runs, forMs } = limitsOf(options);
  const properties = propertiesOf(options, watchFile);
  return {
    properties,
    adversity: adversityOf(options, watchFile, properties),
    runs,
    forMs,
    lengthMs: lengthOf(options, watchFile),
    seed: seedOf(options.seed ?? '1'),
    path,
  };
}

/** A whole number, as findings are printed with, is itself; any other text is hashed to one. */
function seedOf(text: string): number {
  const number = /^-?\d+$/u.test(text) ? Number(text) : Number.NaN;
  if (number >= -seedBits && number < seedBits) return number;
  return randomStream(text, 'seed of a hunt').whole(-seedBits, seedBits - 1);
}

/**
 * The first part has the seed of the hunt, so that a finding of any part is found again with that part's seed. The others are
 * hashed: hunts with the seeds 1 and 2 have no part in common.
 */
export function seedOfPart(seed: number, part: number): number {
  if (part === 0) return seed;
  return randomStream(String(seed), 'part of a hunt', part).whole(-seedBits, seedBits - 1);
}

function limitsOf(options: HuntOptions): Pick<HuntPlan, 'runs' | 'forMs'> {
  const forMs =
    options.for === undefined
      ? null
      : durationOf('--for', options.for, { least: 1, most: longestHuntMs });
  if (options.runs !== undefined) {
    return { runs: wholeNumber('--runs', { least: 1, most: mostHuntedRuns })(options.runs), forMs };
  }
  return { runs: forMs === null ? usualRuns : Number.POSITIVE_INFINITY, forMs };
}

/** A mistake that shows late is given a quarter more than it takes to show, in whole days. */
function lengthOf({ length, mistake }: HuntOptions, { watch }: WatchFile): number {
  if (length === undefined) {
    const fault = mutants.find(({ name }) => name === mistake);
    const showsMs = fault?.showsAfterMs?.(watch) ?? 0;
    return Math.min(longestHuntMs, Math.max(weekMs, Math.ceil((1.25 * showsMs) / dayMs) * dayMs));
  }
  return durationOf('--length', length, { least: 1, most: longestHuntMs });
}

function propertiesOf(options: HuntOptions, { judge }: WatchFile): readonly NamedProperty[] {
  if (options.property === undefined) return judgedProperties(judge);
  const names = namedProperties.map(({ property }) => property.name);
  const wanted = namesOf('--property', options.property, { what: 'property', known: names });
  const unasked = [
    { name: 'in-time', key: 'reportWithin', asked: judge.reportWithinMs !== null },
    { name: 'quiet', key: 'quietUpTo', asked: judge.quietUpToMs !== null },
  ].find(({ name, asked }) => wanted.includes(name) && !asked);
  if (unasked !== undefined) {
    throw problem('property-not-asked', '--property', {
      message: `the property ${unasked.name} needs judge.${unasked.key}, which the watch file does not set`,
      found: unasked.name,
      hint: `set judge.${unasked.key} in the watch file`,
    });
  }
  return namedProperties.filter(({ property }) => wanted.includes(property.name));
}

function adversityOf(
  options: HuntOptions,
  watchFile: WatchFile,
  properties: readonly NamedProperty[],
): Adversity {
  if (options.calm === true && options.with !== undefined) {
    throw problem('options-exclude', '--calm', {
      message: '--calm lets nothing go wrong, and --with something',
      hint: 'leave out --calm or --with',
    });
  }
  if (options.calm === true) return calm;
  const named = options.with ?? '';
  const wanted =
    options.with === undefined
      ? []
      : namesOf('--with', named, { what: 'fault', known: adversityKinds });
  const given = allowedBy(watchFile);
  const brought = properties.flatMap(({ about }) => about);
  // A faulty watch may differ only when something goes wrong.
  const forFault = options.mistake === undefined ? [] : adversityKinds;
  const asked: readonly string[] = options.with === undefined ? [...brought, ...forFault] : wanted;
  return withUsual(
    given,
    adversityKinds.filter((kind: AdversityKind) => asked.includes(kind)),
    lengthOf(options, watchFile),
  );
}

/** What the `environment:` section allows. */
function allowedBy({ environment, reset }: WatchFile): Adversity {
  const { outages, longestOutageMs, longestChatterMs } = environment;
  return {
    ...environment,
    possibleResets: {
      ...possibleResets(reset),
      ...(reset.button === 'clears' ? {} : { keeping: 'button' }),
    },
    outages: longestOutageMs > 0 ? outages : 0,
    misreads: longestChatterMs > 0 ? 1 : 0,
  };
}

/** @throws InputProblem when the catalogue has no such mistake. */
export function mutantNamed(name: string): string {
  const known = mutants.map((fault) => fault.name);
  const [fault = name] = namesOf('--mistake', name, { what: 'mistake', known });
  return fault;
}

function pathOf(text: string): string {
  if (/^\d{1,12}(?::\d{1,12}){0,10000}$/u.test(text)) return text;
  throw problem('path-unreadable', '--path', {
    message: 'this is not the path of a counterexample',
    found: text,
    expected: 'whole numbers separated by colons, as hunt prints them',
  });
}
