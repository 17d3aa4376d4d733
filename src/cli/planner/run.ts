// `dozewatch planner` at work.

import path from 'node:path';
import { type Diagnostic, listText, plain } from '../../base/index.js';
import {
  initialState,
  isLogName,
  type PlannerState,
  plannerHtml,
  withFile,
} from '../../planner/index.js';
import { openDoorLog, parseScenario, parseWatchFile } from '../../scenarios/index.js';
import type { Style } from '../command.js';
import type { ExitStatus, Io } from '../host/io.js';
import { openFile } from '../host/open-file.js';
import { refuseOtherEnding, refuseStdout } from '../host/outputs.js';
import { readText } from '../host/read-text.js';
import { writeDiagnostics } from '../host/write-diagnostics.js';
import { refuseUnfitOutputs, writeOutput } from '../host/write-output.js';
import { cautionWords } from '../layout/caution.js';
import { pack, shippedScript } from '../layout/page-script.js';
import { paintFor } from '../layout/paint.js';
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
  on: { readonly io: Io; readonly style: Style },
): Promise<ExitStatus> {
  const { io } = on;
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
    start: await startOf(config, timeline, on),
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
  on: { readonly io: Io; readonly style: Style },
): Promise<PlannerState> {
  let state = initialState;
  // The planner knows a watch file, a scenario and a log by their names.
  if (config !== undefined) state = await withFileAt(state, config, { ...on, ending: '.yaml' });
  if (timeline !== undefined) state = await withFileAt(state, timeline, { ...on, ending: '.csv' });
  return state;
}

async function withFileAt(
  state: PlannerState,
  file: string,
  on: { readonly io: Io; readonly style: Style; readonly ending: '.yaml' | '.csv' },
): Promise<PlannerState> {
  const name = path.basename(file === '-' ? 'standard input' : file);
  const named = /\.[a-z]+$/iu.test(name) ? name : `${name}${on.ending}`;
  const text = await readText(file, on.io);
  // The page takes either kind of file in either place; an option and an argument ask for one.
  if (on.ending === '.yaml') valueOf(parseWatchFile(text, file));
  else if (!isLogName(named)) valueOf(parseScenario(text, file));
  const taken = withFile(state, named, text);
  if (taken.ok) {
    if (isLogName(named)) await tellRemarks(text, file, on);
    return taken.value;
  }
  const [first, ...others] = taken.errors.map((error) =>
    withoutOptions(
      error.source.file === named ? { ...error, source: { ...error.source, file } } : error,
      isLogName(named),
    ),
  );
  throw new InputProblem(first === undefined ? taken.errors : [first, ...others]);
}

/** What the log leaves to be guessed, with what the page has for it. */
async function tellRemarks(
  text: string,
  file: string,
  on: { readonly io: Io; readonly style: Style },
): Promise<void> {
  const reader = openDoorLog({ file, lenient: false });
  reader.push(text);
  const log = reader.finish();
  if (!log.ok) return;
  const remarks = log.value.remarks.map((remark) =>
    remark.code === 'times-taken-as-utc'
      ? {
          ...remark,
          hint: 'if they are local times, write their zone into the page, beside the log',
        }
      : remark,
  );
  await writeDiagnostics(remarks, { io: on.io, paint: paintFor('stderr', on) });
}

/** The planner has no options for logs: it does not offer those of other commands. */
function withoutOptions(error: Diagnostic, isLog: boolean): Diagnostic {
  if (error.code !== 'state-unknown') return isLog ? withoutOffers(error) : error;
  const hint =
    'the planner reads no other words: correct the rows in the log (replay and chart take --open-word and --shut-word)';
  return { ...error, hint, tries: [] };
}

function withoutOffers(error: Diagnostic): Diagnostic {
  const offers = [...(error.tries ?? []), error.hint ?? ''].join(' ').match(/--[a-z-]+/gu) ?? [];
  if (offers.length === 0) return error;
  const options = listText([...new Set(offers)]);
  const hint = `the planner has no options for logs: correct the log, or copy the rows that count into another (replay and chart take ${options})`;
  return { ...error, hint, tries: [] };
}
