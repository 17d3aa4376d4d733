// Rules between settings of one section. Limits of a single value (open ≤ outOf, min ≤ max) belong to its kind; a setting that
// is allowed but has no effect gets a warning instead (scenarios/watch/warnings.ts).
import { cellNames, freshMv, needsCapacity } from './cells.js';
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
    hint: 'a contact opens at the same gap as it shuts, or at a larger one: raise releaseGap or lower operateGap',
    isBroken: ({ operateGap, releaseGap }) => operateGap > releaseGap,
  },
];

const door: RelationsOf<typeof settings.door> = [
  {
    code: 'opens-within-seal',
    at: ['opensAtLeast'],
    says: 'is not more than sealGap',
    hint: 'an open door is wider than its seal gap: raise opensAtLeast or lower sealGap',
    isBroken: ({ opensAtLeast, sealGap }) => opensAtLeast !== undefined && opensAtLeast <= sealGap,
  },
];

const environment: RelationsOf<typeof settings.environment> = [
  {
    code: 'no-outage-to-count',
    at: ['outages'],
    says: 'has no effect, because longestOutage is 0s',
    hint: 'give the length of an outage, such as longestOutage: 1h',
    isBroken: ({ outages, longestOutage }) => outages !== undefined && longestOutage === 0,
  },
  {
    code: 'no-outages-to-part',
    at: ['outagesApart'],
    says: 'needs two outages or more',
    hint: 'give their number, such as outages: 2',
    isBroken: ({ outagesApart, outages }) =>
      outagesApart !== undefined && (outages === undefined || outages === 1),
  },
  {
    code: 'no-loss-to-last',
    at: ['powerLossLasting'],
    says: 'has no effect, because powerLosses is 0',
    hint: 'give their number, such as powerLosses: 1',
    isBroken: ({ powerLossLasting, powerLosses }) =>
      powerLossLasting !== undefined && powerLosses === 0,
  },
];

const watch: RelationsOf<typeof settings.watch> = [
  {
    code: 'low-battery-unclear',
    at: ['lowBattery'],
    says: 'needs one of at and atVoltage',
    hint: 'write lowBattery: { at: 20% } or lowBattery: { atVoltage: 3.4V }',
    isBroken: ({ lowBattery }) =>
      lowBattery !== undefined &&
      (lowBattery.at === undefined) === (lowBattery.atVoltage === undefined),
  },
];

const answer: RelationsOf<typeof settings.answer> = [
  {
    code: 'charges-unclear',
    at: ['charges'],
    says: 'needs one of every and afterWarning',
    hint: 'write charges: { every: 3w } or charges: { afterWarning: 2d }',
    isBroken: ({ charges }) =>
      charges !== undefined &&
      (charges.every === undefined) === (charges.afterWarning === undefined),
  },
];

const missing = { code: 'missing-key', says: 'is missing' } as const;

const supply: RelationsOf<typeof settings.supply> = [
  {
    ...missing,
    at: ['sleepCurrent'],
    hint: `measure it, such as sleepCurrent: 10uA, or name a preset: ${supplyPresetNames.join(', ')}`,
    isBroken: ({ preset, sleepCurrent }) => preset === undefined && sleepCurrent === undefined,
  },
  {
    ...missing,
    at: ['capacity'],
    hint: 'say how much the battery holds, such as capacity: 1200mAh, or name cells, such as cells: alkaline-aa',
    isBroken: ({ cells, capacity }) => capacity === undefined && cells === undefined,
  },
  ...cellNames.filter(needsCapacity).map((name) => ({
    ...missing,
    at: ['capacity'],
    hint: `a ${name} comes in many sizes: add the capacity of one cell, such as capacity: 1200mAh`,
    isBroken: ({ cells, capacity }: Given<typeof settings.supply>): boolean =>
      capacity === undefined && cells === name,
  })),
  {
    code: 'cells-and-battery',
    at: ['usable'],
    says: 'is given by cells: it follows from the voltage that a send needs',
    hint: 'delete this line; capacity (of one cell) and selfDischarge may be given beside cells',
    isBroken: ({ cells, usable }) => cells !== undefined && usable !== undefined,
  },
  ...(['series', 'parallel', 'regulator'] as const).map((key) => ({
    code: 'without-cells',
    at: [key],
    says: 'needs cells',
    hint: 'name them, such as cells: alkaline-aa, or delete this line',
    isBroken: (given: Given<typeof settings.supply>): boolean =>
      given.cells === undefined && given[key] !== undefined,
  })),
  {
    code: 'regulator-cannot-raise',
    at: ['regulator', 'kind'],
    says: 'cannot raise the voltage, and even fresh cells give less than regulator.voltage',
    hint: 'write kind: boost with an efficiency, raise series, or lower regulator.voltage',
    isBroken: ({ cells, series, regulator }) =>
      cells !== undefined &&
      regulator !== undefined &&
      regulator.kind !== 'boost' &&
      freshMv(cells) * (series ?? 1) < regulator.voltage,
  },
  {
    ...missing,
    at: ['regulator', 'efficiency'],
    hint: 'a boost or buck regulator has one: efficiency: 85%',
    isBroken: ({ regulator }) =>
      regulator !== undefined && regulator.kind !== 'linear' && regulator.efficiency === undefined,
  },
  {
    code: 'efficiency-of-linear',
    at: ['regulator', 'efficiency'],
    says: 'has no effect: a linear regulator passes the current on',
    hint: 'delete this line',
    isBroken: ({ regulator }) => regulator?.kind === 'linear' && regulator.efficiency !== undefined,
  },
  {
    ...missing,
    at: ['blink', 'time'],
    hint: 'a blink with a current needs its length: time: 200ms',
    isBroken: ({ blink }) => blink?.kind === 'current' && blink.timeMs === null,
  },
  {
    code: 'hold-not-current',
    at: ['hold'],
    says: 'must be a current, without a time or a charge',
    hint: 'it flows until a reset: hold: { current: 31mA }',
    isBroken: ({ hold }) => hold !== undefined && (hold.kind === 'charge' || hold.timeMs !== null),
  },
  {
    ...missing,
    at: ['derating'],
    hint: 'celsius needs a curve: derating: [{ celsius: 20, share: 100% }]',
    isBroken: ({ celsius, derating, cells }) =>
      celsius !== undefined &&
      cells === undefined &&
      (derating === undefined || derating.length === 0),
  },
  {
    ...missing,
    at: ['celsius'],
    hint: 'derating needs the temperature of the battery: celsius: 20',
    isBroken: ({ celsius, derating }) => celsius === undefined && derating !== undefined,
  },
  {
    code: 'temperature-twice',
    at: ['derating'],
    says: 'has two points at the same temperature',
    hint: 'delete one of them',
    isBroken: ({ derating }) => isTwice((derating ?? []).map(({ celsius }) => celsius)),
  },
  {
    code: 'curve-not-rising',
    at: ['voltageCurve'],
    says: 'does not rise with the charge that is left',
    hint: 'give at least two points with different charges; the more is left, the higher the voltage',
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
export const relations = { watch, contact, door, supply, answer, environment } as const;
