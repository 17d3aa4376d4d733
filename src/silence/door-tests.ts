// The cheapest tests at the door that distinguish the explanations: of all orders, the one whose expected time is least. The two
// tests that look on come first; the others act on a device that showed nothing, and each shows whether it was the cause.
import { minuteMs } from '../base/index.js';
import { type Explained, type Explanation, soundExplanations } from './explain.js';

export type DoorTestKind = 'look' | 'open' | 'reset' | 'contact' | 'charge';

export interface DoorTest {
  readonly kind: DoorTestKind;
  readonly takesMs: number;
  /** What each outcome leaves, and how probable it is at this point; outcomes that cannot be are left out. */
  readonly outcomes: readonly {
    readonly outcome: DoorOutcome;
    readonly probability: number;
    readonly leaves: readonly Explanation[];
  }[];
}

/** `alert`: one arrives; `blink`: the lamp blinks, and no alert arrives; `dark`: the lamp stays dark. */
export type DoorOutcome = 'alert' | 'blink' | 'dark';

export interface DoorTests {
  /** In order: each is done if the ones before left more than one group of explanations. */
  readonly steps: readonly DoorTest[];
  /** How long they take in the mean, with the charge if that comes first. */
  readonly expectedMs: number;
  /** By now the battery is almost certainly empty, whatever ended the messages: it is charged before the first step. */
  readonly chargedFirst: boolean;
}

export interface DoorTimes {
  /** Until the lamp must have blinked behind an open door: the longest time between two checks, failed attempts to send included. */
  readonly lookMs: number;
  /** Until an alert must have arrived; null: it is not sure to. */
  readonly openMs: number | null;
}

/** By hand, with a ladder where there is one. */
const actsMs = { reset: 2 * minuteMs, contact: 5 * minuteMs, charge: 10 * minuteMs } as const;

/** A battery that is empty this probably is charged before anything is looked at: a test would only show a dark lamp. */
const chargedFirstFrom = 0.95;
/** What ends with the power, as with a reset: a device that ran empty, or whose battery is exchanged, starts again. */
const endsWithPower: readonly Explanation[] = ['holding', 'holding-lost', 'firmware'];
/**
 * What may have been the cause, if the lamp blinks after an act. The one with the battery is its exchange: a measurement alone makes no
 * lamp blink, and an exchange also starts the device again.
 */
const cures: Readonly<Record<keyof typeof actsMs, readonly Explanation[]>> = {
  reset: endsWithPower,
  contact: ['contact'],
  charge: ['flat', ...endsWithPower],
};
const acts = ['reset', 'contact', 'charge'] as const;

/** With each of these the lamp stays dark. */
const silencing: readonly Explanation[] = [
  'flat',
  'holding',
  'holding-lost',
  'contact',
  'firmware',
];

/** The chance that the battery is empty by now, whatever ended the messages. */
export function emptyShare(explanations: readonly Explained[]): number {
  return explanations.reduce((sum, one) => sum + one.probability * one.emptyByNow, 0);
}

/** What the tests meet: a device whose battery became empty after another fault is one with an empty battery. */
function chancesNow(explanations: readonly Explained[]): ReadonlyMap<Explanation, number> {
  const chances = new Map<Explanation, number>();
  const empty = emptyShare(explanations);
  for (const { explanation, probability, emptyByNow } of explanations) {
    if (explanation !== 'flat') chances.set(explanation, probability * (1 - emptyByNow));
  }
  return chances.set('flat', empty);
}

