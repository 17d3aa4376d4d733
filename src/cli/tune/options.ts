// `dozewatch tune`: what it takes, and its help.

import type { Command } from '@commander-js/extra-typings';
import { mostJobs, mostTunedYears } from '../../model/index.js';
import { collected } from '../arguments/repeated.js';
import { withTriedRanges } from '../arguments/setting-options.js';
import { wholeNumber } from '../arguments/whole-number.js';
import type { OptionsOf } from '../command.js';
import { caution } from '../layout/caution.js';

const afterHelp = `
A range is a value (3m), a list (1m,2m,3m), the round values within bounds (1m..10m), or steps
(1m..10m/30s); a threshold is 2, or 2/3 for 2 out of 3, or 1..3. Without a range the usual values are
tried, and the watch file's own; the cooldown stays as it is, because at rest it changes no bound.

Requirements that are not given are those of the watch file under judge:. Bounds are proved for every
setting; life and false alarms come from the same drawn years for all of them.

Examples:
  dozewatch tune -c watch.yaml --profile flower-store --sure-from 5m --worst-delay 8m --life 60d
  dozewatch tune -c watch.yaml --profile my-store.yaml --false-alarms 1/year --wake-on timer
  dozewatch tune -c watch.yaml --profile seed-bank --interval 1m..10m/30s --threshold 2,2/3 --chart front.svg
  dozewatch tune -c watch.yaml --profile goose-house --any-state --cooldown 0s..1h -o tuned.yaml

Exit status: 0 when some settings do all that is asked; 1 when none do; 2 for bad input, and for
requirements that contradict each other.

${caution}`;

/** Adds what `tune` takes. */
export function tuneTakes(command: Command) {
  const asked = command
    .description(
      'Searches the settings of a watch for those that do what is asked, shows what nothing else beats in\n' +
        'delay, life and false alarms, and recommends one.',
    )
    .option('-c, --config <file>', 'the watch file to start from, with its supply: section')
    .option(
      '--profile <name>',
      'how the door is used: a name (see estimate --help) or a file; default flower-store',
    )
    .option('--profile-from <log>', 'or a door log, to which a profile is fitted')
    .option('--zone <zone>', 'for a log whose times have no offset, such as Europe/Oslo')
    .option(
      '--where <column=value>',
      'read only such rows of the log; repeat it for more',
      collected,
    )
    .option('--as-logged', 'draw from the lengths of the log, in place of a distribution')
    .optionsGroup('What is asked:')
    .option('--sure-from <duration>', 'every opening at least so long is reported')
    .option('--worst-delay <duration>', 'from the opening to the delivery of its alert')
    .option('--quiet-up-to <duration>', 'no single opening up to so long raises an alert')
    .option('--life <duration>', 'on a charge, such as 60d')
    .option('--false-alarms <rate>', 'at most, such as 1/year: the upper end of the interval')
    .option('--any-state', 'bounds whatever went before, in place of at rest')
    .optionsGroup('What is tried:');
  return withTriedRanges(asked)
    .optionsGroup('Work:')
    .option(
      '--years <count>',
      'drawn for each setting; default 20',
      wholeNumber('--years', { least: 1, most: mostTunedYears }),
    )
    .option('--seed <text>', 'another seed draws other years', '1')
    .option(
      '--jobs <count>',
      'threads; default: one a core',
      wholeNumber('--jobs', { least: 1, most: mostJobs }),
    )
    .optionsGroup('Output:')
    .option('-o, --output <file>', 'write the watch file with the recommended settings')
    .option('--chart <file>', 'draw the front, as .svg or .png')
    .option('--dark', 'light on dark, for --chart')
    .option('--all', 'show the whole front, however long')
    .option('--json', 'print the answer as JSON, schema dozewatch/tune/1')
    .addHelpText('after', afterHelp);
}

export type TuneOptions = OptionsOf<typeof tuneTakes>;
