// `dozewatch bounds`: what it takes, and its help.

import type { Command } from '@commander-js/extra-typings';
import { pictureWidthLimits } from '../../model/index.js';
import { withWatchOverrides } from '../arguments/setting-options.js';
import { withWatchChoice } from '../arguments/watch-choice.js';
import { wholeNumber } from '../arguments/whole-number.js';
import type { OptionsOf } from '../command.js';
import { caution } from '../layout/caution.js';

const afterHelp = `
  at rest     the door is shut, and the device saw it shut long before it opens
  any state   whatever happened before: other openings, alerts, cooldowns

Options override the watch file. --interval 3m works without any file. The search is exhaustive: no door
timeline is worse than the result. The proof covers the logic and the ranges given, but not a flat
battery, a magnet that fell off, or firmware that differs.

Examples:
  dozewatch bounds -c watch.yaml
  dozewatch bounds --interval 2m --recheck 20s --threshold 2/3 --clear 2
  dozewatch bounds -c watch.yaml --outage 1h --power-losses 1 --clock-error -2%..2%
  dozewatch bounds -c watch.yaml --witness worst --chart bounds.svg
  dozewatch bounds -c watch.yaml --certificate proof.json
  dozewatch bounds -c watch.yaml --profile flower-store
  dozewatch bounds -c watch.yaml --sheet sheet.svg --planner-url https://example.org/planner.html
  dozewatch bounds now.yaml wanted.yaml

Exit status: 0 if every requirement (leaveOpenAfter, reportWithin, quietUpTo) is proved to be met at
rest, and with --strict from any state; 1 otherwise; 2 bad input.

${caution}`;

/** Adds what `bounds` takes. */
export function boundsTakes(command: Command) {
  const basic = withWatchChoice(
    command
      .description(
        'Proves what you can rely on, whatever the door does: how long an opening must last to be reported,\n' +
          'how short it must be to raise no alarm, and how late an alert can arrive. Compares several watches.',
      )
      .argument('[watches...]', 'watch files; - is standard input')
      .option(
        '-c, --config <file>',
        'the watch file, if there is only one (default: watch.yaml here)',
      ),
    (watches) => (watches.length === 0 ? { timeline: undefined } : null),
  )
    .option('--logic <file>', 'your own XState machine as the logic of the watch')
    .option(
      '--profile <name>',
      'price remedies in false alarms per year, for a door used like this: a name or a file',
    )
    .option('--strict', 'exit status 1 also if a requirement is met only at rest')
    .optionsGroup('Output:')
    .option('--json', 'print the bounds as JSON, schema dozewatch/bounds/2')
    .option('--witness <folder>', 'write a scenario for each bound that shows the worst case')
    .option('--certificate <file>', 'write the proof, for dozewatch verify to check')
    .option('--chart <file>', 'draw the detection curve, as .svg or .png')
    .option('--sheet <file>', 'write a data sheet of one A4 page, as .svg or .png')
    .optionsGroup('How pictures look:')
    .option(
      '--planner-url <url>',
      'where your planner is hosted: the code of the data sheet becomes a link to it',
    )
    .option('--dark', 'draw light on dark')
    .option('--title <text>', 'title of the picture')
    .option('--width <pixels>', 'width of the picture', wholeNumber('--width', pictureWidthLimits));
  return withWatchOverrides(basic).addHelpText('after', afterHelp);
}

export type BoundsOptions = OptionsOf<typeof boundsTakes>;
