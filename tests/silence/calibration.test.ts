// The law of `silence`: on histories drawn from its priors, with everything else simulated, an explanation given a probability is
// the truth that often: among the cases given about 70 %, about 70 %.
import { describe, expect, it } from 'vitest';
import { randomStream, trueMs } from '../../src/base/index.js';
import { parseProfile, parseWatchFile, yearWorlds } from '../../src/scenarios/index.js';
import {
  type Explanation,
  explainSilence,
  type Observed,
  type Priors,
  soundYears,
} from '../../src/silence/index.js';
import { compileWatch, type Program, simulate, type Trace } from '../../src/sim/index.js';
import {
  deviceTiming,
  idealContactEdges,
  type Spans,
  spansOf,
  type World,
  withFaults,
} from '../../src/world/index.js';
import { once } from '../support/once.js';

const dayMs = 86_400_000;
const yearMs = 365 * dayMs;
const lifeMs = 50 * dayMs;
const answerMs = 3_600_000;
/** Faults come often, so that all of them are seen. */
const priors: Priors = {
  networkPerYear: 1.5,
  contactPerYear: 2,
  firmwarePerYear: 1,
  lostShare: 0.1,
  outagesPerYear: 30,
  spellMs: 10 * dayMs,
  unansweredShare: 0.2,
  unusedShare: 0.05,
  breakMs: 15 * dayMs,
  lifeSpread: 0.3,
};

const profile = once(() => {
  const text =
    'openingsPerHour: [0,0,0,0,0,0,0,0.02,0.05,0.05,0.02,0.02,0.02,0.02,0.02,0.02,0.05,0.05,0.02,0,0,0,0,0]\n' +
    'duration: { lognormal: { median: 30s, sigma: 1 } }\n' +
    'leaveOpen: { share: 15%, duration: { exponential: { mean: 30m } } }\n';
  const result = parseProfile(text, 'profile.yaml');
  if (!result.ok) throw new Error(JSON.stringify(result.errors));
  return result.value;
});

const watchFileOf = (watch: string, outage = '0s') => {
  const text = `watch: ${watch}\nenvironment: { longestOutage: ${outage} }\n`;
  const result = parseWatchFile(text, 'watch.yaml');
  if (!result.ok) throw new Error(JSON.stringify(result.errors));
  return result.value;
};

interface History {
  readonly observed: Observed;
  readonly truth: Explanation;
}

