// Cells as they are bought, by generic names: what one holds at a load, what it loses by itself, its voltage and its
// resistance. Each number says where it is from and how sure it is. Charges in nAh, currents in nA, as everywhere.

import type { SelfDischarge, VoltagePoint } from './supply.js';
import type { Basis } from './supply-presets.js';

export const cellNames = [
  'alkaline-aa',
  'alkaline-aaa',
  'lithium-aa',
  'lithium-aaa',
  'nimh-aa',
  'nimh-aaa',
  'li-ion-18650',
  'li-ion-pouch',
  'lifepo4-18650',
  'lifepo4-pouch',
  'lithium-coin',
  'lithium-2-3a',
] as const;
export type CellName = (typeof cellNames)[number];

/** Where a number of a cell is from. */
export interface CellSource {
  readonly of: 'capacity' | 'voltage' | 'resistance' | 'self-discharge';
  readonly basis: Basis;
  readonly source: string;
}

export interface Cell {
  readonly name: CellName;
  readonly about: string;
  /** False: thrown away when it is empty. */
  readonly isRecharged: boolean;
  /** Capacity at a constant current, ascending in current; empty: it comes in many sizes, and the owner gives it. */
  readonly capacity: readonly { readonly currentNa: number; readonly capacityNah: number }[];
  /** While most of the charge is drawn. */
  readonly meanMv: number;
  /** At rest, ascending in what is left: from the end voltage to fresh. */
  readonly voltage: readonly VoltagePoint[];
  /** Fresh, and as high as it becomes. */
  readonly resistanceMilliohm: { readonly least: number; readonly most: number };
  readonly selfDischarge: SelfDischarge;
  readonly sources: readonly CellSource[];
}

const mah = 1_000_000;
const ma = 1_000_000;
const million = 1_000_000;

function at(...points: readonly (readonly [currentMa: number, capacityMah: number])[]) {
  return points.map(([current, capacity]) => ({
    currentNa: current * ma,
    capacityNah: capacity * mah,
  }));
}

/** Empty, half empty, and fresh. */
function volts(endMv: number, meanMv: number, freshMv: number): readonly VoltagePoint[] {
  return [
    { leftPpm: 0, voltageMv: endMv },
    { leftPpm: million / 2, voltageMv: meanMv },
    { leftPpm: million, voltageMv: freshMv },
  ];
}

/** A share a year, as one of every 30 days. */
function aYear(percent: number): SelfDischarge {
  return {
    firstDayPpm: 0,
    perMonthPpm: Math.round((percent * 10_000 * 30) / 365),
    protectionPerMonthPpm: 0,
  };
}

function monthly(firstDayPpm: number, perMonthPpm: number, protection = 0): SelfDischarge {
  return { firstDayPpm, perMonthPpm, protectionPerMonthPpm: protection };
}

const e91 = 'Energizer E91 data sheet, quoted by an electronics course page';
const alkalineLoss: CellSource = {
  of: 'self-discharge',
  basis: 'read',
  source:
    '0.5 % per month: review, Journal of Renewable Energy 2024, table 3; others say under 2 % per year',
};
const l91 = 'L91 data sheet, Li-FeS2 handbook';
const bu802 = 'Battery University BU-802b';
const nimhLoss: CellSource = {
  of: 'self-discharge',
  basis: 'read',
  source: `${bu802}: 10 to 15 % in a day, then 10 to 15 % per month; low-self-discharge cells lose 0.25 to 4 % per month, which supply.selfDischarge may give`,
};
const liIonLoss: CellSource = {
  of: 'self-discharge',
  basis: 'read',
  source: `${bu802}: 5 % in a day, then 1 to 2 % per month, and 3 % for the protection`,
};
const manganeseLoss: CellSource = {
  of: 'self-discharge',
  basis: 'read',
  source: 'Rayovac support: about 1.5 % per year, in store and in use',
};
const usualValues = 'usual data sheet values';
const recalled = (of: CellSource['of'], source = usualValues): CellSource => ({
  of,
  basis: 'recalled',
  source,
});
const read = (of: CellSource['of'], source: string): CellSource => ({ of, basis: 'read', source });

const liIonVolts = volts(3_000, 3_650, 4_200);
const phosphateVolts = volts(2_500, 3_200, 3_400);
const liIonResistance = { least: 20, most: 100 };
const liIonSources = [recalled('voltage'), recalled('resistance'), liIonLoss];
const phosphateSources = [
  recalled('voltage'),
  recalled('resistance', 'as for lithium-ion; 10 mΩ in a larger cell (read)'),
  recalled('self-discharge', 'as for lithium-ion without its protection'),
];

