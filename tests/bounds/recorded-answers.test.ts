// What `bounds` answers for watches of every kind: that it is right is shown elsewhere (brute force, closed forms, a solver), here
// that a change of the search or of its advice changes nothing by accident. After a wanted change: DOZEWATCH_GOLDEN=renew npx
// vitest run tests/bounds/recorded-answers.test.ts, and read which lines differ: the figures of a
// watch, all its data, or only its words.
import { createHash } from 'node:crypto';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { modelOf } from '../../src/bounds/bounds.js';
import { searchesOf } from '../../src/bounds/bounds-of.js';
import {
  type BoundsQuestion,
  beyondCertificates,
  boundsOf,
  type FalseAlarmsPerYear,
  priceClauses,
  provedOf,
  questionOf,
} from '../../src/bounds/index.js';
import { isLosable } from '../../src/bounds/losable.js';
import { inputCode } from '../../src/machine/index.js';
import { ownFolder, runHere } from '../cli/run-here.js';
import { range } from '../support/range.js';
import { watchFileOf } from '../support/watch-question.js';
import { certified } from '../verify/certificates.js';
import { drawnWatch, quickWatches } from './drawn-watches.js';

const file = path.resolve('tests', 'bounds', 'recorded', 'answers.txt');
const renewing = process.env['DOZEWATCH_GOLDEN'] === 'renew';
/** Those that take seconds are left out. */
const watches = range(0, 48).filter((index) => ![12, 15, 31].includes(index));

/** Section, key, and values that take turns; lists of different lengths meet in ever new pairs. */
type Turns = readonly [section: string, key: string, values: readonly (string | null)[]];

const turns: readonly Turns[] = [
  ['watch', 'checkInterval', ['2m', '3m', '90s', '5m', '47s']],
  ['watch', 'recheckInterval', [null, '40s', null, null, '1m', '2m', null]],
  ['watch', 'escalationThreshold', ['2', '1', '3', '{ open: 2, outOf: 3 }']],
  ['watch', 'clearThreshold', [null, null, '2', null, null, null]],
  ['watch', 'alertCooldown', ['0s', '10m', '4m', null, '7m', '0s', '6m', '2m']],
  ['watch', 'cooldownEndsWhenShut', [null, null, 'false', null, null]],
  ['watch', 'afterAlert', [...range(0, 10).map(() => null), 'hold-until-reset']],
  ['watch', 'retry', [null, '{ interval: 20s, attempts: 2 }', null]],
  ['watch', 'unsentWhenShut', [null, null, null, 'drop']],
  ['watch', 'wakeOn', [null, null, 'any-change', null, 'opening', null, null]],
  ['watch', 'heartbeatInterval', [...range(0, 12).map(() => null), '1h']],
  ['device', 'bootTime', ['400ms', '1s', '0s']],
  ['device', 'connectTime', ['3s', '1500ms']],
  ['device', 'joinWait', [null, null, null, '5s', null]],
  ['device', 'clockError', [null, '1%', null, null, '-2%', null, null, '0%..0.5%', null]],
  ['judge', 'leaveOpenAfter', ['3m', '5m', '2m', '10m']],
  ['judge', 'reportWithin', ['10m', null, '5m', '20m', null]],
  ['judge', 'quietUpTo', [null, '1m', null, '30s', '2m', null, null]],
  ['environment', 'longestOutage', [null, null, null, '3m', null, null]],
  ['environment', 'powerLosses', [...range(0, 6).map(() => null), '1']],
  ['environment', 'resets', [...range(0, 8).map(() => null), '1', null]],
  ['environment', 'longestChatter', [...range(0, 10).map(() => null), '5s']],
];

function watchText(index: number): string {
  const lines = ['watch', 'device', 'judge', 'environment'].flatMap((section) => {
    const keys = turns
      .filter(([where]) => where === section)
      .flatMap(([, key, values], place) => {
        const value = values[(index + Math.floor(index / values.length) * place) % values.length];
        return value === null || value === undefined ? [] : [`${key}: ${value}`];
      });
    return keys.length === 0 ? [] : [`${section}: { ${keys.join(', ')} }`];
  });
  return `${lines.join('\n')}\n`;
}

