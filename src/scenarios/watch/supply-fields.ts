// The `supply:` section: the battery, and what each activity takes from it. A preset fills in what is not given,
// written as it would stand in the file, so that one definition reads both.
import * as z from 'zod';
import {
  linearAt,
  presetNumbers,
  renamedPresets,
  type SupplySettings,
  supplyPresetNames,
  type VoltagePoint,
} from '../../model/index.js';
import { capacityRange } from '../quantity/amounts.js';
import {
  chargeMeasure,
  resistanceMeasure,
  shareMeasure,
  voltageMeasure,
} from '../quantity/measure.js';
import { list, measureField, numberField, section, wordField } from '../text/fields.js';
import { activityField, currentField } from './activity-field.js';

const share = { least: 0, most: 1_000_000, unit: '%' } as const;
const celsiusRange = { least: -100, most: 200, fraction: true } as const;

function shareField(description: string) {
  return measureField(description, shareMeasure, share);
}

const selfDischarge = z.union([
  shareField('The share of the capacity lost in every 30 days without use.').transform(
    (perMonthPpm) => ({ firstDayPpm: 0, perMonthPpm, protectionPerMonthPpm: 0 }),
  ),
  z
    .strictObject({
      firstDay: shareField('Lost once, within a day of charging.').prefault('0%'),
      perMonth: shareField('Lost in every 30 days.').prefault('0%'),
      protectionPerMonth: shareField("The protection circuit's part of it.").prefault('0%'),
    })
    .meta({ description: 'What goes without any use, as shares of the capacity.' })
    .transform(({ firstDay, perMonth, protectionPerMonth }) => ({
      firstDayPpm: firstDay,
      perMonthPpm: perMonth,
      protectionPerMonthPpm: protectionPerMonth,
    })),
]);

const contactBias = z
  .strictObject({
    resistance: measureField('The pull-up resistor.', resistanceMeasure, {
      least: 100,
      most: 1_000_000_000,
      unit: 'kOhm',
    }),
    voltage: measureField('What it pulls up to.', voltageMeasure, {
      least: 100,
      most: 60_000,
      unit: 'V',
    }).prefault('3.3V'),
    powered: wordField('All the time, or from each wake to its check.', [
      'always',
      'check-only',
    ]).prefault('always'),
  })
  .meta({ description: 'A pull-up that conducts while the contact is closed (door shut).' })
  .transform(({ resistance, voltage, powered }) => ({
    resistanceOhm: resistance,
    voltageMv: voltage,
    powered,
  }));

const derating = list(
  'What cold leaves of the capacity: points of a curve, straight lines in between.',
  z.strictObject({
    celsius: numberField('Temperature in °C.', celsiusRange),
    share: shareField('What it leaves of the capacity.'),
  }),
  1_000,
);

const voltageCurve = list(
  'The discharge curve: points, straight lines in between.',
  z.strictObject({
    left: shareField('What is left of a full charge.'),
    voltage: measureField('The voltage then.', voltageMeasure, {
      least: 100,
      most: 60_000,
      unit: 'V',
    }),
  }),
  1_000,
);

const fields = section('The battery: `battery` reads it, and `replay` for the life on a charge.', {
  preset: wordField(
    'Fills in what is not given here.',
    supplyPresetNames,
    renamedPresets,
  ).optional(),
  capacity: measureField('What a full charge holds.', chargeMeasure, {
    ...capacityRange,
    unit: 'mAh',
  }),
  usable: measureField('The share of it that the device can use. Default: 100%.', shareMeasure, {
    ...share,
    least: 1,
  }).optional(),
  selfDischarge: selfDischarge.optional(),
  celsius: numberField('How warm the battery is; needs derating.', celsiusRange).optional(),
  derating: derating.optional(),
  sleepCurrent: currentField(
    'What it draws asleep. Without a preset, it has to be given.',
  ).optional(),
  boot: activityField('From each wake to its check.').optional(),
  blink: activityField(
    'The lamp, at each check that reads open. A current needs a time.',
  ).optional(),
  connect: activityField('An alert that is sent.').optional(),
  failedAttempt: activityField('An attempt that fails. Default: like connect.').optional(),
  hold: activityField(
    'Awake after an alert, doing nothing until reset: a current. Default: like boot.',
  ).optional(),
  heartbeat: activityField("An 'alive' message. Default: like connect.").optional(),
  contactBias: contactBias.optional(),
  voltageCurve: voltageCurve.optional(),
});

type Given = z.output<typeof fields>;

