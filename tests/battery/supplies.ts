// Supplies for tests, read as a watch file gives them.
import { type SupplySettings } from '../../src/model/index.js';
import { parseWatchFile, type WatchFile } from '../../src/scenarios/index.js';

/** A watch file with this `supply:` and perhaps other sections. */
export function watchFileWith(supply: string, more = ''): WatchFile {
  const result = parseWatchFile(`supply: ${supply}\n${more}`, 'watch.yaml');
  if (!result.ok)
    throw new Error(result.errors.map(({ code, message }) => `${code} ${message}`).join());
  return result.value;
}

export function supplyWith(supply: string): SupplySettings {
  const { supply: read } = watchFileWith(supply);
  if (read === null) throw new Error('there is a supply');
  return read;
}

/** The codes of what is wrong with a supply. */
export function faultsOf(supply: string): string[] {
  const result = parseWatchFile(`supply: ${supply}\n`, 'watch.yaml');
  return result.ok ? [] : result.errors.map(({ code }) => code);
}

/** A battery that nothing drains. */
export function undrained(capacityNah: number): SupplySettings {
  return {
    capacityNah,
    usablePpm: 1_000_000,
    derating: null,
    selfDischarge: { firstDayPpm: 0, perMonthPpm: 0, protectionPerMonthPpm: 0 },
    sleepNa: 0,
    boot: null,
    blink: null,
    connect: null,
    failedAttempt: null,
    hold: null,
    heartbeat: null,
    contactBias: null,
    voltageCurve: null,
    preset: null,
  };
}
