// A drill in words, the same for terminals, Markdown and HTML.
import {
  counted,
  durationText,
  listText,
  plain,
  roundedDurationText,
  writeDuration,
} from '../../base/index.js';
import {
  type Action,
  type BoundSide,
  type Drill,
  type LongSteps,
  longToName,
  type Step,
  type StepKind,
  type StepResult,
  type Window,
} from '../../drill/index.js';
import type { SupplySettings } from '../../model/index.js';
import { disconnectWords } from '../../wording/index.js';

/** What is done at an instant, and what it is. */
export type Timed = readonly [at: string, words: string];

const deeds: Readonly<Record<Action['deed'], string>> = {
  open: 'open the door wide',
  shut: 'shut the door',
  'network-off': 'block the network',
  'network-on': 'let the network back in',
  reset: 'press reset',
  'power-off': "disconnect the monitor's battery",
  'power-on': "reconnect the monitor's battery",
};

/** The quick file that a drill is of, and the watch file that it was made from. */
export interface QuickOf {
  readonly quick: string;
  readonly watch: string;
}

/** How long the door stands open: in all steps together, and at most at a stretch. */
export function openTimes(steps: readonly Step[]): {
  readonly totalMs: number;
  readonly longestMs: number;
} {
  let totalMs = 0;
  let longestMs = 0;
  for (const { actions, endsMs } of steps) {
    let openedMs: number | null = null;
    const shutAt = (atMs: number): void => {
      if (openedMs === null) return;
      totalMs += atMs - openedMs;
      longestMs = Math.max(longestMs, atMs - openedMs);
      openedMs = null;
    };
    for (const { deed, atMs } of actions) {
      if (deed === 'open') openedMs ??= atMs;
      if (deed === 'shut') shutAt(atMs);
    }
    shutAt(endsMs);
  }
  return { totalMs, longestMs };
}

/** What to know before the first step, so that neither goods nor people come to harm. */
export function safety(steps: readonly Step[], supply: SupplySettings | null): readonly string[] {
  const { totalMs, longestMs } = openTimes(steps);
  return [
    `The door stands open for ${roundedDurationText(totalMs, 'at most')} in all, and for up to ${roundedDurationText(longestMs, 'at most')} at a stretch. ` +
      'Move the goods to another store first, or do the drill on a bench, with the switch and a magnet in place of the door.',
    'Do not do it at a door that people must get out by, nor while somebody relies on this monitor.',
    `The steps disconnect the monitor's own battery. Leave the plug of the store alone, and ${disconnectWords(supply)}.`,
  ];
}

function quickWords({ quick, watch }: QuickOf): string {
  return (
    `This drill is for ${plain(quick)}, whose intervals are shorter: flash firmware with its settings first, and firmware with those of ${plain(watch)} after the drill. ` +
    `It does not test the intervals of ${plain(watch)}: an interval that is set wrongly there, or a counter that overflows after a longer time, stays unnoticed.`
  );
}

const networkWords =
  'Block the network at the access point, by blocking or pausing the device there: a router that is switched off and on takes ' +
  'minutes to come back, and the network must be there at the listed time.';

/** How to write the results down, before the command line that judges them. */
export const recordWords =
  'Next: write what came into results.csv, a row for each message and its time since the power-on of its step ' +
  '(first row: step,message; then rows such as 2,3:12, or 1,none where no message came). Then judge it:';

/** What to know before the first step: safety first. */
export function howTo(
  drill: Drill,
  { quickOf, supply }: { readonly quickOf: QuickOf | null; readonly supply: SupplySettings | null },
): readonly string[] {
  return [...safety(drill.steps, supply), ...goAbout(drill, quickOf)];
}

