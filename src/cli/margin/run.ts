// `dozewatch margin` at work.

import { marginOf } from '../../margin/index.js';
import type { Style } from '../command.js';
import type { ExitStatus, Io } from '../host/io.js';
import { paintFor } from '../layout/paint.js';
import { tell } from '../layout/tell.js';
import { marginInput } from './input.js';
import type { MarginOptions } from './options.js';
import { marginJson, marginReport } from './report.js';

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