/** Everything is drawn from the priors and run. */
function drawHistory(
  watchFile: ReturnType<typeof watchFileOf>,
  program: Program,
  index: number,
): History {
  const seed = `history ${String(index)}`;
  const stream = randomStream(seed, 'faults');
  const after = (perYear: number): number => (-Math.log(1 - stream.unit()) / perYear) * yearMs;
  const gauss = Math.sqrt(-2 * Math.log(1 - stream.unit())) * Math.cos(2 * Math.PI * stream.unit());
  const faults: readonly (readonly [Explanation, number])[] = [
    ['network', Math.round(after(priors.networkPerYear))],
    ['contact', Math.round(after(priors.contactPerYear))],
    ['firmware', Math.round(after(priors.firmwarePerYear))],
    ['flat', Math.round(lifeMs * Math.exp(priors.lifeSpread * gauss))],
  ];
  const atOf = new Map(faults);
  const nowMs = Math.round((3 + 80 * stream.unit()) * dayMs);
  const isLost = (atMs: number): boolean =>
    randomStream(seed, 'lost', atMs).unit() < priors.lostShare;
  const isUnused = (atMs: number): boolean =>
    randomStream(seed, 'unused', atMs).unit() < priors.unusedShare;
  const breakOf = (atMs: number): number =>
    Math.round(-Math.log(1 - randomStream(seed, 'break', atMs).unit()) * (priors.breakMs ?? 0));
  const isUnanswered = (atMs: number): boolean =>
    isLost(atMs) || randomStream(seed, 'unanswered', atMs).unit() < priors.unansweredShare;
  const outages = outagesUpTo(
    Math.min(atOf.get('network') ?? 0, nowMs),
    watchFile.environment.longestOutageMs,
    seed,
  );
  const habits = { profile: profile(), contact: null, outages: null, powerCuts: null };
  // Year 7 k begins on a Monday.
  const year = yearWorlds(habits)(seed, 7 * index);
  const run = (breakFromMs: number, breakMs: number): Trace => {
    const openings = usedBeside(year.openings, breakFromMs, breakFromMs + breakMs);
    const stuckMs = trueMs(Math.min(atOf.get('contact') ?? 0, nowMs));
    const stuck = { kind: 'stuck', at: 'shut' } as const;
    const contact = withFaults(
      idealContactEdges(openings),
      stuckMs < nowMs ? [{ fromMs: stuckMs, toMs: trueMs(nowMs), reads: stuck }] : [],
      seed,
    );
    const off = Math.min(atOf.get('firmware') ?? 0, atOf.get('flat') ?? 0);
    const world: World = {
      ...year,
      lengthMs: trueMs(nowMs),
      openings,
      contact,
      networkDown: spansOf([...outages, [atOf.get('network') ?? 0, Number.POSITIVE_INFINITY]]),
      powerLost: off < nowMs ? spansOf([[off, nowMs + 1]]) : year.powerLost,
    };
    return simulate({
      program,
      timing: deviceTiming({}, watchFile.timing),
      world,
      seed,
      answers: {
        alertAfterMs: (atMs) => (isUnanswered(atMs) ? Number.POSITIVE_INFINITY : answerMs),
        silence: null,
        clears: false,
      },
    });
  };
  const alertsOf = (trace: Trace): number[] =>
    trace.alerts.flatMap(({ deliveredMs }) => deliveredMs ?? []);
  let trace = run(Number.POSITIVE_INFINITY, 0);
  const begins = [0, ...alertsOf(trace).filter((atMs) => !isLost(atMs))];
  const unusedFrom = begins.find(isUnused);
  if (unusedFrom !== undefined) trace = run(unusedFrom, breakOf(unusedFrom));
  const alerts = alertsOf(trace);
  const beats = trace.wakes.flatMap(({ heartbeatSend }) =>
    heartbeatSend?.outcome === 'delivered' ? [heartbeatSend.endMs] : [],
  );
  const lastAlertMs = alerts.findLast((atMs) => !isLost(atMs)) ?? null;
  const lastHeartbeatMs = beats.findLast((atMs) => !isLost(atMs)) ?? null;
  const heardMs = Math.max(lastAlertMs ?? 0, lastHeartbeatMs ?? 0);
  const observed = {
    chargedMs: 0,
    nowMs,
    lastAlertMs,
    lastHeartbeatMs,
    chargedWeekday: 0,
    chargedLocalMs: 0,
  };
  // That of a send that met an outage, if it is due after the last message that came.
  const isMet = trace.wakes.some(
    ({ heartbeatSend }) =>
      heartbeatSend?.outcome === 'failed' &&
      heartbeatSend.endMs > heardMs &&
      heartbeatSend.endMs < (atOf.get('network') ?? 0),
  );
  const began: (readonly [Explanation, number])[] = faults.filter(([, atMs]) => atMs <= nowMs);
  const lastMs = alerts.at(-1);
  if (watchFile.watch.afterAlert === 'hold-until-reset' && lastMs !== undefined) {
    const until = isUnanswered(lastMs) ? Number.POSITIVE_INFINITY : lastMs + answerMs;
    if (until > nowMs) began.push([isLost(lastMs) ? 'holding-lost' : 'holding', lastMs]);
  }
  const [first] = began.sort(([, a], [, b]) => a - b);
  const isLostSince =
    alerts.some((atMs) => atMs > (lastAlertMs ?? 0)) || beats.some((atMs) => atMs > heardMs);
  const works = isMet ? 'outage' : isLostSince ? 'lost' : 'quiet';
  return { observed, truth: first?.[0] ?? works };
}

/** Spells as the priors have them, in each of which the network is down at the same hour of each day. */
function outagesUpTo(untilMs: number, lengthMs: number, seed: string): [number, number][] {
  const stream = randomStream(seed, 'outages');
  const hourMs = Math.floor(stream.unit() * dayMs);
  const after = (meanMs: number): number => -Math.log(1 - stream.unit()) * meanMs;
  const offMs = yearMs / priors.outagesPerYear;
  const isIn = stream.unit() < priors.spellMs / (priors.spellMs + offMs);
  const spells: [number, number][] = [];
  for (let atMs = isIn ? 0 : after(offMs); atMs < untilMs; ) {
    const toMs = atMs + after(priors.spellMs);
    spells.push([atMs, toMs]);
    atMs = toMs + after(offMs);
  }
  const outages: [number, number][] = [];
  for (let fromMs = hourMs - dayMs; fromMs < untilMs && lengthMs > 0; fromMs += dayMs) {
    for (const [spellFrom, spellTo] of spells) {
      const [from, to] = [
        Math.max(0, fromMs, spellFrom),
        Math.min(fromMs + lengthMs, untilMs, spellTo),
      ];
      if (from < to) outages.push([Math.round(from), Math.round(to)]);
    }
  }
  return outages.filter(([from, to]) => from < to);
}