/** How to go about it. */
export function goAbout({ toleranceMs, steps }: Drill, quickOf: QuickOf | null): readonly string[] {
  const isExact = steps.some((step) => step.toleranceMs < toleranceMs);
  const hasOutage = steps.some(({ actions }) => actions.some(({ deed }) => deed === 'network-off'));
  return [
    ...(quickOf === null ? [] : [quickWords(quickOf)]),
    "Before each step shut the door, let the network in, disconnect the monitor's battery and wait 10 s. Time 0 is when you connect it again, and every time counts " +
      `from then. Do what is listed at its time, give or take ${durationText(toleranceMs)}${isExact ? ' (a step that has to be more exact says so)' : ''}, ` +
      'and note when each message comes.',
    ...(hasOutage ? [networkWords] : []),
    "At the end of a step, disconnect the monitor's battery at the listed time. That is also a test: the messages of the next step show that nothing was " +
      'kept without power.',
    'A message counts from the moment when it is sent. Heartbeats do not count.',
    'Below each step is its purpose. A device with one of the mistakes listed there fails the step: a message is missing, or one ' +
      'comes too soon, too late or without a reason. dozewatch hunt --mistake NAME shows what a mistake does.',
  ];
}

/** For a step in which the person has to be more exact than in others; empty: it is as others. */
export function exactness({ toleranceMs }: Step, drill: Drill): string {
  if (toleranceMs >= drill.toleranceMs) return '';
  return `Be exact in this step: act by a clock with seconds, give or take ${durationText(toleranceMs)}.`;
}

export function actionLines({ actions, endsMs, restsAtMm }: Step): readonly Timed[] {
  const words = (deed: Action['deed']): string =>
    deed === 'open' && restsAtMm !== null
      ? `open the door wide, push it back to a gap of ${String(restsAtMm)} mm, and let it rest there`
      : deeds[deed];
  const start: Timed = ['0', "door shut, network up: connect the monitor's battery"];
  const lastOfNetwork = actions.findLast(({ deed }) => deed.startsWith('network-'));
  const after = lastOfNetwork?.deed === 'network-off' ? ', and then let the network back in' : '';
  const end: Timed = [durationText(endsMs), `the end: disconnect the monitor's battery${after}`];
  return [start, ...actions.map(({ atMs, deed }): Timed => [durationText(atMs), words(deed)]), end];
}

export function expectation({ windows, endsMs }: Step): string {
  const end = durationText(endsMs);
  if (windows.length === 0) return `no message until ${end}`;
  const all = windows.map((window) => `a message ${windowText(window)}`);
  return `${all.join(', ')}, and no other until ${end}`;
}

export function windowText({ fromMs, toMs }: Window): string {
  return `between ${durationText(fromMs)} and ${durationText(toMs)}`;
}

const kindWords: Readonly<Record<StepKind, string>> = {
  reset: 'resets',
  network: 'network outages',
  power: 'power losses within a step',
  heartbeat: 'waits for a heartbeat',
};

const sides: Readonly<Record<BoundSide, string>> = {
  'longest-quiet':
    'the longest opening that must give no message when the device gets its power at 0',
  'shortest-told': 'the shortest opening that must give a message',
  slowest: 'the slowest message after an opening',
  soonest: 'the soonest message after an opening',
  'cooldown-running': 'a check just before the end of the cooldown, which must give no message',
  'cooldown-over': 'a check just after the cooldown, which must give a message',
};

/** Why the step is there. */
export function purpose({ bounds, tells, restsAtMm }: Step): string {
  const shown = bounds.map((side) => sides[side]);
  const told =
    tells.length === 0 ? [] : [`notices ${counted(tells.length, 'mistake')}: ${tells.join(', ')}`];
  const gap = restsAtMm === null ? [] : ["a door that rests just beyond the contact's release gap"];
  const all = [...gap, ...shown, ...told];
  return all.length === 0 ? 'reaches more states and transitions of the logic' : all.join('; ');
}

