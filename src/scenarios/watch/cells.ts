// Cells as they are bought, as the battery that the rest of dozewatch reckons with: the currents of the device become those
// of the cells, and the charge that is left when a send fails first is the last that is usable.
import { greatestOf, invariant } from '../../base/index.js';
import {
  type ActivityDraw,
  type BoughtCells,
  type Cell,
  type CellName,
  cellCapacityNah,
  cellNamed,
  cellTolerancePpm,
  coldRule,
  leastLeftPpmAt,
  linearAt,
  type Regulator,
  regulatorFactor,
  type SelfDischarge,
  type SupplySettings,
  type VoltagePoint,
} from '../../model/index.js';

const million = 1_000_000;
/** What a linear regulator keeps for itself: 178 mV at 250 mA (a frugal one, recalled); the common old type keeps over 1 V. */
const dropoutMv = 200;

export interface CellsGiven {
  readonly name: CellName;
  readonly series: number;
  readonly parallel: number;
  /** Of one cell, as the owner gives it; null: as is usual for the kind. */
  readonly capacityNah: number | null;
  readonly regulator: Regulator | null;
  readonly celsius: number | null;
  /** As the owner gives it; null: as is usual for the kind. */
  readonly selfDischarge: SelfDischarge | null;
}

/** What cells give in place of the battery's own keys. */
export function suppliedBy(given: CellsGiven, device: SupplySettings): SupplySettings {
  const cell = cellNamed(given.name);
  invariant(cell !== null, 'a cell of the list has its numbers', { name: given.name });
  const drawn = throughRegulator(device, given.regulator, cell.meanMv * given.series);
  const loads = [drawn.boot, drawn.connect, drawn.failedAttempt, drawn.hold, drawn.heartbeat];
  const heaviestNa = greatestOf([drawn.sleepNa, ...loads.map(currentOf)]) / given.parallel;
  const own = given.capacityNah;
  const most = (own ?? cellCapacityNah(cell, 0) ?? 0) * given.parallel;
  const held = (own ?? cellCapacityNah(cell, heaviestNa) ?? 0) * given.parallel;
  const least = Math.round((held * (million - cellTolerancePpm)) / million);
  const ofCells = cell.voltage.map(({ leftPpm, voltageMv }) => ({
    leftPpm,
    voltageMv: voltageMv * given.series,
  }));
  const voltageCurve = device.voltageCurve ?? ofCells;
  const sag = sagOf(cell, given, { currentNa: currentOf(drawn.connect), voltageCurve });
  const cells: BoughtCells = {
    name: cell.name,
    about: cell.about,
    isRecharged: cell.isRecharged,
    series: given.series,
    parallel: given.parallel,
    regulator: given.regulator,
    capacityNah: { least, most },
    sag,
    sources: sourcesOf(cell, given),
  };
  return {
    ...drawn,
    capacityNah: Math.max(1, Math.round(held)),
    usablePpm: Math.max(1, million - (sag?.failsAtPpm ?? 0)),
    selfDischarge: given.selfDischarge ?? cell.selfDischarge,
    derating: device.derating ?? coldOf(given.celsius),
    voltageCurve,
    cells,
  };
}

/** Of each number of the cell; those that the owner gives come first. */
function sourcesOf({ sources }: Cell, { capacityNah, selfDischarge }: CellsGiven): string[] {
  const own = [
    ...(capacityNah === null ? [] : ['capacity']),
    ...(selfDischarge === null ? [] : ['self-discharge']),
  ];
  return [
    ...(own.length === 0 ? [] : [`${own.join(' and ')}: the watch file`]),
    ...sources
      .filter(({ of }) => !own.includes(of))
      .map(({ of, basis, source }) => `${of}: ${source} (${basis})`),
  ];
}

/** The rule for any cell; at 27 °C and above nothing is lost. */
function coldOf(celsius: number | null): SupplySettings['derating'] {
  if (celsius === null) return null;
  const curve = coldRule.map((point) => ({ celsius: point.celsius, ppm: point.sharePpm }));
  return { celsius, sharePpm: linearAt(curve, celsius) };
}

function currentOf(draw: ActivityDraw | null): number {
  return draw?.kind === 'current' ? draw.currentNa : 0;
}

/** The pull-up of the contact is converted where it is priced: the file gives a resistance, not a current. */
function throughRegulator(
  device: SupplySettings,
  regulator: Regulator | null,
  inputMv: number,
): SupplySettings {
  if (regulator === null) return device;
  const { quiescentNa } = regulator;
  const factor = regulatorFactor(regulator, inputMv);
  const drawn = (draw: ActivityDraw | null): ActivityDraw | null => {
    if (draw === null) return null;
    if (draw.kind === 'charge') return { ...draw, chargePc: Math.round(draw.chargePc * factor) };
    return { ...draw, currentNa: Math.round(draw.currentNa * factor) + quiescentNa };
  };
  return {
    ...device,
    sleepNa: Math.round(device.sleepNa * factor) + quiescentNa,
    boot: drawn(device.boot),
    blink: drawn(device.blink),
    connect: drawn(device.connect),
    failedAttempt: drawn(device.failedAttempt),
    hold: drawn(device.hold),
    heartbeat: drawn(device.heartbeat),
  };
}

/** Ohm's law over the cells: while the device sends, they give their voltage at rest less current × resistance. */
function sagOf(
  cell: Cell,
  { series, parallel, regulator }: CellsGiven,
  {
    currentNa,
    voltageCurve,
  }: { readonly currentNa: number; readonly voltageCurve: readonly VoltagePoint[] },
): BoughtCells['sag'] {
  if (currentNa === 0) return null;
  const mv = (milliohm: number): number =>
    Math.ceil((currentNa * milliohm * series) / parallel / 1e9);
  const { least, most } = cell.resistanceMilliohm;
  const endMv = (cell.voltage[0]?.voltageMv ?? 0) * series;
  const keepsMv = regulator?.kind === 'linear' ? dropoutMv : 0;
  const forOutputMv =
    regulator === null || regulator.kind === 'boost' ? 0 : regulator.outputMv + keepsMv;
  const neededMv = Math.max(endMv, forOutputMv);
  return {
    currentNa,
    leastMv: mv(least),
    mostMv: mv(most),
    neededMv,
    neededBy: forOutputMv > endMv ? 'regulator' : 'cells',
    keepsMv,
    failsAtPpm: leastLeftPpmAt(voltageCurve, neededMv + mv(most)),
  };
}