/** Without the openings of a break, at whose start the door is shut. */
function usedBeside({ fromMs, toMs }: Spans, breakFromMs: number, breakToMs: number): Spans {
  const pairs = Array.from(fromMs, (from, index): [number, number] => {
    const to = toMs[index] ?? from;
    return [from, from <= breakFromMs ? Math.min(to, Math.max(breakFromMs + 1, from + 1)) : to];
  });
  return spansOf(pairs.filter(([from]) => from <= breakFromMs || from >= breakToMs));
}

/** Each explanation of each case: the probability given, and whether it was so. */
interface Given {
  readonly probability: number;
  readonly isTrue: boolean;
}

const cases = 90;

/** What is made for each watch once. */
function drawn(watch: string, outage?: string) {
  const watchFile = watchFileOf(watch, outage);
  const program = compileWatch(watchFile.watch);
  return {
    watchFile,
    sound: soundYears({ watchFile, profile: profile(), seed: 'sound', years: 20 }),
    histories: Array.from({ length: cases }, (_, index) => drawHistory(watchFile, program, index)),
  };
}

function given(
  { watchFile, sound, histories, only }: ReturnType<typeof drawn> & { readonly only?: Explanation },
  assumed: Priors,
) {
  return histories.flatMap(({ observed, truth }): readonly Given[] => {
    const { explanations } = explainSilence({
      watchFile,
      sound,
      priors: assumed,
      observed,
      lifeMs,
    });
    const shown = explanations.filter((one) => only === undefined || one.explanation === only);
    return shown.map(({ explanation, probability }) => ({
      probability,
      isTrue: explanation === truth,
    }));
  });
}

const plain = once(() => drawn('{ checkInterval: 2m }'));
const beating = once(() => drawn('{ checkInterval: 2m, heartbeatInterval: 5d }'));
const outaged = once(() => drawn('{ checkInterval: 2m, heartbeatInterval: 1d }', '12h'));
const holding = once(() => drawn('{ checkInterval: 2m, afterAlert: hold-until-reset }'));

const edges = [0, 0.05, 0.15, 0.3, 0.5, 0.6, 0.8, 0.95, 1.000_001];

/** The distance from calibration of each bin, in standard deviations. */
function distances(all: readonly Given[]): readonly number[] {
  return edges.slice(1).flatMap((to, index) => {
    const bin = all.filter((one) => one.probability >= (edges[index] ?? 0) && one.probability < to);
    if (bin.length < 10) return [];
    const expected = bin.reduce((sum, { probability }) => sum + probability, 0);
    const variance = bin.reduce((sum, { probability: p }) => sum + p * (1 - p), 0);
    const seen = bin.filter(({ isTrue }) => isTrue).length;
    return [(seen - expected) / Math.sqrt(variance + 0.25)];
  });
}

describe('explanations of silence, on histories drawn from the priors', () => {
  it.each([
    ['a watch that goes on watching', plain],
    ['a watch with heartbeats', beating],
    ['a watch with heartbeats in a network with outages', outaged],
    ['a watch that holds', holding],
  ])('are true as often as their probability says: %s', (_, histories) => {
    const found = distances(given(histories(), priors));
    expect(found.length).toBeGreaterThanOrEqual(5);
    // Of some 20 bins in all, one is beyond 3.3 in about 50 such tests.
    for (const distance of found) expect(Math.abs(distance)).toBeLessThan(3.3);
  });

  it('give an outage as often as heartbeats met one, and not where spells are assumed to be rare', () => {
    const { histories } = outaged();
    const distance = (assumed: Priors): number => {
      const all = given({ ...outaged(), only: 'outage' }, assumed);
      const sum = (of: (one: Given) => number): number => all.reduce((up, one) => up + of(one), 0);
      const seen = sum(({ isTrue }) => (isTrue ? 1 : 0));
      expect(seen).toBeGreaterThan(histories.length / 20);
      return (
        (seen - sum(({ probability }) => probability)) /
        Math.sqrt(sum(({ probability: p }) => p * (1 - p)))
      );
    };
    expect(Math.abs(distance(priors))).toBeLessThan(3);
    expect(distance({ ...priors, outagesPerYear: 1 })).toBeGreaterThan(4);
  });

  it('are not where the priors are not those of the histories', () => {
    const wrong = { ...priors, networkPerYear: 0.1, firmwarePerYear: 10 };
    expect(Math.max(...distances(given(plain(), wrong)).map(Math.abs))).toBeGreaterThan(4);
  });
});
