// `dozewatch verify`: what it takes, and its help.

import type { Command } from '@commander-js/extra-typings';
import { withWatchOverrides } from '../arguments/setting-options.js';
import { withWatchFile } from '../arguments/timeline-options.js';
import { inFolder } from '../arguments/watch-choice.js';
import type { OptionsOf } from '../command.js';
import { caution } from '../layout/caution.js';

const afterHelp = `
The certificate lists every state of the device, with all the states that can come next, and a run that
reaches each bound. The checker goes through it with its own arithmetic, and shares no code with the
search that found the bounds.

Options override the watch file. Give the same ones as to bounds.

Examples:
  dozewatch bounds -c watch.yaml --certificate proof.json
  dozewatch verify proof.json -c watch.yaml
  dozewatch verify proof.json -c watch.yaml --json

Exit status: 0 verified; 1 refused, with the place (a JSON pointer) and what it should hold; 2 the file
is not a certificate, or belongs to another watch or to an environment in which less goes wrong.

${caution}`;

/** Adds what `verify` takes. */
export function verifyTakes(command: Command) {
  const basic = withWatchFile(
    command
      .description('Checks a certificate from bounds against a watch file, state by state.')
      .argument('<certificate>', 'file from bounds --certificate; - is standard input'),
    { look: inFolder },
  ).option('--json', 'print the verdict as JSON, schema dozewatch/verify/4');
  return withWatchOverrides(basic).addHelpText('after', afterHelp);
}

export type VerifyOptions = OptionsOf<typeof verifyTakes>;
