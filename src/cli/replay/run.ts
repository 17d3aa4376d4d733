// `dozewatch replay` at work: every input through the watch, then the verdicts.

import { untilText } from '../../wording/index.js';
import { checkInputs } from '../arguments/timeline-options.js';
import type { Style } from '../command.js';
import { estimateTakes } from '../estimate/options.js';
import type { ExitStatus, Io } from '../host/io.js';
import { writeDiagnostics } from '../host/write-diagnostics.js';
import { loadTimeline } from '../inputs/load-timeline.js';
import { type LoadedWatch, loadWatch } from '../inputs/load-watch.js';
import { boundsWords, nextLine, optionWords, type Takes, watchWords } from '../layout/next-line.js';
import { paintFor } from '../layout/paint.js';
import { print } from '../layout/print.js';
import { tuneTakes } from '../tune/options.js';
import { type Replay, replayOne } from './one.js';
import { type ReplayOptions, replayTakes } from './options.js';
import { checkOutputs, printReplays, type ReplayFindings } from './print.js';

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
  const findings = await printReplays(replays, watch, { ...on, options });
  if (options.json !== true) await print(io, nextOf(findings, { inputs, options, watch, replays }));
  return findings.status;
}

/** Options that mean something else to a search for settings, or that are given apart. */
const ofReplays = ['config', 'noConfig', 'logic', 'seed'];

/** Options of the same replay with a later end that are given apart, or would write a file again. */
const givenApart = ['config', 'noConfig', 'logic', 'until', 'trace', 'chart'];

/** What can be missed, or, where false alarms are all that was found, what raises fewer. */
function nextOf(
  { misses, alarmsFalsely, laterEndMs }: ReplayFindings,
  of: {
    readonly inputs: readonly string[];
    readonly options: ReplayOptions;
    readonly watch: LoadedWatch;
    readonly replays: readonly Replay[];
  },
): string {
  const { inputs, options, watch, replays } = of;
  const bounds = boundsWords(watch, { ...options });
  const [input] = inputs;
  const [one] = replays;
  const isLog = replays.length === 1 && one?.timeline.logged != null;
  if (misses && isLog && input !== undefined && laterEndMs !== null) {
    return nextLine('the same with an end that leaves the alert time to be delivered', [
      ...['replay', input, ...watchWords(watch.name, { ...options })],
      ...optionWords({ ...options }, givenApart, replayTakes),
      ...['--until', untilText(one.timeline.start, laterEndMs)],
    ]);
  }
  if (misses) return nextLine('what these settings can miss, and what to change', bounds);
  if (!alarmsFalsely) return '';
  if (input === undefined || !isLog || options.logic !== undefined) {
    const why = 'how short an opening can raise a false alarm (quiet up to), and what to change';
    return nextLine(
      `${why} (such as a higher escalationThreshold; state the length under judge: quietUpTo)`,
      bounds,
    );
  }
  const watchIs = watchWords(watch.name, { ...options });
  const usage = (takes: Takes): readonly string[] => [
    ...['--profile-from', input],
    ...optionWords({ ...options }, ofReplays, takes),
  ];
  return watch.watchFile.supply === null
    ? nextLine('how many false alarms per year this log means', [
        ...['estimate', ...watchIs],
        ...usage(estimateTakes),
      ])
    : nextLine('settings that raise fewer false alarms at a door used like this one', [
        ...['tune', ...watchIs],
        ...usage(tuneTakes),
      ]);
}
