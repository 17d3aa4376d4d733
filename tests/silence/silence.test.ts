// What no message means: closed forms, and what each kind of message rules out.
import { describe, expect, it } from 'vitest';
import { builtInProfile, parseWatchFile } from '../../src/scenarios/index.js';
import {
  type Explanation,
  explainSilence,
  type Observed,
  type Priors,
  type SilenceAnswer,
  type SoundYears,
  soundYears,
  usualPriors,
} from '../../src/silence/index.js';
import { watchFileWith } from '../battery/supplies.js';

const dayMs = 86_400_000;
const yearMs = 365 * dayMs;

const watchFileOf = (watch: string) => {
  const result = parseWatchFile(`watch: ${watch}\n`, 'watch.yaml');
  if (!result.ok) throw new Error(JSON.stringify(result.errors));
  return result.value;
};

/** Alerts every so often, to the millisecond: silences after one are of that length. */
function everyMs(ms: number): SoundYears {
  const count = Math.floor((10 * yearMs) / ms);
  const alertsMs = Float64Array.from({ length: count }, (_, index) => (index + 1) * ms);
  return { alertsMs, lengthMs: 10 * yearMs, lifeMs: null, heldLifeMs: null, longestGapMs: 0 };
}

/** A door that is never left open. */
const neverOpen: SoundYears = {
  alertsMs: new Float64Array(0),
  lengthMs: 10 * yearMs,
  lifeMs: null,
  heldLifeMs: null,
  longestGapMs: 0,
};

const observed = (days: number, more: Partial<Observed> = {}): Observed => ({
  chargedMs: 0,
  nowMs: days * dayMs,
  lastAlertMs: null,
  lastHeartbeatMs: null,
  chargedWeekday: 0,
  chargedLocalMs: 0,
  ...more,
});

const noPriors: Priors = {
  networkPerYear: 0,
  contactPerYear: 0,
  firmwarePerYear: 0,
  lostShare: 0,
  outagesPerYear: 0,
  spellMs: 7 * dayMs,
  unansweredShare: 0,
  unusedShare: 0,
  breakMs: null,
  lifeSpread: 0.2,
};

const chanceOf = ({ explanations }: SilenceAnswer, of: Explanation): number =>
  explanations.find(({ explanation }) => explanation === of)?.probability ?? 0;

