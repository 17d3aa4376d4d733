// What a regulator makes of the currents of the device: those that the cells give.
import { cellNamed } from './cells.js';
import type { ContactBias, Regulator, SupplySettings } from './supply.js';

const million = 1_000_000;

/** Input current = output voltage × output current ÷ (input voltage × efficiency); a linear one passes it on. */
export function regulatorFactor({ efficiencyPpm, outputMv }: Regulator, inputMv: number): number {
  if (efficiencyPpm === null) return 1;
  return (outputMv * million) / (inputMv * Math.max(1, efficiencyPpm));
}

/** What flows through a closed contact: V over R, to the nearest whole nA. 3.3 V over 45 kΩ is 73,333 nA. */
export function biasNa({ voltageMv, resistanceOhm }: ContactBias): number {
  return Math.round((voltageMv * 1_000_000) / resistanceOhm);
}

/** What the cells give for it: a pull-up hangs on the side of the device, as everything else that the device draws. */
export function biasFromCellsNa(bias: ContactBias, { cells }: SupplySettings): number {
  const na = biasNa(bias);
  if (cells?.regulator === undefined || cells.regulator === null) return na;
  const inputMv = (cellNamed(cells.name)?.meanMv ?? 0) * cells.series;
  const { efficiencyPpm, outputMv } = cells.regulator;
  // Cells of a file are always of the list; without a voltage there is nothing to convert from.
  if (efficiencyPpm === null || inputMv === 0) return na;
  // In whole numbers, so that a half is rounded up on every machine.
  const given = 2n * BigInt(outputMv) * BigInt(million) * BigInt(na);
  const taken = BigInt(inputMv) * BigInt(Math.max(1, efficiencyPpm));
  return Number((given + taken) / (2n * taken));
}
