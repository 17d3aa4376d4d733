// `dozewatch init`: what it takes, and its help.

import type { Command } from '@commander-js/extra-typings';
import type { OptionsOf } from '../command.js';
import { caution } from '../layout/caution.js';

const afterHelp = `
Examples:
  dozewatch init
  dozewatch init goose-house
  dozewatch init my-logic --logic        with a state machine of your own to begin with
  dozewatch init --force                 write them anew, over what is there

${caution}`;

/** Adds what `init` takes. */
export function initTakes(command: Command) {
  return command
    .description(
      'Writes watch.yaml and first-scenario.yaml, commented line by line, and in .dozewatch the JSON\n' +
        'Schemas by which editors complete and check them.',
    )
    .argument('[folder]', 'where to; it is made when missing', '.')
    .option('--logic', 'also logic.mjs: the watch as an XState machine, to be changed at will')
    .option('--force', 'overwrite files that are there')
    .option('--json', 'print what was written as JSON, schema dozewatch/init/1')
    .addHelpText('after', afterHelp);
}

export type InitOptions = OptionsOf<typeof initTakes>;
