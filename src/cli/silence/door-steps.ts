// The tests at the door in words: each step, its outcomes with their probabilities, and what each outcome means.
import { chanceText, listText, roughDurationText, sentence } from '../../base/index.js';
import {
  type DoorOutcome,
  type DoorTest,
  type DoorTestKind,
  type Explanation,
  emptyShare,
} from '../../silence/index.js';
import type { Renewal } from '../../wording/index.js';
import { paragraphText } from '../layout/table-text.js';
import { aboutLife, names, type SilenceView, shownFrom } from './view.js';

export function doorStepsText(view: SilenceView, width: number): string {
  const steps = view.tests.steps.map((step, index) => stepText(step, index, { view, width }));
  return `${emptyText(view, width)}${lampText(view, width)}${steps.join('')}`;
}

/** The table names the first fault. After any of them the device goes on using its charge. */
function emptyText({ answer, observed, tests, renewal }: SilenceView, width: number): string {
  if (!tests.chargedFirst) return '';
  const ago = roughDurationText(observed.nowMs - observed.chargedMs);
  const life =
    answer.lifeMs === null ? '' : `, and ${renewal.lasts} about ${aboutLife(answer.lifeMs)}`;
  const empty = `Whatever ended the messages, by now the battery is empty (${chanceText(emptyShare(answer.explanations))}: ${renewal.done === 'charged' ? 'charged' : `it had ${renewal.done}`} ${ago} ago${life}).`;
  const first = sentence(
    `${renewal.give} before the first step: with the battery empty, every step would only show a dark lamp`,
  );
  return paragraphText(`${empty} ${first}`, width, '  ');
}

function lampText({ tests }: SilenceView, width: number): string {
  if (tests.steps.length === 0) return '';
  return paragraphText(
    'The lamp is the one that the device blinks at each check that reads open; without one, look for that check in a log of the device. The percentages are the probabilities of the outcomes.',
    width,
    '  ',
  );
}

/** @param apart the heartbeats may have met outages at their hour. */
const testWords: Readonly<
  Record<DoorTestKind, (forText: string, renewal: Renewal, apart: boolean) => string>
> = {
  look: (forText) => `Open the door, and look at the lamp for ${forText}.`,
  open: (forText, _, apart) =>
    `Leave the door open for ${forText}${apart ? ', at another hour than that of the heartbeats' : ''}, and wait for an alert.`,
  reset: () =>
    'With the door open, press the reset button, and look at the lamp as long as in step 1.',
  contact: () =>
    'With the door open, take one wire of the contact off at the device, look at the lamp as long as in step 1, and put the wire back. (For a contact that closes its circuit as the door opens, join its two terminals at the device instead.) Taking the magnet away is not enough: a contact that sticks, and wires that touch, stay closed without it.',
  charge: (_, { connect }) =>
    `With the door open, ${connect}, and look at the lamp as long as in step 1.`,
};

const outcomeWords: Readonly<Record<DoorOutcome, string>> = {
  alert: 'an alert arrives',
  blink: 'the lamp blinks',
  dark: 'the lamp stays dark',
};

function stepText(
  test: DoorTest,
  index: number,
  { view, width }: { readonly view: SilenceView; readonly width: number },
): string {
  const forText = roughDurationText(test.takesMs, 'at most');
  const lead = `  ${String(index + 1)}. `;
  const { steps } = view.tests;
  // After a charge, before any other act: what kept the device from working has ended.
  const isLook = test.kind === 'look' || test.kind === 'open';
  const outcomes = test.outcomes.map(({ outcome, probability, leaves }) => {
    const isEnded = isLook && outcome !== 'dark' && view.tests.chargedFirst;
    const words =
      outcome === 'blink' && test.kind === 'open' ? 'no alert arrives' : outcomeWords[outcome];
    const next = nextOf(test.kind, outcome, { steps, index });
    const what =
      next === null
        ? `${leaves.map((name) => leftName(name, isEnded)).join(', or ')}${remedies(test.kind, outcome, leaves)}`
        : `go on with step ${String(next + 1)}`;
    const known = test.outcomes.length === 1 ? '100 %' : chanceText(probability);
    return paragraphText(`${words} (${known}): ${what}.`, width, '     - ');
  });
  const other = test.outcomes.length === 1 ? unforeseen(test) : null;
  const otherwise = other === null ? '' : paragraphText(other, width, '     - ');
  return `${paragraphText(testWords[test.kind](forText, view.renewal, mayMeetOutages(view)), width, lead)}${outcomes.join('')}${otherwise}`;
}

/** Then an alert may be late at that hour. */
function mayMeetOutages({ answer }: SilenceView): boolean {
  return answer.explanations.some(
    ({ explanation, probability }) => explanation === 'outage' && probability >= shownFrom,
  );
}

/** What to do where the only outcome of a step that the explanations allow does not come. */
function unforeseen({ kind, outcomes }: DoorTest): string {
  const [only] = outcomes;
  const battery = kind === 'charge' ? 'C' : 'Measure the battery, and c';
  const parts = [
    ...['the lamp', 'the wires'],
    ...(kind === 'contact' ? ['the pull-up at its input'] : []),
    'the device itself',
  ];
  const check = `a fault that is not among the explanations. ${battery}heck ${listText(parts)}`;
  if (only?.outcome === 'dark') {
    return 'the lamp blinks: no explanation allows that. The device checks the door; leave it open until an alert is due.';
  }
  if (kind === 'open' && only?.outcome === 'blink') {
    return 'an alert arrives: no explanation allows that, but the whole chain works now.';
  }
  return only?.outcome === 'alert'
    ? `no alert arrives: ${check}.`
    : `the lamp stays dark: ${check}.`;
}

/** In the past tense: a charge ended it, since the device had run empty and started again. */
const endedNames: Partial<Readonly<Record<Explanation, string>>> = {
  flat: 'the battery was empty',
  holding: 'it waited for a reset after its last alert',
  'holding-lost': 'it waited for a reset after an alert that was lost',
  firmware: 'the firmware hung',
};

function leftName(name: Explanation, isEnded: boolean): string {
  return (isEnded ? endedNames[name] : undefined) ?? names[name];
}

/** The step after this outcome; null: the search ends. */
function nextOf(
  kind: DoorTestKind,
  outcome: DoorOutcome,
  { steps, index }: { readonly steps: readonly DoorTest[]; readonly index: number },
): number | null {
  const isLook = kind === 'look' || kind === 'open';
  const acts = steps.findIndex((step) => step.kind !== 'look' && step.kind !== 'open');
  if (isLook) {
    if (outcome === 'dark') return acts < 0 ? null : acts;
    return kind === 'look' && steps[index + 1]?.kind === 'open' ? index + 1 : null;
  }
  return outcome === 'dark' && index + 1 < steps.length ? index + 1 : null;
}

function remedies(
  kind: DoorTestKind,
  outcome: DoorOutcome,
  leaves: readonly Explanation[],
): string {
  if (kind === 'open' && outcome === 'alert') return '; the whole chain works now';
  if (kind === 'reset' && outcome === 'blink') {
    return leaves.includes('firmware')
      ? '; it works again, and may hang again'
      : '; it works again';
  }
  if (kind === 'contact' && outcome === 'blink') {
    return ' (it sticks, its wires touch, or a magnet stayed with it)';
  }
  if (kind === 'charge' && outcome === 'blink') {
    const which =
      leaves.length > 1
        ? ' (without power for a moment, the device also started again: measure what you took out to see which it was)'
        : '';
    return `${which}. Another fault may have ended the messages before: do the steps again`;
  }
  return '';
}
