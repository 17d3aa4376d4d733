// `dozewatch planner` at work.

import { createHash } from 'node:crypto';
import path from 'node:path';
import { plain } from '../../base/index.js';
import { plannerHtml } from '../../planner/index.js';
import { writeFileAtomically } from '../host/atomic-file.js';
import type { ExitStatus, Io } from '../host/io.js';
import { openFile } from '../host/open-file.js';
import { shippedText } from '../host/shipped.js';
import { cautionWords } from '../present/caution.js';
import { version } from '../program.js';
import { refuseStdout } from './outputs.js';

/** @throws InputProblem when the page cannot be written. */
export async function planner(
  options: {
    readonly out: string;
    readonly open?: true | undefined;
    readonly json?: true | undefined;
  },
  io: Io,
): Promise<ExitStatus> {
  const { out, open, json } = options;
  if (open === true || json === true) refuseStdout('--out', out);
  const html = plannerHtml({
    script: await shippedText('dist/pages/planner.js'),
    caution: cautionWords,
    version,
    hashOf: (text) => `sha256-${createHash('sha256').update(text).digest('base64')}`,
  });
  if (out === '-') {
    await io.stdout.write(html);
    return 0;
  }
  await writeFileAtomically(out, [html], io);
  if (open === true) openFile(path.resolve(io.folder, out));
  const written = { schema: 'dozewatch/planner/1', written: [out] };
  await io.stdout.write(
    json === true ? `${JSON.stringify(written, null, 2)}\n` : `Planner: ${plain(out)}\n`,
  );
  return 0;
}
