// `dozewatch bounds`: what it takes, and its help.

import type { Command } from '@commander-js/extra-typings';
import { withWatchOverrides } from '../arguments/setting-options.js';
import { wholeNumber } from '../arguments/whole-number.js';
import type { OptionsOf } from '../command.js';
import { caution } from '../layout/caution.js';

const afterHelp = `
Every number is found by exhaustive search, with the door and the environment as adversaries: no
timeline at all is worse, and a scenario shows the worst one (--witness).

  at rest     the door is shut, and was seen shut long before it opens
  any state   whatever went before: other openings, alerts, cooldowns

Options lie over what each watch file says. Without a file the defaults apply, so that --interval
alone is a question.

Examples:
  dozewatch bounds -c watch.yaml
  dozewatch bounds --interval 3m
  dozewatch bounds --interval 2m --recheck 20s --threshold 2/3 --clear 2
  dozewatch bounds -c watch.yaml --outage 1h --power-losses 1 --clock-error -2%..2%
  dozewatch bounds -c watch.yaml --witness worst --chart bounds.svg
  dozewatch bounds -c watch.yaml --certificate proof.json
  dozewatch bounds now.yaml wanted.yaml

Exit status: 0 when all that the watch file asks (leaveOpenAfter, reportWithin, quietUpTo) is proved to
hold at rest, and with --strict from any state too; 1 otherwise.

The proof is of the logic and of the ranges given: it knows no flat battery, no magnet that fell off, and
no firmware that does otherwise.

${caution}`;

/** Adds what `bounds` takes. */
export function boundsTakes(command: Command) {
  const named = command
    .description(
      'Proves, for a watch: from which length on every opening is reported, up to which length none\n' +
        'raises an alarm, and how late an alert can be. Several watches are compared.',
    )
    .argument('[watches...]', 'watch files; - is standard input')
    .option('-c, --config <file>', 'the watch file, when there is one only')
    .option('--logic <file>', "an XState machine in place of the watch's own logic");
  return withWatchOverrides(named)
    .optionsGroup('Output:')
    .option(
      '--strict',
      'exit status 1 also where something asked fails only from another state than rest',
    )
    .option('--json', 'print the bounds as JSON, schema dozewatch/bounds/2')
    .option('--witness <folder>', 'write a scenario that shows it for every bound')
    .option('--certificate <file>', 'write what proves the bounds; dozewatch verify checks it')
    .option('--chart <file>', 'draw detection curve and delays, as .svg or .png')
    .option('--dark', 'the picture light on dark')
    .option('--title <text>', "the picture's title")
    .option('--width <pixels>', 'its width', wholeNumber('--width', { least: 560, most: 4_000 }))
    .addHelpText('after', afterHelp);
}

export type BoundsOptions = OptionsOf<typeof boundsTakes>;
