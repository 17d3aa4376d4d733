// `dozewatch silence`: what it takes, and its help.
import type { Command } from '@commander-js/extra-typings';
import { withDeviceLogOptions } from '../arguments/device-log-options.js';
import { collected } from '../arguments/repeated.js';
import { withLogOptions, withWatchFile } from '../arguments/timeline-options.js';
import type { OptionsOf } from '../command.js';
import { caution } from '../layout/caution.js';

const afterHelp = `
The log of messages has the columns time and event (alert, heartbeat or low-battery), as the receiver
has them; without one, no message came. The device is taken to have worked when it was charged.

What is assumed of faults before looking at the messages, and how to change it:
  --prior network=0.5/year      the network ends for good (until somebody comes)
  --prior contact=0.1/year      the contact reads shut for good
  --prior firmware=0.2/year     the firmware hangs
  --prior lost=1%               messages that never arrive (default: delivery.lost, if the file has it)
  --prior outages=6/year        spells in which the network is down at the same hour each day, for as
                                long as environment.longestOutage of the watch file
  --prior spell=1w              their average length
  --prior unanswered=10%        alerts after which nobody resets a device that waits for it
  --prior unused=0.5%           silences that begin with a break in which nobody uses the door
  --prior break=1w              its average length (default: a week, or the longest gap in the profile)
  --prior life=20%              spread of the life of a charge around the computed one

Examples:
  dozewatch silence -c watch.yaml --charged 2026-05-04 --now 2026-06-29 --profile seed-bank
  dozewatch silence -c watch.yaml --charged 2026-05-04 --messages messages.csv --now 2026-06-29
  dozewatch silence -c watch.yaml --charged 2026-05-04 --now 2026-06-29 --lasts 6w --prior network=3/year

Exit status: 0 if the device probably works, a device that works is silent as long in at least 5 % of
cases, and no heartbeat is missing before the last message; 1 otherwise; 2 bad input.

${caution}`;

/** Adds what `silence` takes. */
export function silenceTakes(command: Command) {
  const basic = withWatchFile(
    command.description(
      'Explains what silence means: which explanations remain, how probable each is, how long a device that\n' +
        'works is silent, and the cheapest tests at the door that find out which it is.',
    ),
  )
    .requiredOption(
      '--charged <instant>',
      'when it was last charged, or had new cells, and worked, such as 2026-05-04',
    )
    .option('--messages <file>', 'log of the messages that came (default: none came)')
    .option('--now <instant>', 'when you look (default: now)')
    .option('--profile <name>', 'usage of the door: a name or a file (default: flower-store)')
    .option('--profile-from <log>', 'fit the profile to this door log')
    .option(
      '--lasts <duration>',
      'how long a charge, or a set of cells, lasts (default: by the supply)',
    )
    .option('--prior <name=value>', 'what is assumed of a fault; repeat it for more', collected)
    .option('--seed <text>', 'another seed simulates other years', '1')
    .option('--json', 'print the answer as JSON, schema dozewatch/silence/1');
  return withLogOptions(
    withDeviceLogOptions(basic)
      .optionsGroup('Rarely needed:')
      .option('--as-logged', 'simulate days of the log, not a fitted profile'),
  ).addHelpText('after', afterHelp);
}

export type SilenceOptions = OptionsOf<typeof silenceTakes>;