describe('the probability of an explanation', () => {
  // Competing exponential risks (any text on survival analysis; recalled): with hazards a and b, a comes first within t with
  // probability a / (a + b) × (1 − e^−(a + b) t).
  it('is that of competing exponential risks', () => {
    const priors = { ...noPriors, networkPerYear: 3, firmwarePerYear: 1, contactPerYear: 2 };
    const answer = explainSilence({
      watchFile: watchFileOf('{ checkInterval: 2m }'),
      sound: neverOpen,
      priors,
      observed: observed(100),
    });
    const within = 1 - Math.exp((-6 * 100) / 365);
    expect(chanceOf(answer, 'network')).toBeCloseTo((3 / 6) * within, 4);
    expect(chanceOf(answer, 'firmware')).toBeCloseTo((1 / 6) * within, 4);
    expect(chanceOf(answer, 'contact')).toBeCloseTo((2 / 6) * within, 4);
    expect(chanceOf(answer, 'quiet')).toBeCloseTo(1 - within, 4);
  });

  // Bayes' theorem with alerts of a Poisson process of rate m: silence of a device that works e^−mt, of one whose network
  // failed at rate a: a / (a + m) × (1 − e^−(a + m) t), beside e^−(a + m) t for both.
  it('is that of Bayes with alerts that come as a Poisson process', () => {
    const perYear = 6;
    let atMs = 0;
    const alerts: number[] = [];
    for (let index = 1; atMs < 400 * yearMs; index += 1) {
      // A low-discrepancy sequence (the golden ratio) in place of random numbers.
      const unit = (index * 0.618_033_988_749_895) % 1;
      atMs += (-Math.log(1 - unit) / perYear) * yearMs;
      alerts.push(atMs);
    }
    const sound = {
      alertsMs: Float64Array.from(alerts),
      lengthMs: 400 * yearMs,
      lifeMs: null,
      heldLifeMs: null,
      longestGapMs: 0,
    };
    const answer = explainSilence({
      watchFile: watchFileOf('{ checkInterval: 2m }'),
      sound,
      priors: { ...noPriors, networkPerYear: 2 },
      observed: observed(160, { lastAlertMs: 100 * dayMs }),
    });
    const both = Math.exp((-8 * 60) / 365);
    const network = (2 / 8) * (1 - both);
    expect(chanceOf(answer, 'network')).toBeCloseTo(network / (network + both), 2);
    expect(answer.soundShare).toBeCloseTo(Math.exp((-6 * 60) / 365), 2);
  });

  it('of an empty battery grows with the charge, and its beginning is where the life ends', () => {
    const watchFile = watchFileOf('{ checkInterval: 2m }');
    const ask = (days: number) =>
      explainSilence({
        watchFile,
        sound: neverOpen,
        priors: noPriors,
        observed: observed(days),
        lifeMs: 50 * dayMs,
      });
    expect(chanceOf(ask(20), 'flat')).toBeLessThan(0.001);
    expect(chanceOf(ask(50), 'flat')).toBeCloseTo(0.5, 3);
    const late = ask(200);
    expect(chanceOf(late, 'flat')).toBeGreaterThan(0.999);
    const { sinceMs } = late.explanations[0] ?? expect.fail('there is one');
    expect((sinceMs?.middle ?? 0) / dayMs).toBeCloseTo(50, 0);
    expect((sinceMs?.from ?? 0) / dayMs).toBeCloseTo(50 * Math.exp(-1.645 * 0.2), 0);
  });

  it('is not given to an empty battery where nothing is known of the charge', () => {
    const answer = explainSilence({
      watchFile: watchFileOf('{ checkInterval: 2m }'),
      sound: neverOpen,
      priors: usualPriors,
      observed: observed(300),
    });
    expect(chanceOf(answer, 'flat')).toBe(0);
    expect(answer.lifeMs).toBeNull();
  });

  it('does not take a busy door for unused over two months, unless told so', () => {
    const ask = (more: Partial<Priors>, longestGapMs = 0.5 * dayMs): number => {
      const { explanations } = explainSilence({
        watchFile: watchFileOf('{ checkInterval: 2m }'),
        sound: { ...everyMs(dayMs), longestGapMs },
        priors: { ...usualPriors, ...more },
        observed: observed(160, { lastAlertMs: 100 * dayMs }),
      });
      return explanations.find(({ explanation }) => explanation === 'quiet')?.probability ?? 0;
    };
    expect(ask({})).toBeLessThan(0.05);
    expect(ask({ breakMs: 365 * dayMs })).toBeGreaterThan(0.5);
    // Half of silences begin with three weeks: 1 in 17 such breaks is longer, and in the others a fault may come.
    expect(ask({ unusedShare: 0.5, breakMs: 21 * dayMs })).toBeGreaterThan(0.5);
    // A profile with gaps of months makes a long break about as likely as all faults together.
    expect(ask({}, 90 * dayMs)).toBeGreaterThan(0.4);
  });

  it('makes a fault nearly sure where a device that works would have sent alerts and heartbeats', () => {
    const watchFile = watchFileOf('{ checkInterval: 2m, heartbeatInterval: 1d }');
    const priors = { ...usualPriors, unusedShare: 0 };
    const ask = (more: Partial<Observed>) =>
      explainSilence({
        watchFile,
        sound: everyMs(400 * dayMs),
        priors,
        observed: observed(30, more),
      });
    const silent = ask({});
    expect(silent.heartbeatsDue).toBe(29);
    expect(chanceOf(silent, 'quiet')).toBe(0);
    // Heartbeats end with network and firmware, and go on where only the contact reads shut.
    expect(chanceOf(silent, 'network')).toBeGreaterThan(0.6);
    const beating = ask({ lastHeartbeatMs: 29.5 * dayMs });
    expect(beating.heartbeatsDue).toBe(0);
    expect(chanceOf(beating, 'quiet')).toBeGreaterThan(0.95);
    expect(chanceOf(beating, 'contact')).toBeGreaterThan(5 * chanceOf(beating, 'network'));
  });

  it('of an empty battery follows from a low-battery message: 8 weeks to 20 % left are 10 weeks of charge', () => {
    const watchFile = watchFileOf('{ checkInterval: 2m, lowBattery: { at: 20% } }');
    const ask = (days: number, more: Partial<Observed>) =>
      explainSilence({
        watchFile,
        sound: everyMs(400 * dayMs),
        priors: { ...usualPriors, lifeSpread: 0.05 },
        observed: observed(days, more),
      });
    const lowBattery = { firstMs: 56 * dayMs, lastMs: 56 * dayMs, leftShare: 0.2 };
    expect(chanceOf(ask(90, {}), 'flat')).toBe(0);
    const late = ask(90, { lowBattery });
    expect((late.lifeMs ?? 0) / dayMs).toBeCloseTo(70, 9);
    expect(chanceOf(late, 'flat')).toBeGreaterThan(0.95);
    expect(chanceOf(ask(60, { lowBattery }), 'flat')).toBeLessThan(0.05);
    // The device was alive as it sent it.
    expect(late.silentSinceMs).toBe(56 * dayMs);
    const heard = { lowBattery: { ...lowBattery, lastMs: 80 * dayMs } };
    expect(ask(90, heard).silentSinceMs).toBe(80 * dayMs);
  });

  it('of waiting for a reset needs an alert before, and ends with a later message', () => {
    const watchFile = watchFileOf('{ checkInterval: 2m, afterAlert: hold-until-reset }');
    const ask = (more: Partial<Observed>) =>
      explainSilence({
        watchFile,
        sound: everyMs(20 * dayMs),
        priors: usualPriors,
        observed: observed(40, more),
      });
    expect(chanceOf(ask({}), 'holding')).toBe(0);
    expect(chanceOf(ask({ lastAlertMs: 30 * dayMs }), 'holding')).toBeCloseTo(0.1, 1);
    expect(chanceOf(ask({ lastAlertMs: 10 * dayMs }), 'holding')).toBeGreaterThan(0.5);
    const heard = { lastAlertMs: 10 * dayMs, lastHeartbeatMs: 12 * dayMs };
    expect(chanceOf(ask(heard), 'holding')).toBe(0);
  });

  // By hand: nobody answers 1 alert in 4, 1 in 5 is lost, and a sound device sends the next one after exactly 10 days. In 30 days of
  // silence a device that was reset has met that alert: sent and lost (3/4 × 1/5), unless its network ended before with e^−at.
  it('of waiting after a lost alert is its own, beside that of waiting after one that came', () => {
    const perYear = 3;
    const ask = (watch: string, days: number, more: Partial<Observed> = {}) =>
      explainSilence({
        watchFile: watchFileOf(watch),
        sound: everyMs(10 * dayMs),
        priors: { ...noPriors, networkPerYear: perYear, lostShare: 0.2, unansweredShare: 0.25 },
        observed: observed(100 + days, { lastAlertMs: 100 * dayMs, ...more }),
      });
    const upTo = Math.exp((-perYear * 10) / 365);
    const weights = { holding: 0.25, network: 0.75 * (1 - upTo), unheard: 0.75 * 0.2 * upTo };
    const total = weights.holding + weights.network + weights.unheard;
    const hold = '{ checkInterval: 2m, afterAlert: hold-until-reset }';
    const held = ask(hold, 30);
    expect(held.explanations.map(({ explanation }) => explanation)).toEqual([
      'holding',
      'holding-lost',
      'network',
    ]);
    expect(chanceOf(held, 'holding')).toBeCloseTo(weights.holding / total, 2);
    expect(chanceOf(held, 'holding-lost')).toBeCloseTo(weights.unheard / total, 2);
    expect(chanceOf(held, 'network')).toBeCloseTo(weights.network / total, 2);
    const since = held.explanations[1]?.sinceMs?.middle ?? 0;
    expect(since / dayMs).toBeCloseTo(110, 1);
    expect(held.soundShare).toBe(0);
    // Before that alert is due it cannot be lost. A watch that goes on watching never waits, and a heartbeat shows that none waits.
    expect(chanceOf(ask(hold, 9), 'holding-lost')).toBe(0);
    expect(chanceOf(ask('{ checkInterval: 2m }', 30), 'holding-lost')).toBe(0);
    const beating = '{ checkInterval: 2m, afterAlert: hold-until-reset, heartbeatInterval: 20d }';
    const heard = ask(beating, 30, { lastHeartbeatMs: 115 * dayMs });
    expect(chanceOf(heard, 'holding') + chanceOf(heard, 'holding-lost')).toBe(0);
  });

  it('of working does not count the rest of a year in which a device waits after a lost alert', () => {
    const hold = watchFileOf('{ checkInterval: 2m, afterAlert: hold-until-reset }');
    const profile = builtInProfile('goose-house') ?? expect.fail('there is such a profile');
    const years = (lostPpm: number) =>
      soundYears({
        watchFile: { ...hold, delivery: { ...hold.delivery, lostPpm } },
        profile,
        seed: '1',
        years: 2,
      });
    expect(years(0).alertsMs.length).toBeGreaterThan(100);
    expect(years(100_000)).toEqual(years(0));
  });

  it('is that of none where all that could explain the messages has a prior of 0', () => {
    const of = (priors: Priors, watch: string, sound: SoundYears) =>
      explainSilence({
        watchFile: watchFileOf(watch),
        sound,
        priors,
        observed: observed(10),
      }).explanations.map(({ explanation }) => explanation);
    const beats = '{ checkInterval: 2m, heartbeatInterval: 1d }';
    expect(of(noPriors, beats, neverOpen)).toEqual([]);
    expect(of({ ...noPriors, lostShare: 0.01 }, beats, neverOpen)).toEqual(['lost']);
    // Seven alerts per day, at instants whose shares do not add up to exactly one.
    expect(of(noPriors, '{ checkInterval: 2m }', everyMs(dayMs / 7))).toEqual([]);
    expect(of(noPriors, '{ checkInterval: 2m }', neverOpen)).toEqual(['quiet']);
  });

  it('is found after an alert that the simulated years do not have', () => {
    const answer = explainSilence({
      watchFile: watchFileOf('{ checkInterval: 2m }'),
      sound: neverOpen,
      priors: { ...noPriors, networkPerYear: 1 },
      observed: observed(120, { lastAlertMs: 20 * dayMs }),
    });
    expect(chanceOf(answer, 'network')).toBeCloseTo(1 - Math.exp(-100 / 365), 4);
    expect(answer.soundMiddleMs).toBeNull();
  });

  it('adds up to one', () => {
    const hold = watchFileOf('{ checkInterval: 2m, afterAlert: hold-until-reset }');
    const watchFile = watchFileWith('{ preset: bare-board, capacity: 300mAh }');
    const profile = builtInProfile('seed-bank') ?? expect.fail('there is such a profile');
    const sound = soundYears({ watchFile, profile, seed: '1', years: 8 });
    expect((sound.lifeMs ?? 0) / dayMs).toBeGreaterThan(20);
    const answer = explainSilence({
      watchFile,
      sound,
      priors: usualPriors,
      observed: observed(45),
    });
    const sum = answer.explanations.reduce((total, { probability }) => total + probability, 0);
    expect(sum).toBeCloseTo(1, 9);
    const held = explainSilence({
      watchFile: { ...watchFile, watch: hold.watch },
      sound,
      priors: usualPriors,
      observed: observed(45, { lastAlertMs: 20 * dayMs }),
    });
    expect(chanceOf(held, 'holding-lost')).toBeGreaterThan(0.001);
    expect(held.explanations.reduce((all, { probability }) => all + probability, 0)).toBeCloseTo(
      1,
      9,
    );
    expect(answer.soundLongMs ?? 0).toBeGreaterThan(answer.soundMiddleMs ?? 0);
  });
});

