// `dozewatch chart` at work.

import { plain } from '../../base/index.js';
import { sharedCommandLine } from '../../report/index.js';
import { held, verdictWords } from '../../wording/index.js';
import { checkInputs } from '../arguments/timeline-options.js';
import type { Style } from '../command.js';
import type { ExitStatus, Io } from '../host/io.js';
import { refuseStdout } from '../host/outputs.js';
import { writeDiagnostics } from '../host/write-diagnostics.js';
import { refuseUnfitOutputs } from '../host/write-output.js';
import { givenName, loadTimeline } from '../inputs/load-timeline.js';
import { loadWatch } from '../inputs/load-watch.js';
import { provedOfWatch } from '../inputs/proved-of.js';
import { nextLine, optionWords, watchWords } from '../layout/next-line.js';
import { paintFor } from '../layout/paint.js';
import { print } from '../layout/print.js';
import { replayOne } from '../replay/one.js';
import { replayTakes } from '../replay/options.js';
import { draw, drawnFormat } from './draw.js';
import type { ChartOptions } from './options.js';

/** @throws InputProblem for input that cannot be read or believed, and for a picture that cannot be written. */
export async function chart(
  input: string,
  options: ChartOptions,
  on: { readonly io: Io; readonly style: Style },
): Promise<ExitStatus> {
  const { io } = on;
  const { config, output } = options;
  checkInputs([input], options, config);
  if (options.json === true) refuseStdout('--output', output);
  const outputs = [{ option: '--output', file: output }];
  await refuseUnfitOutputs(outputs, { inputs: [input, config], io });
  drawnFormat(output, options, 'or add --svg, --png, --html or --vcd');
  const paint = paintFor('stderr', on);
  const watch = await loadWatch(config, io);
  const timeline = await loadTimeline(input, watch.watchFile, options, io);
  const warnings = [...watch.warnings, ...timeline.remarks];
  await writeDiagnostics(warnings, { io, paint });
  const replay = replayOne(timeline, watch);
  const commandLine = sharedCommandLine('chart', [input], { ...options });
  const look = { ...options, commandLine, typed: { ...options } };
  await draw(output, replay, { watch, look, io });
  const { summary } = replay.verdict;
  if (options.json === true) {
    const written = { schema: 'dozewatch/chart/1', written: [output], summary };
    await io.stdout.write(`${JSON.stringify(written, null, 2)}\n`);
  } else if (output !== '-') {
    const { watchFile } = watch;
    const proved = provedOfWatch(watch);
    const words = verdictWords({ ...replay, watchFile, proved }, paintFor('stdout', on));
    await print(io, `${plain(output)}: ${plain(givenName(timeline))}: ${words}.\n`);
    if (!held(summary)) await print(io, replayLine(input, options, watch.name));
  }
  return 0;
}

/** Options that are not about the timeline. */
const ofPictures = ['json', 'config', 'noConfig'];

function replayLine(input: string, options: ChartOptions, name: string | null): string {
  const words = [
    ...watchWords(name, { ...options }),
    ...optionWords({ ...options }, ofPictures, replayTakes),
  ];
  return nextLine('what happened, and why', ['replay', input, ...words]);
}
