// `dozewatch margin` at work.
import { marginOf } from '../../margin/index.js';
import type { Style } from '../commands/command.js';
import type { ExitStatus, Io } from '../host/io.js';
import { marginJson, marginReport } from '../present/margin-report.js';
import { type MarginOptions, marginInput } from './margin-input.js';
import { paintFor } from './paint-for.js';
import { tell } from './tell.js';

/** @throws InputProblem for options and files that cannot be read or believed. */
export async function margin(
  options: MarginOptions,
  on: { readonly io: Io; readonly style: Style },
): Promise<ExitStatus> {
  const { io } = on;
  const input = await marginInput(options, io);
  const cases = input.warmings.map((warming) => ({
    warming,
    margin: marginOf({ ...input, tauMs: warming.tauMs }),
  }));
  const answer = { ...input, cases };
  if (options.json === true) await io.stdout.write(marginJson(answer));
  else {
    const paint = paintFor('stdout', on);
    await tell(io.stdout, marginReport(answer, { width: io.stdout.columns, paint }));
  }
  return cases.every(({ margin: { leftMs } }) => leftMs === null || leftMs >= 0) ? 0 : 1;
}
