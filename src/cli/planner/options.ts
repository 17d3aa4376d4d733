// `dozewatch planner`: its options and help.

import type { Command } from '@commander-js/extra-typings';
import { caution } from '../layout/caution.js';

const afterHelp = `
Examples:
  dozewatch planner -o planner.html
  dozewatch planner -o planner.html --open

The page is one file: it opens from disk, computes all by itself, and can be put on any static host.

Exit status: 0 when the page is written.

${caution}`;

/** Adds what `planner` takes. */
export function plannerTakes(command: Command) {
  return command
    .description(
      'Writes the planner: a page with sliders for watch, contact, supply and what is asked, which answers\n' +
        'at once with bounds, battery, and a week of door events.',
    )
    .requiredOption('-o, --output <file>', 'where to write the page, such as planner.html')
    .option('--open', 'open it in the browser, too')
    .option('--json', 'print what was written as JSON, schema dozewatch/planner/1')
    .addHelpText('after', afterHelp);
}
