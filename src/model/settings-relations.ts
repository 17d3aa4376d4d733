// What settings of one section must be to each other, beside the table. Bounds of one value (open ≤ outOf, min ≤ max) belong to
// its kind; what is allowed and merely does less than it seems to is a warning and no relation.
import type { settings } from './settings.js';
import type { Given, Section } from './settings-kinds.js';
import { supplyPresetNames } from './supply-presets.js';

export interface Relation<Of> {
  /** The code of the diagnostic. */
  readonly code: string;
  /** The key to change, below the section. */
  readonly at: readonly string[];
  /** Goes on from the key's name. */
  readonly says: string;
  readonly hint?: string;
  /** @param given what the file says, with defaults. */
  readonly isBroken: (given: Of) => boolean;
}

type RelationsOf<S extends Section> = readonly Relation<Given<S>>[];

const contact: RelationsOf<typeof settings.contact> = [
  {
    code: 'operate-above-release',
    at: ['operateGap'],
    says: 'is more than releaseGap',
    hint: 'a contact opens at a gap that is at least the one at which it shuts',
    isBroken: ({ operateGap, releaseGap }) => operateGap > releaseGap,
  },
];

const environment: RelationsOf<typeof settings.environment> = [
  {
    code: 'no-outage-to-count',
    at: ['outages'],
    says: 'contradicts longestOutage: an outage of no length is none',
    hint: 'say how long each may last: longestOutage: 1h',
    isBroken: ({ outages, longestOutage }) => outages !== undefined && longestOutage === 0,
  },
  {
    code: 'no-outages-to-part',
    at: ['outagesApart'],
    says: 'contradicts outages: a single one is apart from nothing',
    hint: 'say how many: outages: 2',
    isBroken: ({ outagesApart, outages }) =>
      outagesApart !== undefined && (outages === undefined || outages === 1),
  },
  {
    code: 'no-loss-to-last',
    at: ['powerLossLasting'],
    says: 'contradicts powerLosses: there is no loss that could last',
    hint: 'say how many: powerLosses: 1',
    isBroken: ({ powerLossLasting, powerLosses }) =>
      powerLossLasting !== undefined && powerLosses === 0,
  },
];

const missing = { code: 'missing-key', says: 'is missing' } as const;

const supply: RelationsOf<typeof settings.supply> = [
  {
    ...missing,
    at: ['sleepCurrent'],
    hint: `give it as measured, or name a preset: ${supplyPresetNames.join(', ')}`,
    isBroken: ({ preset, sleepCurrent }) => preset === undefined && sleepCurrent === undefined,
  },
  {
    ...missing,
    at: ['blink', 'time'],
    hint: 'a blink has no length of its own: time: 200ms',
    isBroken: ({ blink }) => blink?.kind === 'current' && blink.timeMs === null,
  },
  {
    code: 'hold-not-current',
    at: ['hold'],
    says: 'is not a current alone',
    hint: 'it goes on until a reset: hold: { current: 31mA }',
    isBroken: ({ hold }) => hold !== undefined && (hold.kind === 'charge' || hold.timeMs !== null),
  },
  {
    ...missing,
    at: ['derating'],
    hint: 'a temperature needs a curve: derating: [{ celsius: 20, share: 100% }]',
    isBroken: ({ celsius, derating }) =>
      celsius !== undefined && (derating === undefined || derating.length === 0),
  },
  {
    ...missing,
    at: ['celsius'],
    hint: 'how warm is the battery?',
    isBroken: ({ celsius, derating }) => celsius === undefined && derating !== undefined,
  },
  {
    code: 'temperature-twice',
    at: ['derating'],
    says: 'names a temperature twice',
    isBroken: ({ derating }) => isTwice((derating ?? []).map(({ celsius }) => celsius)),
  },
  {
    code: 'curve-not-rising',
    at: ['voltageCurve'],
    says: 'does not rise with what is left',
    hint: 'give two points or more, each of them at another charge',
    isBroken: ({ voltageCurve }) => voltageCurve !== undefined && !rises(voltageCurve),
  },
];

function isTwice(values: readonly number[]): boolean {
  return new Set(values).size < values.length;
}

type Curve = readonly { readonly left: number; readonly voltage: number }[];

function rises(curve: Curve): boolean {
  const ascending = curve.toSorted((a, b) => a.left - b.left);
  return (
    curve.length > 1 &&
    !isTwice(curve.map(({ left }) => left)) &&
    ascending.every(({ voltage }, index) => voltage >= (ascending[index - 1]?.voltage ?? 0))
  );
}

/** By section; a section that is not here has none. */
export const relations = { contact, supply, environment } as const;