const cells: readonly Cell[] = [
  {
    name: 'alkaline-aa',
    about: 'an alkaline AA cell',
    isRecharged: false,
    capacity: at([25, 3_000], [100, 2_500], [250, 2_000], [500, 1_500]),
    meanMv: 1_250,
    voltage: volts(900, 1_250, 1_580),
    resistanceMilliohm: { least: 150, most: 300 },
    selfDischarge: monthly(0, 5_000),
    sources: [
      read('capacity', `${e91}: 3000 mAh at 25 mA, 2500 at 100, 2000 at 250, 1500 at 500`),
      read('voltage', 'fresh 1.58 V (advanced-battery.com)'),
      {
        of: 'voltage',
        basis: 'common practice',
        source: 'end 0.9 V and mean, no published number found',
      },
      read('resistance', `${e91}: 150 to 300 mΩ fresh`),
      alkalineLoss,
    ],
  },
  {
    name: 'alkaline-aaa',
    about: 'an alkaline AAA cell',
    isRecharged: false,
    capacity: at([25, 1_200], [100, 1_000], [250, 750], [500, 500]),
    meanMv: 1_250,
    voltage: volts(900, 1_250, 1_580),
    resistanceMilliohm: { least: 150, most: 300 },
    selfDischarge: monthly(0, 5_000),
    sources: [
      recalled('capacity'),
      recalled('voltage'),
      recalled('resistance', 'as for AA'),
      alkalineLoss,
    ],
  },
  {
    name: 'lithium-aa',
    about: 'a lithium iron disulfide AA cell, 1.5 V, not rechargeable',
    isRecharged: false,
    capacity: at([200, 3_500]),
    meanMv: 1_500,
    voltage: volts(900, 1_500, 1_800),
    resistanceMilliohm: { least: 120, most: 240 },
    selfDischarge: aYear(1),
    sources: [
      recalled('capacity', `${l91}: about 3500 mAh at 200 mA`),
      recalled('voltage', `${l91}: 1.8 V open circuit, 1.5 V nominal, end 0.8 to 0.9 V`),
      recalled('resistance'),
      recalled('self-discharge', `${l91}: less than 1 % per year`),
    ],
  },
  {
    name: 'lithium-aaa',
    about: 'a lithium iron disulfide AAA cell, 1.5 V, not rechargeable',
    isRecharged: false,
    capacity: at([200, 1_200]),
    meanMv: 1_500,
    voltage: volts(900, 1_500, 1_800),
    resistanceMilliohm: { least: 160, most: 320 },
    selfDischarge: aYear(1),
    sources: [
      recalled('capacity'),
      recalled('voltage'),
      recalled('resistance'),
      recalled('self-discharge'),
    ],
  },
  {
    name: 'nimh-aa',
    about: 'a nickel-metal hydride AA cell',
    isRecharged: true,
    capacity: at([200, 1_900]),
    meanMv: 1_200,
    voltage: volts(1_000, 1_200, 1_400),
    resistanceMilliohm: { least: 30, most: 60 },
    selfDischarge: monthly(125_000, 125_000),
    sources: [
      recalled('capacity'),
      read('voltage', 'Panasonic Ni-MH handbook, 2005: nominal 1.2 V, rated to 1.0 V'),
      read('resistance', 'Panasonic Ni-MH handbook, 2005: about 30 mΩ charged'),
      nimhLoss,
    ],
  },
  {
    name: 'nimh-aaa',
    about: 'a nickel-metal hydride AAA cell',
    isRecharged: true,
    capacity: at([140, 700]),
    meanMv: 1_200,
    voltage: volts(1_000, 1_200, 1_400),
    resistanceMilliohm: { least: 30, most: 60 },
    selfDischarge: monthly(125_000, 125_000),
    sources: [
      read('capacity', 'Panasonic Ni-MH handbook, 2005: 720 mAh on average, 700 at least'),
      read('voltage', 'Panasonic Ni-MH handbook, 2005: nominal 1.2 V, rated to 1.0 V'),
      read('resistance', 'Panasonic Ni-MH handbook, 2005: 30 mΩ charged'),
      nimhLoss,
    ],
  },
  {
    name: 'li-ion-18650',
    about: 'a lithium-ion 18650 cell',
    isRecharged: true,
    capacity: at([500, 2_500]),
    meanMv: 3_650,
    voltage: liIonVolts,
    resistanceMilliohm: liIonResistance,
    selfDischarge: monthly(50_000, 20_000, 30_000),
    sources: [recalled('capacity'), ...liIonSources],
  },
  {
    name: 'li-ion-pouch',
    about: 'a lithium-ion pouch cell',
    isRecharged: true,
    capacity: [],
    meanMv: 3_650,
    voltage: liIonVolts,
    resistanceMilliohm: liIonResistance,
    selfDischarge: monthly(50_000, 20_000, 30_000),
    sources: liIonSources,
  },
  {
    name: 'lifepo4-18650',
    about: 'a lithium iron phosphate 18650 cell',
    isRecharged: true,
    capacity: at([500, 2_000]),
    meanMv: 3_200,
    voltage: phosphateVolts,
    resistanceMilliohm: liIonResistance,
    selfDischarge: monthly(50_000, 20_000),
    sources: [
      read('capacity', 'BPX example parameter set, About:Energy, 2022: 2 Ah'),
      ...phosphateSources,
    ],
  },
  {
    name: 'lifepo4-pouch',
    about: 'a lithium iron phosphate pouch cell',
    isRecharged: true,
    capacity: [],
    meanMv: 3_200,
    voltage: phosphateVolts,
    resistanceMilliohm: liIonResistance,
    selfDischarge: monthly(50_000, 20_000),
    sources: phosphateSources,
  },
  {
    name: 'lithium-coin',
    about: 'a lithium manganese dioxide coin cell, 3 V',
    isRecharged: false,
    capacity: [],
    meanMv: 2_900,
    // Linear between these points, the average of three makers' data sheets.
    voltage: (
      [
        [0, 2_000],
        [10, 2_400],
        [20, 2_500],
        [30, 2_600],
        [40, 2_700],
        [60, 2_800],
        [80, 2_900],
        [100, 3_000],
      ] as const
    ).map(([percent, voltageMv]) => ({ leftPpm: percent * 10_000, voltageMv })),
    resistanceMilliohm: { least: 18_000, most: 30_000 },
    selfDischarge: aYear(1.5),
    sources: [
      read('voltage', 'Silicon Labs cr2032.c, 2015, average of three makers'),
      read(
        'resistance',
        'Duracell CR2032 data sheet, quoted: 18 to 20 Ω, 30 Ω when three quarters are drawn',
      ),
      manganeseLoss,
    ],
  },
  {
    name: 'lithium-2-3a',
    about: 'a lithium manganese dioxide 2/3 A cell, 3 V',
    isRecharged: false,
    capacity: at([30, 1_500]),
    meanMv: 2_900,
    voltage: volts(2_000, 2_900, 3_200),
    resistanceMilliohm: { least: 300, most: 1_000 },
    selfDischarge: aYear(1.5),
    sources: [
      recalled('capacity', "makers' data sheets: about 1500 mAh at 100 Ω to 2.0 V"),
      recalled('voltage'),
      { of: 'resistance', basis: 'common practice', source: 'no published number found' },
      manganeseLoss,
    ],
  },
];

