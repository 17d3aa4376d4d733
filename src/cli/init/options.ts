// `dozewatch init`: what it takes, and its help.

import type { Command } from '@commander-js/extra-typings';
import type { OptionsOf } from '../command.js';

const afterHelp = `
Examples:
  dozewatch init
  dozewatch init goose-house
  dozewatch init my-logic --logic        # also your own state machine, to start from
  dozewatch init --force                 # overwrite the files that are there
`;

/** Adds what `init` takes. */
export function initTakes(command: Command) {
  return command
    .description(
      'Writes watch.yaml and first-scenario.yaml, with comments that explain them, and JSON Schemas in\n' +
        '.dozewatch, with which editors complete and check both files.',
    )
    .argument('[folder]', 'folder for the files; created if missing', '.')
    .option('--logic', 'also write logic.mjs: the watch as an XState machine for you to change')
    .option('--force', 'overwrite files that are there')
    .option('--json', 'print what was written as JSON, schema dozewatch/init/1')
    .addHelpText('after', afterHelp);
}

export type InitOptions = OptionsOf<typeof initTakes>;
