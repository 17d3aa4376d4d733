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

export const supplyPresetNames = ['bare-radio-module', 'maker-board', 'tuned-board'] as const;
export type SupplyPresetName = (typeof supplyPresetNames)[number];

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
        source: 'a data sheet of a Wi-Fi microcontroller: hibernate',
      },
      {
        key: 'boot',
        value: { current: '30mA' },
        basis: 'common practice',
        source: 'processor at work, radio off',
      },
      { key: 'connect', value: { charge: '13.3mC' }, basis: 'read', source: tlsSend },
      {
        key: 'hold',
        value: { current: '59mA' },
        basis: 'recalled',
        source: 'the same data sheet: receiving',
      },
    ],
  },
  {
    name: 'maker-board',
    about: 'a board with charger, regulator and power lamp, as it comes',
    numbers: [
      usable,
      selfDischarge,
      {
        key: 'sleepCurrent',
        value: '500uA',
        basis: 'common practice',
        source:
          'reckoned back from 400 mAh that last a little over three weeks at checks 3 min apart',
      },
      {
        key: 'boot',
        value: { current: '45mA' },
        basis: 'common practice',
        source: 'processor at work, radio off',
      },
      {
        key: 'blink',
        value: { current: '5mA', time: '200ms' },
        basis: 'common practice',
        source: 'one small lamp',
      },
      {
        key: 'connect',
        value: { current: '110mA' },
        basis: 'common practice',
        source: 'Wi-Fi, averaged over joining and sending',
      },
      {
        key: 'hold',
        value: { current: '48mA' },
        basis: 'common practice',
        source: 'awake with the radio off: 400 mAh in about 8 h',
      },
    ],
  },
  {
    name: 'tuned-board',
    about: 'the same kind of board with a frugal regulator and its lamps cut off',
    numbers: [
      usable,
      selfDischarge,
      {
        key: 'sleepCurrent',
        value: '20uA',
        basis: 'common practice',
        source: 'frugal regulator, lamps cut off',
      },
      {
        key: 'boot',
        value: { current: '30mA' },
        basis: 'common practice',
        source: 'processor slowed down, radio off',
      },
      { key: 'connect', value: { charge: '13.3mC' }, basis: 'read', source: tlsSend },
      {
        key: 'hold',
        value: { current: '25mA' },
        basis: 'common practice',
        source: 'awake, slowed down, radio off',
      },
    ],
  },
];

/** The numbers of a preset, or none for an unknown name. */
export function presetNumbers(name: string): readonly PresetNumber[] {
  return supplyPresets.find((preset) => preset.name === name)?.numbers ?? [];
}
