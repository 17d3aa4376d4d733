// `dozewatch verify`: what it takes, and its help.

import type { Command } from '@commander-js/extra-typings';
import { withWatchOverrides } from '../arguments/setting-options.js';
import type { OptionsOf } from '../command.js';
import { caution } from '../layout/caution.js';

const afterHelp = `
A certificate lists every state in which the device can begin to boot, to send or to sleep, each with the
states of all that can come next, and for each bound a course that reaches it. The checker steps the watch's
statechart itself from every state, does its own arithmetic, goes along the courses, and shares nothing
with the search that found the bounds.

Options lie over what the watch file says, as they do for bounds: give the same ones.

Examples:
  dozewatch verify proof.json -c watch.yaml
  dozewatch verify proof.json -c watch.yaml --json

The certificate comes from bounds:
  dozewatch bounds -c watch.yaml --certificate proof.json

Exit status: 0 verified; 1 refused, with the place (a JSON pointer) and what had to stand there; 2 the
file is no certificate, or one of another watch or of a milder environment.

${caution}`;

/** Adds what `verify` takes. */
export function verifyTakes(command: Command) {
  return withWatchOverrides(
    command
      .description('Checks a certificate of bounds, state by state, against a watch.')
      .argument('<certificate>', 'as bounds --certificate wrote it; - is standard input')
      .option('-c, --config <file>', 'the watch file; without it the defaults apply')
      .option('--json', 'print the verdict as JSON, schema dozewatch/verify/4'),
  ).addHelpText('after', afterHelp);
}

export type VerifyOptions = OptionsOf<typeof verifyTakes>;
