// `dozewatch tune`: what it takes, and its help.

import { type Command, Option } from '@commander-js/extra-typings';
import { mostJobs, mostTunedYears } from '../../model/index.js';
import { withTriedRanges } from '../arguments/setting-options.js';
import { withLogOptions, withWatchFile } from '../arguments/timeline-options.js';
import { besideLog } from '../arguments/watch-choice.js';
import { wholeNumber } from '../arguments/whole-number.js';
import type { OptionsOf } from '../command.js';
import { showsAll } from '../help.js';
import { caution } from '../layout/caution.js';

const afterHelp = (isFull: boolean): string => `
A range is a value (3m), a list (1m,2m,3m), the round values between two ends (1m..10m), or steps
(1m..10m/30s). A threshold is 2, or 2/3 for 2 out of 3, or 1..3. Without a range, the usual values and
the watch file's own are tried: about 1000 to 1600 settings, which take half a minute for a plain watch and
some minutes for one around which much may go wrong. Requirements that you do not give come from judge:
in the watch file.
${isFull ? aboutChoice : ''}
Examples:
  dozewatch tune -c watch.yaml --profile flower-store --sure-from 5m --worst-delay 8m --life 60d
  dozewatch tune -c watch.yaml --profile my-store.yaml --false-alarms 1/year --wake-on timer
  dozewatch tune -c watch.yaml --profile seed-bank --interval 1m..10m/30s --threshold 2,2/3 --clear 2 --chart front.svg
  dozewatch tune -c watch.yaml --profile seed-bank --interval 2m,5m --clear 1..3 --heartbeat off,12h,1d
  dozewatch tune -c watch.yaml --profile goose-house --any-state --cooldown 0s..1h -o tuned.yaml

Exit status: 0 if some settings meet all requirements; 1 if none do; 2 bad input, or requirements that
contradict each other.

${caution}`;

const aboutChoice = `
The cooldown stays as it is, because it changes no bound at rest. The clear threshold, the retries and the
heartbeat also stay, unless you give values for them.

Of the settings that meet all requirements it recommends one, step by step: those whose misses lie within the
interval of the fewest, of these those whose false alarms do, of these the longest life, and within 3 % of
that the soonest alert. --prefer quiet begins with false alarms, --prefer life with life.
`;

/** Adds what `tune` takes. */
export function tuneTakes(command: Command) {
  const required = withWatchFile(
    command.description(
      'Searches for settings that meet your requirements, shows those that no other beats in latency, life,\n' +
        'misses and false alarms, and recommends one. Proves the bounds of each, and simulates years of its use.',
    ),
    { help: 'the watch file to start from, with a supply: section', look: besideLog },
  )
    .option('--profile <name>', 'usage of the door: a name or a file (default: flower-store)')
    .option('--profile-from <log>', 'fit the profile to this door log')
    .optionsGroup('Requirements:')
    .option('--sure-from <duration>', 'every opening of at least this length is reported')
    .option('--worst-delay <duration>', 'from the opening to the delivery of its alert, at most')
    .option('--quiet-up-to <duration>', 'no single opening up to this length raises an alert')
    .option('--life <duration>', 'life on a charge of at least this, such as 60d')
    .option('--false-alarms <rate>', 'at most, such as 1/year: the upper end of the interval')
    .option('--any-state', 'prove the bounds from any state, not only at rest')
    .addOption(
      new Option('--prefer <what>', 'what matters first: few misses, few false alarms, or life')
        .choices(['sure', 'quiet', 'life'] as const)
        .default('sure' as const),
    )
    .optionsGroup('Settings to try:');
  const basic = withTriedRanges(required)
    .option(
      '--clear <range>',
      'shut checks in a row until the door counts as shut (clearThreshold)',
    )
    .option('--retry <range>', 'sleep after a failed attempt (retry.interval)')
    .option(
      '--attempts <range>',
      'attempts in a row before it waits checkInterval (retry.attempts)',
    )
    .option('--heartbeat <list>', "time between two 'alive' messages, or off (heartbeatInterval)")
    .optionsGroup('Output:')
    .option('-o, --output <file>', 'write the watch file with the recommended settings')
    .option('--chart <file>', 'draw the settings that no other beats, as .svg or .png')
    .option('--dark', 'draw light on dark')
    .option('--all', 'list all settings that no other beats, however many')
    .option('--json', 'print the answer as JSON, schema dozewatch/tune/1')
    .optionsGroup('Rarely needed:')
    .option('--as-logged', 'simulate days of the log, not a fitted profile')
    .option(
      '--years <count>',
      'years to simulate for each setting (default: 20)',
      wholeNumber('--years', { least: 1, most: mostTunedYears }),
    )
    .option('--seed <text>', 'another seed simulates other years', '1')
    .option(
      '--jobs <count>',
      'threads (default: one per core)',
      wholeNumber('--jobs', { least: 1, most: mostJobs }),
    );
  return withLogOptions(basic).addHelpText('after', ({ command: of }) => afterHelp(showsAll(of)));
}

export type TuneOptions = OptionsOf<typeof tuneTakes>;
