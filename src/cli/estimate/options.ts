// `dozewatch estimate`: what it takes, and its help.

import type { Command } from '@commander-js/extra-typings';
import { Option } from '@commander-js/extra-typings';
import { collected } from '../arguments/repeated.js';
import type { OptionsOf } from '../command.js';
import { caution } from '../layout/caution.js';

const afterHelp = `
Profiles that come along, all invented: flower-store, goose-house, seed-bank. A file holds what a scenario
writes under generate: { profile: ... }, such as
  { openingsPerHour: { "6-18": 1 }, duration: { lognormal: { median: 20s, sigma: 0.8 } },
    leaveOpen: { share: 2%, duration: { exponential: { mean: 20m } } } }

Device-years have 365 days, and no daylight saving. Each has its own seed by its number: the same --seed
gives the same bytes, whatever the number of threads. A clock error, boot or connect time that the watch
file gives as a range is drawn, the clock error once a year.

Intervals are exact: Clopper-Pearson for shares, Poisson for rates. What was never seen gets an upper
bound (about 3 / n at 95%), with all the doubt on one side; never "0 %".

Examples:
  dozewatch estimate -c watch.yaml --profile flower-store
  dozewatch estimate -c watch.yaml --profile my-store.yaml --years 10000 --power-loss-rate 2/year \\
    --outage-rate 12/year --outage-lasting 30m
  dozewatch estimate -c watch.yaml --profile-from doors.csv --zone Europe/Oslo
  dozewatch estimate -c watch.yaml --profile goose-house --precision 5% --precision-of falseAlarms
  dozewatch estimate -c watch.yaml --profile seed-bank --years 1000000 --shard 3/8 -o part-3.json

Exit status: 0 when the estimate is made, whatever it shows; 2 bad input or usage; 130 interrupted, after
a report of the years done so far.

${caution}`;

/** Adds what `estimate` takes. */
export function estimateTakes(command: Command) {
  return command
    .description(
      'Estimates how often a watch misses, is late or cries for nothing in a year of real use: draws many\n' +
        'years of a door from a usage profile, runs and judges each, and gives exact intervals.',
    )
    .option('-c, --config <file>', 'the watch file; without it the defaults apply')
    .option('--logic <file>', "an XState machine in place of the watch's own logic")
    .option(
      '--profile <name>',
      'how the door is used: a name (see below) or a file; default flower-store',
    )
    .option('--profile-from <log>', 'or a door log, to which a profile is fitted')
    .option('--zone <zone>', 'for a log whose times have no offset, such as Europe/Oslo')
    .option(
      '--where <column=value>',
      'read only such rows of the log; repeat it for more',
      collected,
    )
    .option('--as-logged', 'draw from the lengths of the log, in place of a distribution')
    .option('--years <count>', 'device-years; default 1000, or at most 100000 with --precision')
    .option('--seed <text>', 'another seed draws other years', '1')
    .optionsGroup('What goes wrong besides:')
    .option('--outage-rate <rate>', 'network outages, such as 12/year')
    .option('--outage-lasting <duration>', 'their mean length, such as 30m')
    .option('--power-loss-rate <rate>', 'power losses, such as 2/year')
    .option('--power-loss-lasting <duration>', 'their mean length', '1m')
    .optionsGroup('How sure:')
    .option('--confidence <share>', 'of the intervals', '95%')
    .option('--precision <share>', 'stop when half an interval is at most this part of its rate')
    .addOption(
      new Option('--precision-of <rate>', 'which rate; default missed-share').choices([
        'missed-share',
        'missed',
        'late',
        'falseAlarms',
        'earlyAlerts',
        'repeats',
      ]),
    )
    .optionsGroup('Work:')
    .option('--jobs <count>', 'threads; default: one a core')
    .option('--shard <i/n>', 'run the i-th of n parts; dozewatch merge joins them')
    .option('-o, --output <file>', 'where --shard writes its part')
    .option('--json', 'print the estimate as JSON, schema dozewatch/estimate/1')
    .addHelpText('after', afterHelp);
}

export type EstimateOptions = OptionsOf<typeof estimateTakes>;
