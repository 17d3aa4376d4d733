// `--where` beside two logs: it chooses rows of each log that has the column. The log of one door has no column of devices, and
// that of a receiver none of sensors.
import { deviceLogColumns } from '../../scenarios/index.js';
import { conditionsOf } from '../arguments/repeated.js';
import type { Io } from '../host/io.js';
import { readText } from '../host/read-text.js';
import { InputProblem } from '../problem.js';

export interface WhereOfTwo {
  /** Of columns that the device log has. */
  readonly device: readonly string[];
  readonly others: readonly string[];
}

/** @param deviceLog undefined: none, so nothing is chosen in it. @throws InputProblem for a condition that is not one. */
export async function whereOfTwo(
  deviceLog: string | undefined,
  options: {
    readonly where?: readonly string[] | undefined;
    readonly linePattern?: string | undefined;
  },
  io: Io,
): Promise<WhereOfTwo> {
  const { where, linePattern } = options;
  if (where === undefined) return { device: [], others: [] };
  if (deviceLog === undefined || linePattern !== undefined) return { device: [], others: where };
  if (deviceLog === '-') return { device: where, others: [] };
  const columns = deviceLogColumns(await readText(deviceLog, io));
  const isOfDevice = conditionsOf(where).map(({ column }) =>
    columns.some((name) => name.toLowerCase() === column.toLowerCase()),
  );
  return {
    device: where.filter((_, index) => isOfDevice[index] === true),
    others: where.filter((_, index) => isOfDevice[index] !== true),
  };
}

/** The door log with all conditions, or without those of columns that only the device log has. */
export async function forDoorLog<Loaded>(
  { device, others }: WhereOfTwo,
  load: (where: readonly string[] | undefined) => Promise<Loaded>,
): Promise<Loaded> {
  const own = others.length === 0 ? undefined : others;
  if (device.length === 0) return load(own);
  try {
    return await load([...device, ...others]);
  } catch (error) {
    const isUnknown =
      error instanceof InputProblem &&
      error.diagnostics.every(({ code }) => code === 'column-unknown');
    if (!isUnknown) throw error;
    return load(own);
  }
}
