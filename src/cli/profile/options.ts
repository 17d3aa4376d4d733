// `dozewatch profile`: what it takes, and its help.

import type { Command } from '@commander-js/extra-typings';
import { withTimelineOptions } from '../arguments/timeline-options.js';
import type { OptionsOf } from '../command.js';
import { caution } from '../layout/caution.js';

const afterHelp = `
The profile is printed as a file that estimate --profile and tune --profile read: openings in each hour of
the day, a factor for the weekend, lengths of brief openings and of leave-opens (by leaveOpenAfter of the
watch file; 3m without one). Lengths are lognormal or exponential, whichever fits better; fewer than
five are kept as they are. The comment above says how far off the fit is.

Examples:
  dozewatch profile doors.csv > my-store.yaml
  dozewatch profile doors.csv -c watch.yaml --zone Europe/Oslo
  dozewatch estimate -c watch.yaml --profile my-store.yaml

Exit status: 0 when the profile is printed, however well it fits; 2 for bad input.

${caution}`;

/** Adds what `profile` takes. */
export function profileTakes(command: Command) {
  return withTimelineOptions(
    command
      .description('Fits a usage profile to a door log: when its door is opened, and for how long.')
      .argument('<log>', 'a door log or a scenario; - is standard input'),
  )
    .optionsGroup('Fit:')
    .option('--as-logged', 'keep the lengths of the log, in place of a distribution')
    .optionsGroup('Output:')
    .option('--json', 'print the fit as JSON, schema dozewatch/profile/1')
    .addHelpText('after', afterHelp);
}

export type ProfileOptions = OptionsOf<typeof profileTakes>;