export function cellNamed(name: string): Cell | null {
  return cells.find((cell) => cell.name === name) ?? null;
}

/** The voltage of a fresh cell at rest. */
export function freshMv(name: CellName): number {
  return cellNamed(name)?.voltage.at(-1)?.voltageMv ?? 0;
}

/** Whether the owner has to say how much a cell of this kind holds. */
export function needsCapacity(name: CellName): boolean {
  return cellNamed(name)?.capacity.length === 0;
}

/**
 * What a cell holds at a constant current: straight lines between the published points over the logarithm of the current;
 * beyond them the nearest. Null: the owner says.
 */
export function cellCapacityNah({ capacity }: Cell, currentNa: number): number | null {
  let below = capacity[0];
  for (const point of capacity) {
    if (point.currentNa >= currentNa) {
      if (below === undefined || below === point) return point.capacityNah;
      const span = Math.log(point.currentNa / below.currentNa);
      const part = Math.log(currentNa / below.currentNa) / span;
      return Math.round(below.capacityNah + part * (point.capacityNah - below.capacityNah));
    }
    below = point;
  }
  return below?.capacityNah ?? null;
}

/**
 * What cold leaves of a cell: a rule for any of them, since no published numbers were found for each. 100 % at 27 °C and
 * 50 % at -18 °C (Battery University BU-502, read); the line between and beyond is ours.
 */
export const coldRule = [
  { celsius: -40, sharePpm: 256_000 },
  { celsius: -18, sharePpm: 500_000 },
  { celsius: 27, sharePpm: million },
] as const;

/** What a cell holds may be this much less than its data sheet says (common practice, no source). */
export const cellTolerancePpm = 100_000;
