// The warning of commands that simulate years, or a quiet door, with a clock whose error depends on the temperature.
import type { Diagnostic } from '../../base/index.js';
import { clockErrorsOf, roomCelsius } from '../../model/index.js';
import type { LoadedWatch } from './load-watch.js';

/** Empty if the clock error is the same at all temperatures. */
export function roomTemperatureNotes({ watchFile, name }: LoadedWatch): readonly Diagnostic[] {
  const { clockError } = watchFile.timing;
  const { least, most } = clockErrorsOf(clockError);
  if (clockError.kind === 'range' || least === most) return [];
  const message = `rates and lives are computed with the clock at ${String(roomCelsius)} °C; bounds hold at every temperature of its curve`;
  const source = { file: name ?? 'the defaults' };
  return [{ code: 'clock-at-room-temperature', severity: 'warning', source, message }];
}
