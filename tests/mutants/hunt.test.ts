// Hunts notice every fault of the catalogue: some timeline tells the faulty watch from the sound one, and many a fault
// breaks what the sound watch keeps.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type AdversityKind,
  alikeProperty,
  breachOf,
  hunt,
  type Trial,
  trials,
} from '../../src/hunt/index.js';
import { mutantProgram, mutants, scenes } from '../../src/mutants/index.js';
import { huntQuestion } from '../support/watch-question.js';
import { shownBy, shownInTime, type WatchName, watchTexts } from './watches.js';

const all: readonly AdversityKind[] = ['outages', 'power', 'resets', 'chatter'];

function watchFor(fault: string): WatchName {
  return shownBy[fault]?.[1] === 'twoOutages' ? 'eager' : (shownBy[fault]?.[0] ?? 'plain');
}

/** The smallest timeline that shows a mistake has what its kind of scene is about, and no more. */
function expectScene(fault: string, trial: Trial | undefined): void {
  const named = mutants.find(({ name }) => name === fault)?.scene ?? 'left-open';
  const scene = scenes[named].kind;
  const { openings = [], networkDown = [], powerLost = [], resets = [] } = trial ?? {};
  const chatters = (trial?.contactFaults ?? []).length;
  // A contact that chatters reads as one that opens again; the first power-on is one as any other.
  if (scene === 'opened-again') expect(openings.length + chatters).toBeGreaterThanOrEqual(2);
  if (scene === 'left-open') expect(openings.length).toBeLessThan(2);
  expect(networkDown.length > 0).toBe(scene === 'outage');
  // What takes a few attempts to show may show sooner with a reset.
  if (scene === 'outage' || fault === 'alert-on-first-open-check') return;
  expect(powerLost.length + resets.length > 0).toBe(scene === 'reset');
}

describe('a hunt beside the sound watch', () => {
  it.each(mutants.map(({ name }) => name).filter((name) => shownInTime[name] === undefined))(
    'tells it from one with %s',
    (fault) => {
      // What takes two outages to show drowns among other faults.
      const kinds: readonly AdversityKind[] =
        shownBy[fault]?.[1] === 'twoOutages' ? ['outages'] : all;
      const question = huntQuestion(watchTexts[watchFor(fault)], { with: kinds });
      const { program, alike } = mutantProgram(question.program, question.timing, fault);
      expect(alike).toBe(false);
      const properties = [alikeProperty(fault, program)];
      const { found } = hunt({ ...question, properties }, { seed: 1, runs: 1_500 });
      expect(found?.breach.property).toBe(fault);
      expectScene(fault, found?.trial);
    },
  );

  // Without making what it finds smaller, which takes most of the time in timelines of weeks.
  it.each(Object.entries(shownInTime))('tells it from one with %s', (fault, [name, lengthMs]) => {
    const question = huntQuestion(watchTexts[name], { with: all, lengthMs });
    const faulty = mutantProgram(question.program, question.timing, fault);
    expect(faulty.alike).toBe(false);
    const beside = { ...question, properties: [alikeProperty(fault, faulty.program)] };
    const alike = fc.property(trials(question), (trial) => breachOf(beside, trial) === null);
    const { failed } = fc.check(alike, { seed: 1, numRuns: 1_500, endOnFailure: true });
    expect(failed).toBe(true);
  });

  it('finds no difference between a watch and itself', () => {
    const question = huntQuestion(watchTexts.plain, { with: all });
    const properties = [alikeProperty('itself', question.program)];
    expect(hunt({ ...question, properties }, { seed: 1, runs: 100 }).found).toBeNull();
  });
});

/** The sound watch keeps all of these promises. */
const kept = {
  edges: {
    text: `watch: { checkInterval: 1m, escalationThreshold: 2, wakeOn: any-change, alertCooldown: 10m }
device: { bootTime: 0ms, connectTime: 0ms }
judge: { leaveOpenAfter: 3m, reportWithin: 4m, quietUpTo: 1m }
`,
    properties: ['reported', 'in-time', 'quiet', 'one-alert-per-cooldown'],
    with: [],
  },
  sends: {
    text: 'watch: { checkInterval: 1m, escalationThreshold: 2, alertCooldown: 10m }\n',
    properties: ['one-alert-per-cooldown', 'delivered-in-the-end'],
    with: ['outages'],
  },
  resets: {
    text: 'watch: { checkInterval: 1m, escalationThreshold: 2, alertCooldown: 10m }\n',
    properties: ['one-alert-per-cooldown', 'retained-memory-enough'],
    with: ['resets'],
  },
} as const;

const broken: readonly (readonly [keyof typeof kept, string, string])[] = [
  ['edges', 'threshold-one-less', 'quiet'],
  ['edges', 'contact-reversed', 'quiet'],
  ['edges', 'open-checks-not-cleared', 'quiet'],
  ['edges', 'open-checks-not-retained', 'reported'],
  ['edges', 'clear-one-more', 'reported'],
  ['edges', 'cooldown-not-ended-by-shut', 'reported'],
  ['edges', 'alert-only-once', 'reported'],
  ['edges', 'holds-after-alert', 'reported'],
  ['edges', 'cooldown-not-retained', 'one-alert-per-cooldown'],
  ['edges', 'cooldown-ended-by-open', 'one-alert-per-cooldown'],
  ['edges', 'cooldown-in-milliseconds', 'one-alert-per-cooldown'],
  ['edges', 'recheck-in-milliseconds', 'quiet'],
  ['edges', 'edges-not-armed', 'reported'],
  ['edges', 'shut-edge-not-armed', 'reported'],
  ['sends', 'alert-not-retained', 'delivered-in-the-end'],
  ['sends', 'alert-never-retried', 'delivered-in-the-end'],
  ['sends', 'unsent-dropped', 'delivered-in-the-end'],
  ['resets', 'memory-lost-on-reset', 'one-alert-per-cooldown'],
];

describe('a hunt for what is promised', () => {
  it.each(Object.entries(kept))('finds nothing in the sound watch: %s', (_, promise) => {
    expect(hunt(huntQuestion(promise.text, promise), { seed: 1, runs: 400 }).found).toBeNull();
  });

  it.each(broken)('finds in the watch %s that %s breaks: %s', (name, fault, property) => {
    const question = huntQuestion(kept[name].text, kept[name]);
    const { program } = mutantProgram(question.program, question.timing, fault);
    const wanted = question.properties.filter((one) => one.name === property);
    const faulty = { ...question, program, properties: wanted };
    const { found } = hunt(faulty, { seed: 1, runs: 1_000 });
    expect(found?.breach.property).toBe(property);
  });
});
