// Timelines of a week that a hunt tries in a minute on one core: drawn, placed around the device's own moments, run,
// judged and compared with the properties. Aimed at: 20,000.

import fc from 'fast-check';
import {
  calm,
  type HuntQuestion,
  hunt,
  judgedProperties,
  runTrial,
  trials,
  withUsual,
} from '../src/hunt/index.js';
import { parseWatchFile } from '../src/scenarios/index.js';
import { compileWatch } from '../src/sim/index.js';
import type { BenchReport } from './contract.js';

const weekMs = 604_800_000;
const measureMs = 4_000;
const runsAtOnce = 100;

/** Nothing is found in it: the hunt never stops to shrink. */
const watchText = `watch: { checkInterval: 2m, recheckInterval: 20s, escalationThreshold: 2, alertCooldown: 0s }
judge: { leaveOpenAfter: 3m }
`;

function questionOf(text: string, withFaults: boolean): HuntQuestion {
  const parsed = parseWatchFile(text, 'watch.yaml');
  if (!parsed.ok) throw new Error('the watch file of the bench is one');
  const { watch, timing, judge, contact } = parsed.value;
  return {
    watch,
    program: compileWatch(watch),
    timing,
    judge,
    contact,
    adversity: withFaults ? withUsual(calm, ['power', 'resets']) : calm,
    lengthMs: weekMs,
    properties: judgedProperties(judge).map(({ property }) => property),
  };
}

/** How many timelines a minute `work` tries, where each call tries `runsAtOnce` of them. */
function aMinute(work: (turn: number) => void): number {
  work(0);
  const started = performance.now();
  let turns = 0;
  for (; performance.now() - started < measureMs; turns += 1) work(turns + 1);
  return (turns * runsAtOnce * 60_000) / (performance.now() - started);
}

function hunting(question: HuntQuestion): (turn: number) => void {
  return (turn) => {
    const { found } = hunt(question, { seed: turn, runs: runsAtOnce });
    if (found !== null) throw new Error('the watch of the bench has no hole');
  };
}

export function run(): Promise<BenchReport> {
  const plain = questionOf(watchText, false);
  const drawn = fc.sample(trials(plain), { seed: 1, numRuns: runsAtOnce });
  const drifting = `${watchText}device: { bootTime: { min: 300ms, max: 600ms }, clockError: { min: -1%, max: 1% } }\n`;
  const unit = 'timelines/min';
  const bare = aMinute(() => {
    for (const trial of drawn) runTrial(plain, trial);
  });
  return Promise.resolve({
    title: 'A hunt over timelines of a week',
    baseline: 'the same timelines, only run and judged',
    rows: [
      { name: 'the same timelines, only run and judged', value: bare, unit },
      { name: 'hunt, the door alone', value: aMinute(hunting(plain)), unit },
      {
        name: 'hunt, with power losses and resets',
        value: aMinute(hunting(questionOf(watchText, true))),
        unit,
      },
      {
        name: 'hunt, boot time and clock drawn',
        value: aMinute(hunting(questionOf(drifting, false))),
        unit,
      },
    ],
  });
}