/** How good the choice of steps is. */
function choiceWords({ totalMs, atLeastMs, candidates }: Drill): string {
  const among = counted(candidates, 'possible step');
  if (atLeastMs >= totalMs) return `no other choice among ${among} takes less time (proved)`;
  const over = Math.ceil(((totalMs - atLeastMs) * 1_000) / atLeastMs) / 10;
  return (
    `another choice among ${among} may take less time, but none takes less than ${durationText(atLeastMs)}: ` +
    `this one is at most ${String(over)} % too long`
  );
}

function quietWords(upToMs: number | null): string {
  if (upToMs === null) return '';
  return upToMs === 0
    ? 'no opening is too short for a message'
    : `no message for an opening up to ${roundedDurationText(upToMs, 'at least')}`;
}

/** A drill of this length or longer is better done with shorter intervals. */
const longDrillMs = 2 * 3_600_000;

/** More steps than this are counted in place of being listed. */
const mostNamedSteps = 4;

/** `step 3`, `steps 3 and 7`, `steps 3, 7 and 9` */
export function stepsText(steps: readonly number[]): string {
  const last = String(steps.at(-1) ?? '');
  if (steps.length < 2) return `step ${last}`;
  return `steps ${steps.slice(0, -1).map(String).join(', ')} and ${last}`;
}

/** What only steps that wait for the same show. */
function onlyWords({ only: { mistakes, bounds, transitions } }: LongSteps): string {
  const parts = [
    ...(mistakes.length === 0 ? [] : [`to notice ${mistakes.join(', ')}`]),
    ...(bounds.length === 0 ? [] : ['to show the end of the cooldown']),
    ...(transitions === 0 ? [] : [`to reach ${counted(transitions, 'transition')}`]),
  ];
  return parts.length === 0 ? '' : `, ${parts.join(' and ')}`;
}

/** Which settings make a long drill long, and for what; none for a drill that is short. */
export function longWords(drill: Drill): readonly string[] {
  if (drill.totalMs < longDrillMs) return [];
  return longToName(drill).map((one) => {
    const isOne = one.steps.length === 1;
    const lasts = `${isOne ? 'lasts' : 'last'} ${roundedDurationText(one.lastMs, 'at most')}${isOne ? '' : ' together'}`;
    return `${longStepsText(one, drill)} ${lasts} because of ${causesText(one)}${onlyWords(one)}`;
  });
}

/** The settings that together take at least half of the time of steps, the one that takes most first. */
function causesText({ takes, setting, settingMs, lastMs }: LongSteps): string {
  const named: string[] = [];
  let sumMs = 0;
  for (const one of takes) {
    named.push(`${one.setting}: ${writeDuration(one.settingMs)}`);
    sumMs += one.takesMs;
    if (2 * sumMs >= lastMs) break;
  }
  return named.length === 0 ? `${setting}: ${writeDuration(settingMs)}` : listText(named);
}

/** `step 14, the longest,` */
function longStepsText({ steps: numbers }: LongSteps, { steps }: Drill): string {
  const count = numbers.length;
  // Short ones come first.
  const isLongest = numbers.includes(steps.length);
  if (count === 1)
    return `${stepsText(numbers)}${isLongest && steps.length > 1 ? ', the longest,' : ''}`;
  if (count === steps.length) return `all ${String(count)} steps`;
  if (count <= mostNamedSteps) return stepsText(numbers);
  return `${String(count)} of the ${String(steps.length)} steps${isLongest ? ', the longest among them,' : ''}`;
}

/** Why a long drill is long, and how to shorten it; no lines for a drill that is short. */
function lengthLines(drill: Drill, quickOf: QuickOf | null): readonly Timed[] {
  const long = longWords(drill);
  if (long.length === 0) return [];
  const beats = longToName(drill).find(({ setting }) => setting === 'heartbeatInterval');
  const lost = beats?.only.mistakes ?? [];
  const unnoticed = lost.length === 0 ? '' : ` (the drill then does not notice ${lost.join(', ')})`;
  const ways = [
    ...(beats === undefined
      ? []
      : [`--without heartbeat leaves out steps that wait for a heartbeat${unnoticed}`]),
    ...(quickOf === null
      ? [
          '--quick FILE writes a copy of the watch file with shorter intervals, and makes a drill for that',
        ]
      : []),
  ];
  return [
    ['what makes it long', long.join('; ')],
    ...(ways.length === 0 ? [] : ([['to shorten it', ways.join('; ')]] as const)),
  ];
}