export function doorTests(explanations: readonly Explained[], times: DoorTimes): DoorTests {
  const chargedFirst = emptyShare(explanations) >= chargedFirstFrom;
  const chance = chargedFirst
    ? new Map(explanations.map((one) => [one.explanation, one.probability]))
    : chancesNow(explanations);
  const restarted = explanations
    .filter((one) => chargedFirst && startsAgain(one))
    .map(({ explanation }) => explanation);
  const sound: readonly Explanation[] = [...soundExplanations, ...restarted];
  const dark = silencing.filter((name) => !restarted.includes(name));
  const shareOf = (names: readonly Explanation[]): number =>
    names.reduce((sum, name) => sum + (chance.get(name) ?? 0), 0);
  const possible = (names: readonly Explanation[]) =>
    names.filter((name) => (chance.get(name) ?? 0) > 0);
  const { order, expectedMs: inDark } = actOrder(possible(dark), shareOf);
  const first = looksOn(times, { lit: shareOf([...sound, 'network']) });
  const steps: DoorTest[] = [];
  const add = (kind: DoorTestKind, takesMs: number, cases: Cases): void => {
    const all = cases.reduce((sum, [, names]) => sum + shareOf(names), 0);
    const outcomes = cases
      .filter(([, names]) => possible(names).length > 0)
      .map(([outcome, names]) => ({
        outcome,
        probability: all > 0 ? shareOf(names) / all : 0,
        leaves: possible(names),
      }));
    steps.push({ kind, takesMs, outcomes });
  };
  if (first.look) {
    add('look', times.lookMs, [
      ['blink', [...sound, 'network']],
      ['dark', dark],
    ]);
  }
  if (times.openMs !== null) {
    add('open', times.openMs, [
      ['alert', sound],
      ['blink', ['network']],
      ...(first.look ? [] : [['dark', dark] as const]),
    ]);
  }
  let left = possible(dark);
  for (const kind of order) {
    const cured = left.filter((name) => cures[kind].includes(name));
    const rest = left.filter((name) => !cures[kind].includes(name));
    add(kind, actsMs[kind], [
      ['blink', cured],
      ['dark', rest],
    ]);
    left = rest;
  }
  const chargeMs = chargedFirst ? actsMs.charge : 0;
  const expectedMs = chargeMs + first.expectedMs + inDark;
  return { steps, expectedMs, chargedFirst };
}

/** Whether it works once it is charged: an empty battery was all, or what else there was ended as the battery ran empty. */
function startsAgain({ explanation, emptyByNow }: Explained): boolean {
  if (explanation === 'flat') return true;
  return endsWithPower.includes(explanation) && emptyByNow >= 0.5;
}

type Cases = readonly (readonly [DoorOutcome, readonly Explanation[]])[];

/** Whether to look for the lamp before waiting for an alert, and what looking on takes in the mean. */
function looksOn(
  { lookMs, openMs }: DoorTimes,
  { lit }: { readonly lit: number },
): { readonly look: boolean; readonly expectedMs: number } {
  if (openMs === null) return { look: true, expectedMs: lookMs };
  // The door stays open after a look: only the rest of the wait is added.
  const withLook = lookMs + lit * Math.max(0, openMs - lookMs);
  return withLook < openMs
    ? { look: true, expectedMs: withLook }
    : { look: false, expectedMs: openMs };
}

type Act = (typeof acts)[number];

/** Of all orders of the acts the one of least expected time; an act that would find nothing more is left out. */
function actOrder(
  dark: readonly Explanation[],
  shareOf: (names: readonly Explanation[]) => number,
): { readonly order: readonly Act[]; readonly expectedMs: number } {
  let best: { readonly order: readonly Act[]; readonly expectedMs: number } | null = null;
  for (const all of ordersOf(acts)) {
    const order: Act[] = [];
    let left = dark;
    let [spentMs, expectedMs] = [0, 0];
    for (const kind of all) {
      const found = left.filter((name) => cures[kind].includes(name));
      if (found.length === 0) continue;
      order.push(kind);
      left = left.filter((name) => !found.includes(name));
      spentMs += actsMs[kind];
      expectedMs += shareOf(found) * spentMs;
    }
    if (best === null || expectedMs < best.expectedMs) best = { order, expectedMs };
  }
  return best ?? { order: [], expectedMs: 0 };
}

function ordersOf(kinds: readonly Act[]): readonly (readonly Act[])[] {
  if (kinds.length < 2) return [kinds];
  return kinds.flatMap((first) =>
    ordersOf(kinds.filter((kind) => kind !== first)).map((rest) => [first, ...rest]),
  );
}
