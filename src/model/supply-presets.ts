// Supplies by generic names, for owners who have measured nothing yet. Each number says how sure it is, and is
// written as it would stand in a watch file.

/** How sure a number is: read in its source, remembered from it, or what people of the trade reckon with. */
export type Basis = 'read' | 'recalled' | 'common practice';

export interface PresetNumber {
  /** The key under `supply:`. */
  readonly key: string;
  readonly value: string | Readonly<Record<string, string>>;
  readonly basis: Basis;
  readonly source: string;
}

export interface SupplyPreset {
  readonly name: SupplyPresetName;
  readonly about: string;
  readonly numbers: readonly PresetNumber[];
}

export const supplyPresetNames = ['bare-radio-module', 'bare-board', 'tuned-board'] as const;
export type SupplyPresetName = (typeof supplyPresetNames)[number];

/** Names that presets had before: a file that has one learns the new one. */
export const renamedPresets: Readonly<Record<string, SupplyPresetName>> = {
  'maker-board': 'bare-board',
};

/** A battery for first files, examples and hints: invented. */
export const exampleSupply = { preset: 'bare-board', capacity: '1200mAh' } as const;

/** A life of that battery that somebody might have measured: the preset alone would last a little longer. */
export const exampleLife = `${exampleSupply.capacity} lasted 150d`;

const usable: PresetNumber = {
  key: 'usable',
  value: '90%',
  basis: 'common practice',
  source: 'the rest is below the voltage at which a regulator gives up',
};

const selfDischarge: PresetNumber = {
  key: 'selfDischarge',
  value: { firstDay: '5%', perMonth: '2%', protectionPerMonth: '3%' },
  basis: 'read',
  source: 'Battery University BU-802b, lithium-ion, upper end of 1 to 2 % a month',
};

const tlsSend = 'TI SWRA659A: one wake that sends with TCP and TLS';

/** Its table for a station has 31.12 mA with only the radio asleep, 22.65 mA with the clock scaled as well, and 5 µA in deep sleep. */
const wifiGuide = "a Wi-Fi chip maker's guide to low power in Wi-Fi scenarios";

const awake = (key: 'boot' | 'hold'): PresetNumber => ({
  key,
  value: { current: '31.12mA' },
  basis: 'read',
  source: `${wifiGuide}: processor at work, radio asleep`,
});

const awakeSlowed = (key: 'boot' | 'hold'): PresetNumber => ({
  key,
  value: { current: '22.65mA' },
  basis: 'read',
  source: `${wifiGuide}: processor slowed down, radio asleep`,
});

export const supplyPresets: readonly SupplyPreset[] = [
  {
    name: 'bare-radio-module',
    about: 'a radio microcontroller alone on its cell: no regulator, no charger, no lamp',
    numbers: [
      usable,
      selfDischarge,
      {
        key: 'sleepCurrent',
        value: '4.5uA',
        basis: 'recalled',
        source: 'data sheet of the TI CC3220: hibernate',
      },
      awake('boot'),
      { key: 'connect', value: { charge: '13.3mC' }, basis: 'read', source: tlsSend },
      {
        key: 'hold',
        value: { current: '59mA' },
        basis: 'recalled',
        source: 'data sheet of the TI CC3220: receiving',
      },
    ],
  },
  {
    name: 'bare-board',
    about:
      'a board with radio and regulator, as it comes, without a lamp; it joins the network again for each message',
    numbers: [
      usable,
      selfDischarge,
      {
        key: 'sleepCurrent',
        value: '70uA',
        basis: 'read',
        source: `65 µA of a regulator board without load at 3 V (published bench table of one), and 5 µA of the chip in deep sleep (${wifiGuide})`,
      },
      awake('boot'),
      {
        key: 'connect',
        value: { current: '59mA' },
        basis: 'recalled',
        source: 'data sheet of the TI CC3220: receiving, as a device mostly does while it joins',
      },
      awake('hold'),
    ],
  },
  {
    name: 'tuned-board',
    about: 'the same kind of board with a frugal regulator and a slower processor',
    numbers: [
      usable,
      selfDischarge,
      {
        key: 'sleepCurrent',
        value: '7.3uA',
        basis: 'read',
        source: `2.3 µA of a frugal regulator (TI TPS62801), and 5 µA of the chip in deep sleep (${wifiGuide})`,
      },
      awakeSlowed('boot'),
      { key: 'connect', value: { charge: '13.3mC' }, basis: 'read', source: tlsSend },
      awakeSlowed('hold'),
    ],
  },
];

/** The numbers of a preset, or none for an unknown name. */
export function presetNumbers(name: string): readonly PresetNumber[] {
  return supplyPresets.find((preset) => preset.name === name)?.numbers ?? [];
}