describe('an empty battery behind another fault', () => {
  const supplied = (days: number) =>
    explainSilence({
      watchFile: watchFileOf('{ checkInterval: 2m }'),
      sound: neverOpen,
      priors: { ...noPriors, networkPerYear: 100 },
      observed: observed(days),
      lifeMs: 50 * dayMs,
    });
  const emptyOf = (answer: SilenceAnswer, of: Explanation) =>
    answer.explanations.find(({ explanation }) => explanation === of)?.emptyByNow;

  it('is certain long after the life of a charge', () => {
    expect(emptyOf(supplied(500), 'network')).toBeGreaterThan(0.9999);
    expect(emptyOf(supplied(500), 'flat')).toBe(1);
  });

  // The network ends within days, when the charge is still as good as whole: half of all charges last their median.
  it('is even at the life of a charge', () => {
    expect(emptyOf(supplied(50), 'network')).toBeCloseTo(0.5, 3);
    expect(emptyOf(supplied(50), 'quiet')).toBe(0);
  });
});

describe('the charge of a device that holds', () => {
  // A charge of 50 days lasts a device that holds 5: ten times as fast. It holds from day 30 on, with 20 days of everyday use left:
  // 2 days of holding. Half of all charges, of those that last 30 days, last no longer than their median.
  it('ends sooner: after 2 days, with two fifths of a charge left that lasts a holding device 5', () => {
    const watchFile = watchFileOf('{ checkInterval: 2m, afterAlert: hold-until-reset }');
    const empty = (days: number, heldDays: number): number => {
      const { explanations } = explainSilence({
        watchFile,
        sound: { ...everyMs(400 * dayMs), lifeMs: 50 * dayMs, heldLifeMs: heldDays * dayMs },
        priors: { ...noPriors, unansweredShare: 1 },
        observed: observed(30 + days, { lastAlertMs: 30 * dayMs }),
      });
      const [only] = explanations;
      expect(only?.explanation).toBe('holding');
      return only?.emptyByNow ?? 0;
    };
    // The standard normal distribution at ln(30 / 50) / 0.2 = -2.5541 is 0.00532.
    expect(empty(2, 5)).toBeCloseTo(1 - 0.5 / (1 - 0.005_32), 4);
    expect(empty(10, 5)).toBeGreaterThan(0.999);
    // With no faster use than every day, as where the file does not say.
    expect(empty(2, 50)).toBeLessThan(0.1);
    expect(empty(2, 5_000)).toBe(empty(2, 50));
  });
});
