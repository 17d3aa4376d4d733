// `dozewatch replay` at work: every input through the watch, then the verdicts.

import { held } from '../../wording/index.js';
import { checkInputs } from '../arguments/timeline-options.js';
import type { Style } from '../command.js';
import type { ExitStatus, Io } from '../host/io.js';
import { writeDiagnostics } from '../host/write-diagnostics.js';
import { loadTimeline } from '../inputs/load-timeline.js';
import { loadWatch } from '../inputs/load-watch.js';
import { boundsWords, nextLine } from '../layout/next-line.js';
import { paintFor } from '../layout/paint.js';
import { tell } from '../layout/tell.js';
import { type Replay, replayOne } from './one.js';
import type { ReplayOptions } from './options.js';
import { checkOutputs, tellReplays } from './tell.js';

/** @throws InputProblem for input that cannot be read or believed. */
export async function replay(
  inputs: readonly string[],
  options: ReplayOptions,
  on: { readonly io: Io; readonly style: Style },
): Promise<ExitStatus> {
  const { io } = on;
  checkInputs(inputs, options, options.config);
  const files = [...inputs, options.config, options.logic];
  await checkOutputs(inputs, options, { files, io });
  const paint = paintFor('stderr', on);
  const watch = await loadWatch(options.config, io, [], options.logic);
  await writeDiagnostics(watch.warnings, { io, paint });
  const replays: Replay[] = [];
  for (const input of inputs) {
    const timeline = await loadTimeline(input, watch.watchFile, options, io);
    replays.push(replayOne(timeline, watch));
  }
  const status = await tellReplays(replays, watch, { ...on, options });
  const isMet = replays.every(({ verdict }) => held(verdict.summary));
  if (options.json !== true && !isMet) {
    const words = boundsWords(watch, { ...options });
    await tell(io, nextLine('what these settings can miss, and what to change', words));
  }
  return status;
}
