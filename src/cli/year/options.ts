// `dozewatch year`: what it takes, and its help.
import type { Command } from '@commander-js/extra-typings';
import { withLogOptions, withWatchFile } from '../arguments/timeline-options.js';
import { besideLog } from '../arguments/watch-choice.js';
import type { OptionsOf } from '../command.js';
import { caution } from '../layout/caution.js';

const afterHelp = `
The watch file says what people do (answer:), what a charge holds (supply:) and what messages meet
(delivery:). Counts are sums over the simulated years, with their means per year. The years are those of
dozewatch estimate with the same seed. The days to charge by are of the first of them: each is a day
before the charge would be used up.

Examples:
  dozewatch year -c watch.yaml --profile flower-store
  dozewatch year -c watch.yaml --profile flower-store --chart year.svg
  dozewatch year -c watch.yaml --profile seed-bank --start 2026-05-04 -o charge.ics

Exit status: 0 when the year is simulated, whatever it shows; 2 bad input.

${caution}`;

/** Options that need not be repeated in a command to run next. */
export const yearDefaults = { start: '2026-05-04', years: '20', seed: '1' } as const;

/** Adds what `year` takes. */
export function yearTakes(command: Command) {
  const basic = withWatchFile(
    command.description(
      'Simulates years with the device and its people: openings, messages, charges, answers. Prints when\n' +
        'to charge the battery or replace its cells, and what a delay of a week costs.',
    ),
    { look: besideLog },
  )
    .option('--profile <name>', 'usage of the door: a name or a file (default: flower-store)')
    .option('--profile-from <log>', 'fit the profile to this door log')
    .option('--start <date>', 'the first day, such as 2026-05-04', yearDefaults.start)
    .option('--years <count>', 'number of simulated years to average over', yearDefaults.years)
    .option('--seed <text>', 'another seed simulates other years', yearDefaults.seed)
    .option('--outage-rate <rate>', 'network outages, such as 12/year')
    .option('--outage-lasting <duration>', 'their mean length, such as 30m')
    .option('--json', 'print the answer as JSON, schema dozewatch/year/1')
    .option('--chart <file>', 'a picture of the first simulated year (.svg or .png)')
    .option('--dark', 'a dark picture')
    .option(
      '-o, --output <file>',
      'calendar file of the days to charge or replace the cells by (.ics)',
    )
    .optionsGroup('Rarely needed:')
    .option('--as-logged', 'simulate days of the log, not a fitted profile');
  return withLogOptions(basic).addHelpText('after', afterHelp);
}

export type YearOptions = OptionsOf<typeof yearTakes>;