function reachedText({ exercised, total }: Drill['states']): string {
  const rest = total - exercised;
  const not = rest === 0 ? '' : `; the steps do not reach the other ${String(rest)}`;
  return `${String(exercised)} of ${String(total)}${not}`;
}

export function summaryLines(drill: Drill, quickOf: QuickOf | null): readonly Timed[] {
  const { totalMs, setUpMs, states, transitions, faults, proved } = drill;
  const told = faults.told.length;
  const all = told + faults.untold.length;
  const bounds = [
    quietWords(proved.quietUpToMs),
    proved.sureFromMs === null
      ? ''
      : `always one from ${roundedDurationText(proved.sureFromMs, 'at most')} on`,
  ].filter((words) => words !== '');
  return [
    [
      'time',
      `${durationText(totalMs)} in all, with ${durationText(setUpMs)} to set up each step; the short steps come first`,
    ],
    ...lengthLines(drill, quickOf),
    ['choice', choiceWords(drill)],
    ...(drill.withoutResets
      ? ([
          [
            'resets',
            'none: the watch file does not say whether a reset by button keeps retained memory (device.reset.button)',
          ],
        ] as const)
      : []),
    ...(drill.without.length > 0
      ? ([
          [
            'left out',
            `${drill.without.map((kind) => kindWords[kind]).join(', ')}; mistakes that only such steps show are not noticed`,
          ],
        ] as const)
      : []),
    [
      'proved, at rest, while nothing goes wrong',
      bounds.length === 0 ? 'not found' : bounds.join('; '),
    ],
    ['states', `${reachedText(states)} (those that behave alike count as one)`],
    ['transitions', `${reachedText(transitions)} (of those that a person can cause)`],
    [
      'mistakes noticed',
      `${String(told)} of the ${String(all)} that a drill can show${faults.untold.length === 0 ? '' : `; not noticed: ${faults.untold.join(', ')}`}`,
    ],
  ];
}

/** Of one kind of wrong, this many are listed in a line; the others are counted. */
const mostListed = 3;

/** What is wrong with a step that failed. */
export function wrongWords({ wrongs, seenMs }: StepResult, { windows }: Step): string {
  const missing = wrongs.flatMap((wrong) =>
    wrong.kind === 'missing' ? [windowText(wrong.window)] : [],
  );
  const unexpected = wrongs.flatMap((wrong) =>
    wrong.kind === 'unexpected' ? [durationText(wrong.atMs)] : [],
  );
  const [first = ''] = missing;
  if (seenMs.length === 0 && missing.length > 1) {
    return `none of its ${String(missing.length)} messages came; the first was due ${first}`;
  }
  const many = windows.length > mostListed ? ` of its ${String(windows.length)}` : '';
  return [
    ...shortened(missing, (one) => `no message ${one}`, {
      rest: (count) => `and ${String(count)} more${many} messages are missing`,
    }),
    ...shortened(unexpected, (one) => `a message at ${one} that should not have come`, {
      rest: (count) => `and ${String(count)} more that should not have come`,
    }),
  ].join('; ');
}

function shortened(
  all: readonly string[],
  words: (one: string) => string,
  { rest }: { readonly rest: (count: number) => string },
): readonly string[] {
  // The last one is no longer than its count.
  const listed = all.length <= mostListed + 1 ? all : all.slice(0, mostListed);
  const more = all.length - listed.length;
  return [...listed.map(words), ...(more === 0 ? [] : [rest(more)])];
}
