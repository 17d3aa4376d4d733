// What a hunt tries: the situations in which firmware goes wrong come up again and again in what it draws.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Ran, runTrial, trials } from '../../src/hunt/index.js';
import { once } from '../support/once.js';
import { huntQuestion } from '../support/watch-question.js';

const minuteMs = 60_000;
const hourMs = 60 * minuteMs;
const dayMs = 24 * hourMs;
const cooldownMs = 20 * minuteMs;
const text = `watch: { checkInterval: 3m, recheckInterval: 1m, escalationThreshold: 2, alertCooldown: 20m, heartbeatInterval: 6h }
judge: { leaveOpenAfter: 5m, reportWithin: 12m, quietUpTo: 1m }
`;

/** With every kind of fault, over four weeks. */
const drawn = once((): readonly Ran[] => {
  const question = huntQuestion(text, {
    with: ['outages', 'power', 'resets'],
    lengthMs: 28 * dayMs,
  });
  return fc
    .sample(trials(question), { seed: 1, numRuns: 600 })
    .map((trial) => runTrial(question, trial));
});

type Faults = readonly number[];
const resets = ({ trial }: Ran): Faults => trial.resets.map(({ atMs }) => atMs);
const cuts = ({ trial }: Ran): Faults => trial.powerLost.map(([fromMs]) => fromMs);
const outages = ({ trial }: Ran): Faults => trial.networkDown.map(([fromMs]) => fromMs);
const faults = (ran: Ran): Faults => [...resets(ran), ...cuts(ran), ...outages(ran)];
const someIn = (faults: Faults, fromMs: number, toMs: number): boolean =>
  faults.some((atMs) => atMs > fromMs && atMs < toMs);

const alerts = (ran: Ran) => ran.trace.alerts;
const longest = ({ trial }: Ran): number =>
  Math.max(0, ...trial.openings.map(([fromMs, toMs]) => Math.min(toMs, trial.lengthMs) - fromMs));
const shutAfter = ({ trial }: Ran, atMs: number): number =>
  trial.openings.find(([fromMs, toMs]) => fromMs <= atMs && toMs > atMs)?.[1] ?? atMs;
const wasDown = ({ trial }: Ran, atMs: number): boolean =>
  trial.networkDown.some(([fromMs, toMs]) => fromMs <= atMs && atMs < toMs);

/** How long each alert is pending. */
function pendings(ran: Ran): (readonly [number, number])[] {
  return alerts(ran).map(({ decidedMs, deliveredMs }) => [
    decidedMs,
    deliveredMs ?? ran.world.lengthMs,
  ]);
}

