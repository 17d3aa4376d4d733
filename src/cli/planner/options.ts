// `dozewatch planner`: its options and help.

import type { Command } from '@commander-js/extra-typings';
import { withWatchFile } from '../arguments/timeline-options.js';
import { besideFirst } from '../arguments/watch-choice.js';
import { caution } from '../layout/caution.js';

const afterHelp = `
Examples:
  dozewatch planner -o planner.html
  dozewatch planner -c watch.yaml delivery-day.yaml -o planner.html --open

The page is one file. It opens from disk, needs no network, and can be put on any static host.

Exit status: 0 when the page is written.

${caution}`;

/** Adds what `planner` takes. */
export function plannerTakes(command: Command) {
  const described = command
    .description(
      'Writes the planner: a page with sliders for the watch, its contact, its battery and your\n' +
        'requirements. It shows at once what you can rely on, and how long a charge lasts.',
    )
    .argument('[timeline]', 'a scenario or door log to begin with; without it, a random week');
  return withWatchFile(described, {
    help: 'the watch file to begin with (default: watch.yaml beside the timeline or here)',
    look: besideFirst,
  })
    .requiredOption('-o, --output <file>', 'the page to write, such as planner.html')
    .option('--open', 'also open it in the browser')
    .option('--json', 'print what was written as JSON, schema dozewatch/planner/1')
    .addHelpText('after', afterHelp);
}
