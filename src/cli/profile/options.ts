// `dozewatch profile`: what it takes, and its help.

import type { Command } from '@commander-js/extra-typings';
import { withTimelineOptions, withWatchFile } from '../arguments/timeline-options.js';
import type { OptionsOf } from '../command.js';

const afterHelp = `
Prints a profile file for estimate --profile and tune --profile: openings in each hour of the day, a
factor for the weekend, and lengths of brief openings and of doors left open (leaveOpenAfter of the watch
file; 3m without one). Lengths are lognormal or exponential, whichever fits better; fewer than five are
kept as they are. The comment at the top of the file reports how good the fit is.

Examples:
  dozewatch profile doors.csv > my-store.yaml
  dozewatch profile doors.csv -c watch.yaml --zone Europe/Oslo
  dozewatch estimate -c watch.yaml --profile my-store.yaml

Exit status: 0 when the profile is printed, however well it fits; 2 bad input.
`;

/** Adds what `profile` takes. */
export function profileTakes(command: Command) {
  const basic = withWatchFile(
    command
      .description('Fits a usage profile to a door log: when the door is opened, and for how long.')
      .argument('<log>', 'a door log or a scenario; - is standard input'),
  )
    .option('--as-logged', 'keep the lengths in the log, without fitting a distribution')
    .option('--json', 'print the fit as JSON, schema dozewatch/profile/1');
  return withTimelineOptions(basic).addHelpText('after', afterHelp);
}

export type ProfileOptions = OptionsOf<typeof profileTakes>;
