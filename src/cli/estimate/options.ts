// `dozewatch estimate`: what it takes, and its help.

import type { Command } from '@commander-js/extra-typings';
import { Option } from '@commander-js/extra-typings';
import { withLogOptions, withWatchFile } from '../arguments/timeline-options.js';
import { besideLog } from '../arguments/watch-choice.js';
import type { OptionsOf } from '../command.js';
import { caution } from '../layout/caution.js';

const afterHelp = `
Built-in profiles, all invented: flower-store, goose-house, seed-bank. A profile file holds what a
scenario has under generate: { profile: ... }. dozewatch profile fits one to a door log.

A device-year has 365 days without daylight saving. The same --seed gives the same bytes, whatever the
number of threads. If the watch file gives a range for clock error, boot or connect time, its value is
random; the clock error once a year. Intervals include bursts of counts and, with a profile fitted to a log,
what a log of that length leaves open.

Examples:
  dozewatch estimate -c watch.yaml --profile flower-store
  dozewatch estimate -c watch.yaml --profile flower-store --chart years.svg
  dozewatch estimate -c watch.yaml --profile my-store.yaml --years 10000 --power-loss-rate 2/year \\
    --outage-rate 12/year --outage-lasting 30m
  dozewatch estimate -c watch.yaml --profile-from doors.csv --zone Europe/Oslo
  dozewatch estimate -c watch.yaml --profile goose-house --precision 5% --precision-of falseAlarms
  dozewatch estimate -c watch.yaml --profile seed-bank --years 1000000 --shard 3/8 -o part-3.json

Exit status: 0 when the estimate is made, whatever it shows; 2 bad input; 130 interrupted, after a
report on the years done so far.

${caution}`;

/** Adds what `estimate` takes. */
export function estimateTakes(command: Command) {
  const basic = withWatchFile(
    command.description(
      'Estimates how often per year of real use a watch misses an opening, is late or raises a false alarm.\n' +
        'Draws many years from a usage profile, simulates and judges each, and gives an interval for each rate.',
    ),
    { look: besideLog },
  )
    .option('--logic <file>', 'your own XState machine as the logic of the watch')
    .option('--profile <name>', 'usage of the door: a name or a file (default: flower-store)')
    .option('--profile-from <log>', 'fit the profile to this door log')
    .option('--years <count>', 'device-years (default: 1000; with --precision: at most 100000)')
    .option('--chart <file>', 'draw how the years differ, as .svg or .png')
    .option('--dark', 'draw light on dark')
    .option('--json', 'print the estimate as JSON, schema dozewatch/estimate/1')
    .optionsGroup('Faults:')
    .option('--outage-rate <rate>', 'network outages, such as 12/year')
    .option('--outage-lasting <duration>', 'their mean length, such as 30m')
    .option('--power-loss-rate <rate>', 'power losses, such as 2/year')
    .option('--power-loss-lasting <duration>', 'their mean length', '1m')
    .optionsGroup('Confidence:')
    .option('--confidence <share>', 'confidence of the intervals', '95%')
    .option('--precision <share>', 'stop once half the interval is at most this part of the rate')
    .addOption(
      new Option(
        '--precision-of <rate>',
        'the rate that --precision limits; default missed-share',
      ).choices(['missed-share', 'missed', 'late', 'falseAlarms', 'earlyAlerts', 'repeats']),
    )
    .optionsGroup('Rarely needed:')
    .option('--as-logged', 'simulate days of the log, not a fitted profile')
    .option('--seed <text>', 'another seed simulates other years', '1')
    .option('--jobs <count>', 'threads (default: one per core)')
    .option('--shard <i/n>', 'simulate only part i of n, for dozewatch merge to join')
    .option('-o, --output <file>', 'file for the part that --shard simulates');
  return withLogOptions(basic).addHelpText('after', afterHelp);
}

export type EstimateOptions = OptionsOf<typeof estimateTakes>;
