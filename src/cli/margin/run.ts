// `dozewatch margin` at work.

import { plain } from '../../base/index.js';
import { marginOf } from '../../margin/index.js';
import type { Style } from '../command.js';
import type { ExitStatus, Io } from '../host/io.js';
import { refuseStdout } from '../host/outputs.js';
import { refuseUnfitOutputs } from '../host/write-output.js';
import { paintFor } from '../layout/paint.js';
import { print } from '../layout/print.js';
import { pictureFormat, writePicture } from '../layout/write-picture.js';
import { marginInput } from './input.js';
import type { MarginOptions } from './options.js';
import { caseWords, isInTime, type MarginAnswer, marginJson, marginReport } from './report.js';

/** @throws InputProblem for options and files that cannot be read or believed. */
export async function margin(
  options: MarginOptions,
  on: { readonly io: Io; readonly style: Style },
): Promise<ExitStatus> {
  const { io } = on;
  await checkChart(options, io);
  const input = await marginInput(options, io);
  const cases = input.warmings.map((warming) => ({
    warming,
    margin: marginOf({ ...input, tauMs: warming.tauMs }),
  }));
  const answer = { ...input, cases };
  await drawChart(answer, options, io);
  if (options.json === true) await io.stdout.write(marginJson(answer));
  else {
    const paint = paintFor('stdout', on);
    await print(io, marginReport(answer, { width: io.stdout.columns, paint }));
    if (options.chart !== undefined) await print(io, `\nPicture: ${plain(options.chart)}\n`);
  }
  return isInTime(answer) ? 0 : 1;
}

async function checkChart({ chart, config, readings }: MarginOptions, io: Io): Promise<void> {
  if (chart === undefined) return;
  refuseStdout('--chart', chart);
  const outputs = [{ option: '--chart', file: chart }];
  await refuseUnfitOutputs(outputs, { inputs: [config, readings], io });
  pictureFormat(chart);
}

async function drawChart(
  answer: MarginAnswer,
  { chart, dark }: MarginOptions,
  io: Io,
): Promise<void> {
  if (chart === undefined) return;
  const { marginChart } = await import('../../chart/index.js');
  const cases = answer.cases.map(({ warming, margin: one }) => ({
    name: caseWords[warming.kind],
    margin: one,
  }));
  const theme = dark === true ? 'dark' : 'light';
  await writePicture(chart, marginChart({ ...answer, cases, options: { theme } }), io);
}