const supply = 'supply: { capacity: 500mAh, sleepCurrent: 10uA }';

/** What the turns above have too seldom. */
const others: readonly string[] = [
  `watch: { lowBattery: { at: 20% }, alertCooldown: 0s }\njudge: { leaveOpenAfter: 5m }\n${supply}\n`,
  `watch: { lowBattery: { at: 20%, repeat: 1m }, escalationThreshold: 1 }\njudge: { leaveOpenAfter: 5m, reportWithin: 8m }\n${supply}\n`,
  'device: { reset: { button: clears, watchdog: keeps } }\njudge: { leaveOpenAfter: 5m }\nenvironment: { resets: 1 }\n',
  'device: { reset: { button: keeps, watchdog: keeps, software: keeps } }\njudge: { leaveOpenAfter: 5m }\nenvironment: { resets: 2 }\n',
  'watch: { afterAlert: hold-until-reset, alertCooldown: 0s }\ndevice: { reset: { button: keeps } }\njudge: { leaveOpenAfter: 5m, reportWithin: 6m }\nenvironment: { resets: 1 }\n',
  'watch: { wakeOn: any-change, escalationThreshold: 1, alertCooldown: 5m }\ncontact: { operateGap: 8mm, releaseGap: 11mm, bounceTime: 5ms }\njudge: { leaveOpenAfter: 3m, quietUpTo: 1m }\n',
  'watch: { checkInterval: 3m, alertCooldown: 0s }\njudge: { leaveOpenAfter: 5m, quietUpTo: 1m }\nenvironment: { longestChatter: 20s }\n',
  'watch: { alertCooldown: 0s, unsentWhenShut: drop, retry: { interval: 30s, attempts: 3 } }\ndevice: { joinWait: 20s }\njudge: { leaveOpenAfter: 6m, reportWithin: 10m }\nenvironment: { longestOutage: 4m, outages: 2 }\n',
  'watch: { checkInterval: 5m, escalationThreshold: 1, cooldownEndsWhenShut: false, alertCooldown: 30m }\njudge: { leaveOpenAfter: 10m, reportWithin: 40m }\n',
  'watch: { checkInterval: 10m, escalationThreshold: 1, alertCooldown: 0s, heartbeatInterval: 1h }\njudge: { leaveOpenAfter: 12m, reportWithin: 15m }\n',
  'watch: { checkInterval: 10m, alertCooldown: 0s }\ndevice: { clockError: -1%..1% }\njudge: { leaveOpenAfter: 21m, quietUpTo: 9m }\n',
  'watch: { checkInterval: 4m, escalationThreshold: 1 }\njudge: { leaveOpenAfter: 5m }\nenvironment: { powerLosses: 2, powerLossLasting: 10m }\n',
  'watch: { wakeOn: any-change, checkInterval: 10m, alertCooldown: 30m }\njudge: { leaveOpenAfter: 5m, reportWithin: 6m }\n',
  'watch: { checkInterval: 3m, escalationThreshold: 3, heartbeatInterval: 5m }\njudge: { leaveOpenAfter: 12m }\n',
  'watch: { checkInterval: 2m, recheckInterval: 1m, heartbeatInterval: 1h, afterAlert: hold-until-reset }\ndevice: { reset: { button: keeps } }\njudge: { leaveOpenAfter: 5m }\nenvironment: { resets: 2 }\n',
  'watch: { wakeOn: opening, alertCooldown: 0s, retry: { interval: 1m, attempts: 1 }, unsentWhenShut: drop }\njudge: { leaveOpenAfter: 4m }\nenvironment: { longestOutage: 10m, outages: 1, resets: 1 }\n',
  'watch: { escalationThreshold: 1, alertCooldown: 4m }\njudge: { leaveOpenAfter: 4m, reportWithin: 10m }\nenvironment: { longestOutage: 20m, outages: 3 }\n',
];

const digestOf = (value: unknown): string =>
  createHash('sha256').update(JSON.stringify(value)).digest('hex').slice(0, 16);

