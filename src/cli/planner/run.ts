// `dozewatch planner` at work.

import path from 'node:path';
import { plain } from '../../base/index.js';
import {
  initialState,
  isLogName,
  type PlannerState,
  plannerHtml,
  withFile,
} from '../../planner/index.js';
import { parseScenario, parseWatchFile } from '../../scenarios/index.js';
import type { ExitStatus, Io } from '../host/io.js';
import { openFile } from '../host/open-file.js';
import { refuseOtherEnding, refuseStdout } from '../host/outputs.js';
import { readText } from '../host/read-text.js';
import { refuseUnfitOutputs, writeOutput } from '../host/write-output.js';
import { cautionWords } from '../layout/caution.js';
import { pack, shippedScript } from '../layout/page-script.js';
import { InputProblem, valueOf } from '../problem.js';
import { version } from '../program.js';

/** @throws InputProblem when the page cannot be written. */
export async function planner(
  timeline: string | undefined,
  options: {
    readonly config?: string | undefined;
    readonly output: string;
    readonly open?: true | undefined;
    readonly json?: true | undefined;
  },
  io: Io,
): Promise<ExitStatus> {
  const { config, output, open, json } = options;
  if (open === true || json === true) refuseStdout('--output', output);
  await refuseUnfitOutputs([{ option: '--output', file: output }], {
    inputs: [config, timeline],
    io,
  });
  refuseOtherEnding(output, 'the planner is a page', '.html');
  const html = plannerHtml({
    script: await shippedScript('planner'),
    caution: cautionWords,
    version,
    start: await startOf(config, timeline, io),
    pack,
  });
  if (output === '-') {
    await io.stdout.write(html);
    return 0;
  }
  await writeOutput(output, [html], io);
  if (open === true) openFile(path.resolve(io.folder, output));
  const written = { schema: 'dozewatch/planner/1', written: [output] };
  await io.stdout.write(
    json === true
      ? `${JSON.stringify(written, null, 2)}\n`
      : `Planner: ${plain(output)}${open === true ? '' : ' (open it in a browser)'}\n`,
  );
  return 0;
}

/** What the page begins with. @throws InputProblem when a file cannot be read or has errors. */
async function startOf(
  config: string | undefined,
  timeline: string | undefined,
  io: Io,
): Promise<PlannerState> {
  let state = initialState;
  // The planner knows a watch file, a scenario and a log by their names.
  if (config !== undefined) state = await withFileAt(state, config, { io, ending: '.yaml' });
  if (timeline !== undefined) state = await withFileAt(state, timeline, { io, ending: '.csv' });
  return state;
}

async function withFileAt(
  state: PlannerState,
  file: string,
  on: { readonly io: Io; readonly ending: '.yaml' | '.csv' },
): Promise<PlannerState> {
  const name = path.basename(file === '-' ? 'standard input' : file);
  const named = /\.[a-z]+$/iu.test(name) ? name : `${name}${on.ending}`;
  const text = await readText(file, on.io);
  // The page takes either kind of file in either place; an option and an argument ask for one.
  if (on.ending === '.yaml') valueOf(parseWatchFile(text, file));
  else if (!isLogName(named)) valueOf(parseScenario(text, file));
  const taken = withFile(state, named, text);
  if (taken.ok) return taken.value;
  const [first, ...others] = taken.errors.map((error) =>
    error.source.file === named ? { ...error, source: { ...error.source, file } } : error,
  );
  throw new InputProblem(first === undefined ? taken.errors : [first, ...others]);
}
