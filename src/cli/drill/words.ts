// A drill in words, the same for terminals, Markdown and HTML.
import { counted, durationText } from '../../base/index.js';
import type { Action, BoundSide, Drill, Step, StepResult, Window } from '../../drill/index.js';

/** What is done at an instant, and what it is. */
export type Timed = readonly [at: string, words: string];

const deeds: Readonly<Record<Action['deed'], string>> = {
  open: 'open the door wide',
  shut: 'shut the door',
  'network-off': 'take the network away',
  'network-on': 'give the network back',
  reset: 'press reset',
  'power-off': 'take the power out',
  'power-on': 'put the power back',
};

/** How to go about it, before the first step. */
export function howTo({ toleranceMs, steps }: Drill): readonly string[] {
  const isExact = steps.some((step) => step.toleranceMs < toleranceMs);
  return [
    'Each step begins at 0 with the door shut, the network up, and the power put in after 10 s without it. Every time counts from ' +
      `then. Do what is said at its time, give or take ${durationText(toleranceMs)}${isExact ? ' (a step that has to be more exact says so)' : ''}, ` +
      'and note when each message comes.',
    'Take the network away at the access point, by blocking or pausing the device there: a router that is switched off and on takes ' +
      'minutes to come back, and the network must be there at the time that is said.',
    'At the end of a step take the power out, at its time: that is a test, too. The messages of the next step show that nothing was ' +
      'kept over it.',
    'A message counts from the moment in which it is sent. Heartbeats do not count.',
    'Below each step stands what it is for. A device with one of the mistakes that it tells fails it: a message is missing, or one ' +
      'comes too soon, too late or without a reason.',
  ];
}

/** For a step in which the person has to be more exact than in others; empty: it is as others. */
export function exactness({ toleranceMs }: Step, drill: Drill): string {
  if (toleranceMs >= drill.toleranceMs) return '';
  return `Be exact in this step: do what is said by a clock with seconds, give or take ${durationText(toleranceMs)}.`;
}

export function actionLines({ actions, endsMs, restsAtMm }: Step): readonly Timed[] {
  const words = (deed: Action['deed']): string =>
    deed === 'open' && restsAtMm !== null
      ? `open the door wide, push it back to a gap of ${String(restsAtMm)} mm, and let it rest there`
      : deeds[deed];
  const start: Timed = ['0', 'power on, door shut, network up'];
  const end: Timed = [durationText(endsMs), 'the end: take the power out'];
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

const sides: Readonly<Record<BoundSide, string>> = {
  'longest-quiet': 'an opening as long as can be without a message',
  'shortest-told': 'an opening as short as can be with one',
  slowest: 'the slowest message after an opening',
  soonest: 'the soonest message after an opening',
  'cooldown-running': 'a check as late in the cooldown as can be without a message',
  'cooldown-over': 'a check as soon after the cooldown as can be with one',
};

/** Why the step is there. */
export function purpose({ bounds, tells, restsAtMm }: Step): string {
  const shown = bounds.map((side) => sides[side]);
  const told =
    tells.length === 0 ? [] : [`tells ${counted(tells.length, 'mistake')}: ${tells.join(', ')}`];
  const gap = restsAtMm === null ? [] : ["a door that rests just beyond the contact's release gap"];
  const all = [...gap, ...shown, ...told];
  return all.length === 0 ? 'only for states and transitions of the logic' : all.join('; ');
}

/** How good the choice of steps is. */
function choiceWords({ totalMs, atLeastMs, candidates }: Drill): string {
  const among = `${counted(candidates, 'step')} that were tried`;
  if (atLeastMs >= totalMs) return `proved the least time of all choices among ${among}`;
  const over = Math.ceil(((totalMs - atLeastMs) * 1_000) / atLeastMs) / 10;
  return (
    `not proved the least time: among ${among} no choice takes less than ${durationText(atLeastMs)}, ` +
    `so this one is at most ${String(over)} % too long`
  );
}

function quietWords(upToMs: number | null): string {
  if (upToMs === null) return '';
  return upToMs === 0
    ? 'no opening is too short for a message'
    : `no message for an opening up to ${durationText(upToMs)}`;
}

export function summaryLines(drill: Drill): readonly Timed[] {
  const { steps, totalMs, setUpMs, states, transitions, faults, proved } = drill;
  const told = faults.told.length;
  const all = told + faults.untold.length;
  const bounds = [
    quietWords(proved.quietUpToMs),
    proved.sureFromMs === null ? '' : `always one from ${durationText(proved.sureFromMs)} on`,
  ].filter((words) => words !== '');
  return [
    [
      'steps',
      `${counted(steps.length, 'step')}, ${durationText(totalMs)} in all, with ${durationText(setUpMs)} to set up each; the short ones first`,
    ],
    ['choice', choiceWords(drill)],
    ...(drill.withoutResets
      ? ([
          [
            'resets',
            'none: the watch file does not say whether a reset by button keeps retained memory (device.reset.button)',
          ],
        ] as const)
      : []),
    [
      'proved, at rest, while nothing goes wrong',
      bounds.length === 0 ? 'not found out' : bounds.join('; '),
    ],
    ['states', `${String(states.exercised)} of ${String(states.total)}`],
    ['transitions', `${String(transitions.exercised)} of ${String(transitions.total)}`],
    [
      'mistakes told',
      `${String(told)} of ${String(all)}${faults.untold.length === 0 ? '' : `; not ${faults.untold.join(', ')}`}`,
    ],
  ];
}

/** What is wrong with a step that failed. */
export function wrongWords({ wrongs }: StepResult): string {
  return wrongs
    .map((wrong) =>
      wrong.kind === 'missing'
        ? `no message ${windowText(wrong.window)}`
        : `a message at ${durationText(wrong.atMs)} that should not have come`,
    )
    .join('; ');
}
