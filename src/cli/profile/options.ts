// `dozewatch profile`: what it takes, and its help.

import type { Command } from '@commander-js/extra-typings';
import { withTimelineOptions, withWatchFile } from '../arguments/timeline-options.js';
import type { OptionsOf } from '../command.js';

const afterHelp = `
Prints a profile file for estimate --profile and tune --profile: visits of several openings in each hour of
the day, a factor for the weekend, and lengths of brief openings and of doors left open (leaveOpenAfter of
the watch file; 3m without one). The comment at the top names the methods, and compares false alarms and
misses of the log itself with those of years simulated from it, at several check intervals.

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
    .option('--as-logged', 'a profile that picks days of the log at random, fitting nothing')
    .option('--json', 'print the fit as JSON, schema dozewatch/profile/1');
  return withTimelineOptions(basic).addHelpText('after', afterHelp);
}

export type ProfileOptions = OptionsOf<typeof profileTakes>;