/** In how many of the timelines each comes up at least: from two thirds to nine tenths of what is drawn. */
const situations: Readonly<Record<string, readonly [number, (ran: Ran) => boolean]>> = {
  'an alert is decided while the network is down': [
    168,
    (ran) => alerts(ran).some(({ decidedMs }) => wasDown(ran, decidedMs)),
  ],
  'and the door shuts before it is delivered': [
    131,
    (ran) =>
      pendings(ran).some(([fromMs, toMs]) => wasDown(ran, fromMs) && shutAfter(ran, fromMs) < toMs),
  ],
  'and a reset comes before it is delivered': [
    42,
    (ran) =>
      pendings(ran).some(
        ([fromMs, toMs]) => wasDown(ran, fromMs) && someIn(resets(ran), fromMs, toMs),
      ),
  ],
  'and the power fails before it is delivered': [
    18,
    (ran) =>
      pendings(ran).some(
        ([fromMs, toMs]) => wasDown(ran, fromMs) && someIn(cuts(ran), fromMs, toMs),
      ),
  ],
  'and the door opens again before it is delivered': [
    92,
    (ran) =>
      pendings(ran).some(
        ([fromMs, toMs]) =>
          wasDown(ran, fromMs) &&
          someIn(
            ran.trial.openings.map(([openMs]) => openMs),
            fromMs,
            toMs,
          ),
      ),
  ],
  'a fault begins within 5 s of a decision': [
    83,
    (ran) =>
      alerts(ran).some(({ decidedMs }) => someIn(faults(ran), decidedMs - 1, decidedMs + 5_000)),
  ],
  'a reset comes within a cooldown': [
    144,
    (ran) =>
      alerts(ran).some(
        ({ deliveredMs }) =>
          deliveredMs !== null && someIn(resets(ran), deliveredMs, deliveredMs + cooldownMs),
      ),
  ],
  'the power fails within a cooldown': [
    80,
    (ran) =>
      alerts(ran).some(
        ({ deliveredMs }) =>
          deliveredMs !== null && someIn(cuts(ran), deliveredMs, deliveredMs + cooldownMs),
      ),
  ],
  'something happens within 5 s of the end of a cooldown': [
    96,
    (ran) =>
      alerts(ran).some(
        ({ deliveredMs }) =>
          deliveredMs !== null &&
          someIn(
            [...faults(ran), ...ran.trial.openings.flat()],
            deliveredMs + cooldownMs - 5_000,
            deliveredMs + cooldownMs + 5_000,
          ),
      ),
  ],
  'a fault comes in the midst of a cooldown': [
    170,
    (ran) =>
      alerts(ran).some(
        ({ deliveredMs }) =>
          deliveredMs !== null &&
          someIn(faults(ran), deliveredMs + 5 * minuteMs, deliveredMs + 15 * minuteMs),
      ),
  ],
  'a fault comes soon after an opening, days after power-on': [
    80,
    (ran) =>
      ran.trial.openings.some(
        ([fromMs]) =>
          fromMs > 2 * dayMs && someIn(faults(ran), fromMs + 10_000, fromMs + 4 * minuteMs),
      ),
  ],
  'a door stands open for more than twelve hours': [16, (ran) => longest(ran) > 12 * hourMs],
  'a door stands open for ever': [
    19,
    ({ trial }) => trial.openings.some(([, toMs]) => !Number.isFinite(toMs)),
  ],
  'an opening of exactly the length that counts': [
    72,
    ({ trial }) => trial.openings.some(([fromMs, toMs]) => toMs - fromMs === 5 * minuteMs),
  ],
  'the door is shut for at most 2 ms': [
    127,
    ({ trial }) =>
      trial.openings.some(
        ([fromMs], at) => at > 0 && fromMs - (trial.openings[at - 1]?.[1] ?? 0) <= 2,
      ),
  ],
  'ten brief openings or more': [
    67,
    ({ trial }) =>
      trial.openings.filter(([fromMs, toMs]) => toMs - fromMs <= 4 * minuteMs).length >= 10,
  ],
  'the door rests for two days before its first opening': [
    61,
    ({ trial }) => (trial.openings[0]?.[0] ?? 0) > 2 * dayMs,
  ],
  'the door moves within a second of a whole day since power-on': [
    8,
    ({ trial }) =>
      trial.openings
        .flat()
        .some(
          (atMs) =>
            Number.isFinite(atMs) &&
            atMs > dayMs / 2 &&
            Math.abs(atMs - Math.round(atMs / dayMs) * dayMs) < 1_000,
        ),
  ],
  'an alert is pending over a whole day since power-on': [
    45,
    (ran) =>
      pendings(ran).some(
        ([fromMs, toMs]) =>
          wasDown(ran, fromMs) && Math.floor(fromMs / dayMs) < Math.floor(toMs / dayMs),
      ),
  ],
  'the timeline runs on for a week after the last event': [
    7,
    (ran) =>
      ran.trial.lengthMs -
        Math.max(0, ...ran.trial.openings.flat().filter(Number.isFinite), ...faults(ran)) >
      7 * dayMs,
  ],
  'no power fails, where the rest goes wrong': [
    83,
    (ran) => cuts(ran).length === 0 && resets(ran).length > 0 && outages(ran).length > 0,
  ],
  'no outage, where the rest goes wrong': [
    34,
    (ran) => cuts(ran).length > 0 && resets(ran).length > 0 && outages(ran).length === 0,
  ],
  'no reset, where the rest goes wrong': [
    45,
    (ran) => cuts(ran).length > 0 && resets(ran).length === 0 && outages(ran).length > 0,
  ],
};

describe('the timelines of a hunt', () => {
  it.each(Object.entries(situations))('come upon this: %s', (_, [least, comesUpon]) => {
    expect(drawn().filter(comesUpon).length).toBeGreaterThanOrEqual(least);
  });
});
