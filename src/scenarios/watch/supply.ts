// The `supply:` section as settings. A preset fills in what is not given, written as it would stand in the file, so that one
// definition reads both.
import {
  type Given,
  linearAt,
  presetNumbers,
  type SupplySettings,
  settings,
} from '../../model/index.js';
import { filled, givenField } from './definition.js';

type GivenSupply = Given<typeof settings.supply>;

const presetDefinition = givenField(settings.supply);

export function supplySettings(given: GivenSupply): SupplySettings {
  const { preset } = given;
  const own = withoutAbsent(given);
  const { contactBias, voltageCurve, ...all } = filled(settings.supply, {
    ...given,
    ...(preset === undefined ? {} : ofPreset(preset)),
    ...own,
  });
  return {
    capacityNah: all.capacity,
    usablePpm: all.usable,
    derating: deratingOf(all),
    selfDischarge: all.selfDischarge,
    sleepNa: all.sleepCurrent ?? 0,
    boot: all.boot ?? null,
    blink: all.blink ?? null,
    connect: all.connect ?? null,
    failedAttempt: all.failedAttempt ?? null,
    hold: all.hold ?? null,
    heartbeat: all.heartbeat ?? null,
    contactBias:
      contactBias === undefined
        ? null
        : {
            resistanceOhm: contactBias.resistance,
            voltageMv: contactBias.voltage,
            powered: contactBias.powered,
          },
    voltageCurve:
      voltageCurve
        ?.map(({ left, voltage }) => ({ leftPpm: left, voltageMv: voltage }))
        .sort((a, b) => a.leftPpm - b.leftPpm) ?? null,
    preset: preset === undefined ? null : { name: preset, filled: filledBy(preset, own) },
  };
}

/** What the owner gave, without the keys that were left out. */
function withoutAbsent(given: Partial<GivenSupply>): Partial<GivenSupply> {
  return Object.fromEntries(Object.entries(given).filter(([, value]) => value !== undefined));
}

function filledBy(preset: string, own: Partial<GivenSupply>): readonly string[] {
  return presetNumbers(preset).flatMap(({ key }) => (Object.hasOwn(own, key) ? [] : [key]));
}

/** A preset's numbers, read as if they stood in the file. Its capacity is a stand-in: the owner gives one. */
function ofPreset(name: string): Partial<GivenSupply> {
  const written = presetNumbers(name).map(({ key, value }) => [key, value] as const);
  const numbers = { capacity: '1mAh', ...Object.fromEntries(written) };
  return withoutAbsent(presetDefinition.parse(numbers));
}

function deratingOf({
  celsius,
  derating: points,
}: Pick<GivenSupply, 'celsius' | 'derating'>): SupplySettings['derating'] {
  if (celsius === undefined || points === undefined || points.length === 0) return null;
  const curve = points
    .map((point) => ({ celsius: point.celsius, ppm: point.share }))
    .sort((a, b) => a.celsius - b.celsius);
  return { celsius, sharePpm: linearAt(curve, celsius) };
}
