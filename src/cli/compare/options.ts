// `dozewatch compare`: what it takes, and its help.

import type { Command } from '@commander-js/extra-typings';
import { withDeviceLogOptions } from '../arguments/device-log-options.js';
import { withTimelineOptions, withWatchFile } from '../arguments/timeline-options.js';
import type { OptionsOf } from '../command.js';
import { caution } from '../layout/caution.js';

const afterHelp = `
The device log is CSV with the first line time,event,value, or JSON with these keys:
  power-on, reset       value is empty
  check                 value: open or shut, as the contact read
  alert, heartbeat,     value: delivered or failed, at the end of the attempt
  low-battery
A log of messages alone needs no value column: each row is one that arrived.
Its times have the forms of door logs, from a clock that you trust: that of the receiver or recorder of
the log, not of the device. Without an offset they are in the zone of --device-zone, --zone or the door
log. A log of lines of text is taken apart by --line-pattern, a regular expression with the groups
time, event and value; lines that do not fit are left out.

Examples:
  dozewatch compare doors.csv --device-log device.csv -c watch.yaml
  dozewatch compare doors.csv --device-log device.ndjson -c watch.yaml --json
  dozewatch compare doors.csv --device-log serial.txt -c watch.yaml \\
    --line-pattern "(?<time>\\S+) (?<event>\\S+) ?(?<value>\\S*)"

Exit status: 0 if every check happened and read correctly, no heartbeat is missing, and every alert is one
that the watch file would have sent; 1 otherwise; 2 bad input.

${caution}`;

/** Adds what `compare` takes. */
export function compareTakes(command: Command) {
  const basic = withWatchFile(
    command
      .description(
        'Compares a log from the real device with its watch file and door log: how wrong its clock runs, which\n' +
          'checks are missing or read wrongly, and which alerts differ from what the watch file would have sent.',
      )
      .argument('<timeline>', 'the door: a door log or a scenario; - is standard input')
      .requiredOption('--device-log <file>', 'what the device did'),
  ).option('--json', 'print what was found as JSON, schema dozewatch/compare/1');
  return withTimelineOptions(withDeviceLogOptions(basic)).addHelpText('after', afterHelp);
}

export type CompareOptions = OptionsOf<typeof compareTakes>;
