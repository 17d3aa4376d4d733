// Experiments that may reach what a search found. The first follows its run exactly. Where the zones hold more than any
// one run reaches, or the heartbeat was left free, others come near it, and may reach it too.

import { minuteMs, trueMs } from '../../base/index.js';
import {
  mostNearbyStates,
  mostTriedRests,
  type RangeMs,
  type TimingRanges,
} from '../../model/index.js';
import type { RunWorld } from '../answer.js';
import { modelOf, type Searched } from '../bounds.js';
import type { BoundsQuestion } from '../question.js';
import { runWorld } from '../run-world.js';
import { type Found, type SearchOptions, type SearchResult, search } from '../search.js';
import type { Model } from '../track.js';
import { unlessOutgrown } from '../visited.js';
import { type Run, runIfAny } from '../witness.js';
import { ledIn } from './lead-in.js';

/** What is sought of a search's result. */
export interface Sought {
  readonly what: 'decision' | 'delivery' | 'unreported';
  readonly options: Pick<SearchOptions, 'from' | 'seek'>;
}

/** An experiment in which the last opening never ends, and how old that opening is as the run reaches what is sought. */
export interface Attempt {
  readonly experiment: RunWorld;
  readonly openingMs: number;
}

/** Searches of the same watch with some of its times changed. Claims of one search share them. */
export interface Nearby {
  /** What the search of a model finds; null: it outgrew its limit. */
  found(model: Model, options: Sought['options']): SearchResult | null;
}

export function nearbySearches(): Nearby {
  const known = new Map<string, SearchResult | null>();
  return {
    found: (model, options) => {
      // All that nearby models of one question differ in.
      const { times, heartbeats, warnings } = model;
      const key = JSON.stringify([options, times, heartbeats, warnings]);
      const before = known.get(key);
      if (before !== undefined) return before;
      const now = searchNearby(model, options);
      known.set(key, now);
      return now;
    },
  };
}

/** Experiments to try, the likeliest first. */
export function* attempts(
  question: BoundsQuestion,
  { model, result }: Searched,
  { nearby: searches, ...sought }: Sought & { readonly nearby: Nearby },
): Generator<Attempt> {
  const found = result[sought.what];
  if (found === null) return;
  const { seek } = sought.options;
  const run = runTo(model, found, seek);
  const { openingMs } = found;
  if (run !== null) {
    yield { experiment: endless(model, run, question.timing), openingMs };
    if (model.heartbeats === 'free') {
      const heartbeats = Math.ceil(model.times.heartbeatMs / restPeriodMs(model)) + 1;
      for (let rests = 1; rests <= Math.min(heartbeats, mostTriedRests); rests += 1) {
        const rested = afterRests(model, run, rests);
        yield { experiment: endless(model, rested, question.timing), openingMs };
      }
    }
  }
  for (const nearby of nearbyModels(question, model)) {
    const near = searches.found(nearby, sought.options)?.[sought.what] ?? null;
    if (near === null) continue;
    const way = runTo(nearby, near, seek);
    if (way === null) continue;
    yield { experiment: endless(model, way, question.timing), openingMs: near.openingMs };
  }
}

/** A run of a model; where heartbeats are seldom, with the wakes before it that make one due. Null: no run was found. */
function runTo(model: Model, found: Found, seek: SearchOptions['seek']): Run | null {
  return model.heartbeats === 'seldom' ? ledIn(model, found, seek) : runIfAny(model, found, seek);
}

/** The opening begins on a whole minute, and for as long as the run goes the door stays open. */
function endless(model: Model, run: Run, ranges: TimingRanges): RunWorld {
  const opensAtMs = Math.ceil(run.opensAtMs / minuteMs) * minuteMs;
  return runWorld(model, run, {
    lastsMs: Number.POSITIVE_INFINITY,
    ranges,
    powerOnAtMs: opensAtMs - run.opensAtMs,
  });
}

function restPeriodMs({ times }: Model): number {
  return times.sleeps[0].mostMs + times.bootMs.most;
}

/** The run after some more checks of a shut door. */
function afterRests(model: Model, run: Run, rests: number): Run {
  const { times } = model;
  const byMs = rests * restPeriodMs(model);
  const many = (ms: number) => Array.from({ length: rests }, () => trueMs(ms));
  const moments = run.moments.map(({ atMs, moment }) => ({ atMs: atMs + byMs, moment }));
  return {
    moments,
    opensAtMs: run.opensAtMs + byMs,
    endMs: run.endMs + byMs,
    bootMs: [...many(times.bootMs.most), ...run.bootMs],
    connectMs: run.connectMs,
    sleepMs: [...many(times.sleeps[0].mostMs), ...run.sleepMs],
  };
}

/** The same watch without heartbeats, or with boot and connect times at one end of their ranges: zones are exact there. */
function nearbyModels(question: BoundsQuestion, model: Model): readonly Model[] {
  const { times } = model;
  const silent: Model = {
    ...model,
    heartbeats: 'timed',
    times: { ...times, heartbeatMs: Number.POSITIVE_INFINITY },
  };
  const atEnd = (range: RangeMs, end: 'least' | 'most'): RangeMs => ({
    least: range[end],
    most: range[end],
  });
  const ends = (['most', 'least'] as const).flatMap((boot) =>
    (['most', 'least'] as const).map(
      (connect): Model => ({
        ...modelOf(question),
        // Where heartbeats are seldom, following each of them would outgrow every limit.
        heartbeats: model.heartbeats === 'seldom' ? 'seldom' : 'timed',
        warnings: model.warnings,
        times: {
          ...times,
          bootMs: atEnd(times.bootMs, boot),
          connectMs: atEnd(times.connectMs, connect),
        },
      }),
    ),
  );
  return times.heartbeatMs === Number.POSITIVE_INFINITY ? ends : [silent, ...ends];
}

function searchNearby(model: Model, options: Sought['options']): SearchResult | null {
  return unlessOutgrown(
    () => search(model, { ...options, mostNodes: mostNearbyStates }),
    () => null,
  );
}