/** Sentences apart: codes and keys have no spaces. */
function split(value: unknown, words: string[]): unknown {
  if (typeof value === 'string' && value.includes(' ')) {
    words.push(value);
    return '';
  }
  if (Array.isArray(value)) return value.map((part) => split(part, words));
  if (typeof value !== 'object' || value === null) return value;
  return Object.entries(value).map(([key, part]) => [key, split(part, words)]);
}

/** What is proved, and said of what is not, where each search stops at a few states. */
function stoppedEarly(text: string): unknown {
  const question = questionOf(watchFileOf(text));
  const stopped = [30, 100].map((mostStates) => [
    provedOf(question, mostStates),
    searchesOf(question, mostStates).unknown,
  ]);
  return [stopped, beyondCertificates(question), losableIn(question)];
}

/** For each check that may find the door shut with an alert pending: whether that alert can still be lost. */
function losableIn(question: BoundsQuestion): string {
  const model = modelOf(question);
  const { phases } = model.table;
  return [model, { ...model, warnings: 'free' as const }]
    .flatMap((one) => phases.flatMap((phase, state) => (phase === 'awake' ? [{ one, state }] : [])))
    .flatMap(({ one, state }) =>
      range(0, 8).flatMap((more) =>
        [0, 1].map((resetsLeft) => {
          const code = inputCode.check + more;
          const readsOpen = (more & inputCode.checkReadsOpen) !== 0;
          return readsOpen && isLosable(one, { state, code, resetsLeft }) ? '1' : '0';
        }),
      ),
    )
    .join('');
}

/** What the remedies are said to cost for a door with invented rates of false alarms, small and large. */
function prices(text: string): unknown {
  const question = questionOf(watchFileOf(text));
  const inYears: FalseAlarmsPerYear = ({ recheckIntervalMs, escalationThreshold, wakeOn }) =>
    (recheckIntervalMs % 7) +
    2_000_000 / recheckIntervalMs / escalationThreshold.open ** 5 +
    (wakeOn === 'timer' ? 0 : 3);
  return boundsOf(question, inYears).remedies.map((remedy) => [remedy.price, priceClauses(remedy)]);
}

/** The text of a proof of a few thousand states, else what kind of answer came in its place. */
function certificate(text: string): unknown {
  const result = certified(questionOf(watchFileOf(text)), 3_000);
  return result.kind === 'certificate' ? result.text : result.kind;
}

/** For each watch one of these. */
const further: readonly (readonly [string, (text: string) => unknown])[] = [
  ['prices', prices],
  ['certificate', certificate],
  ['stopped', stoppedEarly],
];

const figures = [
  ...['alwaysReportedFromMs', 'alwaysDecidedFromMs', 'neverAlarmedUpToMs', 'worstDelayMs'],
  ...['bestDelayMs', 'holds'],
];

describe('the answers of bounds stay the same for watches', () => {
  const all = [...watches.map(watchText), ...others, ...quickWatches.map(drawnWatch)];
  const texts = new Map<number, string>();
  const kept = existsSync(file) ? readFileSync(file, 'utf8').split('\n\n') : [];
  it.each(all.map((text, index) => ({ text, index })))('number $index', async ({ text, index }) => {
    const folder = ownFolder({ 'watch.yaml': text });
    const { status, stdout, stderr } = await runHere(folder, [
      'bounds',
      '-c',
      'watch.yaml',
      '--json',
    ]);
    expect(status).toBeLessThan(2);
    const words = [stderr];
    const answer: Readonly<Record<string, unknown>> = JSON.parse(stdout);
    const data = split(answer, words);
    const main = figures.map((key) => JSON.stringify(answer[key])).join(' ');
    const digests = `data ${digestOf(data)} words ${digestOf(words)}`;
    const [what, of] = further[index % further.length] ?? ['nothing', () => null];
    const recorded = `${text}${main}\n${digests} ${what} ${digestOf(of(text))}`;
    texts.set(index, recorded);
    if (!renewing) expect(recorded).toBe(kept[index]?.trimEnd());
  });

  it('all of which are recorded', () => {
    if (renewing) {
      writeFileSync(file, `${all.map((_, index) => texts.get(index)).join('\n\n')}\n`);
    }
    expect(renewing ? all.length : kept.length).toBe(all.length);
  });
});