export const supplySection = fields.transform((given, context): SupplySettings => {
  for (const { path, says, hint, code } of faultsIn(given)) {
    context.addIssue({ code: 'custom', path, message: says, params: { code, hint } });
  }
  const all = given.preset === undefined ? given : { ...ofPreset(given.preset), ...isGiven(given) };
  const connect = all.connect ?? null;
  return {
    capacityNah: given.capacity,
    usablePpm: all.usable ?? 1_000_000,
    derating: deratingOf(given),
    selfDischarge: all.selfDischarge ?? noSelfDischarge,
    sleepNa: all.sleepCurrent ?? 0,
    boot: all.boot ?? null,
    blink: all.blink ?? null,
    connect,
    failedAttempt: all.failedAttempt ?? connect,
    hold: all.hold ?? null,
    heartbeat: all.heartbeat ?? connect,
    contactBias: all.contactBias ?? null,
    voltageCurve: all.voltageCurve === undefined ? null : ascending(all.voltageCurve),
    preset: given.preset === undefined ? null : presetUse(given.preset, given),
  };
});

const noSelfDischarge = { firstDayPpm: 0, perMonthPpm: 0, protectionPerMonthPpm: 0 };

/** What the owner gave, without the keys that were left out. */
function isGiven(given: Given): Partial<Given> {
  return Object.fromEntries(Object.entries(given).filter(([, value]) => value !== undefined));
}

function presetUse(name: string, given: Given) {
  const keys = new Set(Object.keys(isGiven(given)));
  const filled = presetNumbers(name).flatMap(({ key }) => (keys.has(key) ? [] : [key]));
  return { name, filled };
}

/** A preset's numbers, read as if they stood in the file. Its capacity is a stand-in: the owner gives one. */
function ofPreset(name: string): Partial<Given> {
  const written = presetNumbers(name).map(({ key, value }) => [key, value] as const);
  return isGiven(fields.parse({ capacity: '1mAh', ...Object.fromEntries(written) }));
}

interface Fault {
  readonly path: string[];
  readonly code: string;
  readonly says: string;
  readonly hint?: string;
}

function faultsIn(given: Given): Fault[] {
  const { preset, sleepCurrent, blink, hold, celsius, derating: cold, voltageCurve: curve } = given;
  const faults: Fault[] = [];
  const missing = (path: string[], hint: string): void => {
    faults.push({ path, code: 'missing-key', says: 'is missing', hint });
  };
  if (preset === undefined && sleepCurrent === undefined) {
    const names = supplyPresetNames.join(', ');
    missing(['sleepCurrent'], `give it as measured, or name a preset: ${names}`);
  }
  if (blink?.kind === 'current' && blink.timeMs === null) {
    missing(['blink', 'time'], 'a blink has no length of its own: time: 200ms');
  }
  if (hold !== undefined && (hold.kind === 'charge' || hold.timeMs !== null)) {
    const says = 'is not a current alone';
    const hint = 'it goes on until a reset: hold: { current: 31mA }';
    faults.push({ path: ['hold'], code: 'hold-not-current', says, hint });
  }
  if (celsius !== undefined && (cold === undefined || cold.length === 0)) {
    missing(['derating'], 'a temperature needs a curve: derating: [{ celsius: 20, share: 100% }]');
  }
  if (celsius === undefined && cold !== undefined) missing(['celsius'], 'how warm is the battery?');
  if (cold !== undefined && isTwice(cold.map((point) => point.celsius))) {
    const says = 'names a temperature twice';
    faults.push({ path: ['derating'], code: 'temperature-twice', says });
  }
  if (curve !== undefined && !rises(ascending(curve))) {
    const says = 'does not rise with what is left';
    const hint = 'give two points or more, each of them at another charge';
    faults.push({ path: ['voltageCurve'], code: 'curve-not-rising', says, hint });
  }
  return faults;
}

function isTwice(values: readonly number[]): boolean {
  return new Set(values).size < values.length;
}

function ascending(
  curve: readonly { readonly left: number; readonly voltage: number }[],
): readonly VoltagePoint[] {
  return curve
    .map(({ left, voltage }) => ({ leftPpm: left, voltageMv: voltage }))
    .sort((a, b) => a.leftPpm - b.leftPpm);
}

function rises(curve: readonly VoltagePoint[]): boolean {
  return (
    curve.length > 1 &&
    !isTwice(curve.map(({ leftPpm }) => leftPpm)) &&
    curve.every(({ voltageMv }, index) => voltageMv >= (curve[index - 1]?.voltageMv ?? 0))
  );
}

function deratingOf({ celsius, derating: points }: Given): SupplySettings['derating'] {
  if (celsius === undefined || points === undefined || points.length === 0) return null;
  const curve = points
    .map((point) => ({ celsius: point.celsius, ppm: point.share }))
    .sort((a, b) => a.celsius - b.celsius);
  return { celsius, sharePpm: linearAt(curve, celsius) };
}
