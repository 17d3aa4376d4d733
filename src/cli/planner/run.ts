// `dozewatch planner` at work.

import { createHash } from 'node:crypto';
import path from 'node:path';
import { plain } from '../../base/index.js';
import { plannerHtml } from '../../planner/index.js';
import type { ExitStatus, Io } from '../host/io.js';
import { openFile } from '../host/open-file.js';
import { refuseStdout } from '../host/outputs.js';
import { shippedText } from '../host/shipped.js';
import { refuseUnfitOutputs, writeOutput } from '../host/write-output.js';
import { cautionWords } from '../layout/caution.js';
import { version } from '../program.js';

/** @throws InputProblem when the page cannot be written. */
export async function planner(
  options: {
    readonly output: string;
    readonly open?: true | undefined;
    readonly json?: true | undefined;
  },
  io: Io,
): Promise<ExitStatus> {
  const { output, open, json } = options;
  if (open === true || json === true) refuseStdout('--output', output);
  await refuseUnfitOutputs([{ option: '--output', file: output }], { inputs: [], io });
  const html = plannerHtml({
    script: await shippedText('dist/pages/planner.js'),
    caution: cautionWords,
    version,
    hashOf: (text) => `sha256-${createHash('sha256').update(text).digest('base64')}`,
  });
  if (output === '-') {
    await io.stdout.write(html);
    return 0;
  }
  await writeOutput(output, [html], io);
  if (open === true) openFile(path.resolve(io.folder, output));
  const written = { schema: 'dozewatch/planner/1', written: [output] };
  await io.stdout.write(
    json === true ? `${JSON.stringify(written, null, 2)}\n` : `Planner: ${plain(output)}\n`,
  );
  return 0;
}
