// What each part of the search, and of its advice, makes of drawn watches stays the same. Where a line differs, its part
// answers otherwise for that watch (`drawnWatch`), even if no bound of it does.
import { describe, expect, it } from 'vitest';
import { type BoundsQuestion, questionOf } from '../../src/bounds/index.js';
import { range } from '../support/range.js';
import { watchFileOf } from '../support/watch-question.js';
import * as advice from './advice-parts.js';
import { drawnWatch, quickWatches } from './drawn-watches.js';
import { type Answered, recordsIn } from './records.js';
import * as search from './search-parts.js';

type Part = (question: BoundsQuestion, index: number) => Answered;

const drawn = (index: number): BoundsQuestion => questionOf(watchFileOf(drawnWatch(index)));

const quick = quickWatches.slice(0, 80);
/** Without those whose remedies take a second or more to find. */
const advised = quickWatches.filter((index) => ![33, 42, 52, 87, 93].includes(index)).slice(0, 45);

const beats = range(0, 300).filter((index) => drawnWatch(index).includes('heartbeatInterval'));
/** Where edges wake a device to which faults happen, a sleep ends in the most ways. */
const disturbed = range(160, 600).filter((index) =>
  /wakeOn[^]*environment: .*(?:reset|power|longestChatter)/u.test(drawnWatch(index)),
);

/** What no watch that is drawn has. */
const made: readonly string[] = [
  // Only with memory kept is it sure.
  'watch: { checkInterval: 20s, escalationThreshold: 1, alertCooldown: 0s }\ndevice: { connectTime: 2m, reset: { button: clears } }\njudge: { leaveOpenAfter: 1m, reportWithin: 3m }\nenvironment: { resets: 1 }\n',
  'watch: { checkInterval: 20s, escalationThreshold: 1, alertCooldown: 0s }\ndevice: { connectTime: 2m, reset: { button: clears } }\njudge: { leaveOpenAfter: 3m }\nenvironment: { resets: 1 }\n',
  // Only chatter raises an alert so soon.
  'watch: { checkInterval: 20s, escalationThreshold: 3, wakeOn: any-change, alertCooldown: 0s }\njudge: { leaveOpenAfter: 5m, quietUpTo: 40s }\nenvironment: { longestChatter: 30s }\n',
  'judge: { leaveOpenAfter: 1ms }\n',
];

const parts: readonly (readonly [name: string, part: Part, watches: readonly number[]])[] = [
  ['walks', search.walks, [...range(0, 100), ...disturbed.slice(0, 40)]],
  ['met', search.met, range(0, 120)],
  ['runs', search.runs, [...range(120, 160), ...disturbed.slice(0, 20)]],
  ['runs to heartbeats', (one) => search.runs(one, 2), beats.slice(0, 20)],
  ['searches', search.searches, range(0, 70)],
  ['rest', search.rest, range(0, 120)],
  ['evidence', search.evidence, quick.slice(0, 40)],
  ['evidence of heartbeats', search.evidence, beats.slice(0, 40)],
  ['outlook', search.outlook, range(0, 150)],
  ['losable', search.losable, range(0, 150)],
  ['mistaken logic', search.mistaken, [0, 3, 11, 28]],
  ['decisions', search.decisions, range(0, 60)],
  ['curves', search.curves, range(0, 222)],
  ['brief openings', search.briefOpenings, range(0, 120)],
  ['few states for brief openings', search.aliased, [...range(300, 320), ...beats.slice(40, 70)]],
  ['requirements', advice.requirements, range(0, 120)],
  ['obstacles', advice.obstacles, range(0, 150)],
  ['advice', advice.advice, advised],
  ['ways', advice.ways, advised],
  ['remedies', advice.remedies, advised],
  ['prices', (one, index) => advice.prices(one, index, drawn(index + 1)), range(0, 100)],
  ['findings', advice.findings, quick],
  ['proofs', advice.proofs, range(0, 60)],
  ['certificates', advice.certificates, range(100, 150)],
  ['loud faults', advice.loud, quick.slice(0, 20)],
  ['smaller proofs', advice.smallerProofs, range(0, 36)],
];

const together = 10;

describe('of drawn watches', () => {
  const records = recordsIn('parts.txt');
  const groups = parts.flatMap(([name, part, watches]) =>
    range(0, Math.ceil(watches.length / together)).map((group) => ({
      name,
      part,
      watches: watches.slice(group * together, (group + 1) * together),
      group,
    })),
  );

  it.each(groups)('$name stay the same, group $group', ({ name, part, watches }) => {
    for (const index of watches) {
      const { now, recorded } = records.compared(
        `${name} ${String(index)}`,
        part(drawn(index), index),
      );
      expect(now).toBe(recorded);
    }
  });

  it.each(made)('all that is answered of %s', (text) => {
    const answer = advice.everything(questionOf(watchFileOf(text)));
    const { now, recorded } = records.compared(text.replaceAll(/[\n:]/gu, ' '), answer);
    expect(now).toBe(recorded);
  });

  it('all of which are recorded', () => {
    const drawnOnes = parts.reduce((sum, [, , watches]) => sum + watches.length, 0);
    expect(records.kept()).toBe(drawnOnes + made.length);
  });
});
