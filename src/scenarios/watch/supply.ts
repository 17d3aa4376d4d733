// The `supply:` section as settings. A preset fills in what is not given, written as it would stand in the file, so that one
// definition reads both.
import {
  type CellName,
  type Given,
  linearAt,
  presetNumbers,
  type SupplySettings,
  settings,
} from '../../model/index.js';
import { type CellsGiven, suppliedBy } from './cells.js';
import { filled, givenField } from './definition.js';

type GivenSupply = Given<typeof settings.supply>;

const presetDefinition = givenField(settings.supply);

/** What a device gets where the file does not say it. */
const usualVoltageMv = 3_300;

export function supplySettings(given: GivenSupply): SupplySettings {
  const { preset } = given;
  const own = withoutAbsent(given);
  const { contactBias, voltageCurve, ...all } = filled(settings.supply, {
    ...given,
    ...(preset === undefined ? {} : ofPreset(preset)),
    ...own,
  });
  const device: SupplySettings = {
    capacityNah: all.capacity ?? 0,
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
            voltageMv: contactBias.voltage ?? given.regulator?.voltage ?? usualVoltageMv,
            powered: contactBias.powered,
          },
    voltageCurve:
      voltageCurve
        ?.map(({ left, voltage }) => ({ leftPpm: left, voltageMv: voltage }))
        .sort((a, b) => a.leftPpm - b.leftPpm) ?? null,
    preset: preset === undefined ? null : { name: preset, filled: filledBy(preset, own) },
  };
  return given.cells === undefined ? device : suppliedBy(cellsOf(given, given.cells), device);
}

function cellsOf(given: GivenSupply, name: CellName): CellsGiven {
  const { series = 1, parallel = 1, capacity = null, celsius = null, regulator } = given;
  const { selfDischarge = null } = given;
  return {
    name,
    series,
    parallel,
    capacityNah: capacity,
    celsius,
    selfDischarge,
    regulator:
      regulator === undefined
        ? null
        : {
            kind: regulator.kind,
            quiescentNa: regulator.quiescent,
            efficiencyPpm: regulator.kind === 'linear' ? null : (regulator.efficiency ?? null),
            outputMv: regulator.voltage,
          },
  };
}

/** What the owner gave, without the keys that were left out. */
function withoutAbsent(given: Partial<GivenSupply>): Partial<GivenSupply> {
  return Object.fromEntries(Object.entries(given).filter(([, value]) => value !== undefined));
}

function filledBy(preset: string, own: Partial<GivenSupply>): readonly string[] {
  // Cells say themselves what is usable and what they lose.
  const ofCells = own.cells === undefined ? [] : ['usable', 'selfDischarge'];
  return presetNumbers(preset).flatMap(({ key }) =>
    Object.hasOwn(own, key) || ofCells.includes(key) ? [] : [key],
  );
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
