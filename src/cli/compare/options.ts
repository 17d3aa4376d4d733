// `dozewatch compare`: what it takes, and its help.

import type { Command } from '@commander-js/extra-typings';
import { withTimelineOptions, withWatchFile } from '../arguments/timeline-options.js';
import type { OptionsOf } from '../command.js';
import { caution } from '../layout/caution.js';

const afterHelp = `
The device log is CSV with the first line time,event,value, or NDJSON with these keys:
  power-on, reset       value is empty
  check                 value: open or shut, as the contact read
  alert, heartbeat      value: delivered or failed, at the end of the attempt
Its times are ISO 8601, epoch seconds or ms, or local with --zone, from a clock that you trust: that of
the receiver or recorder of the log, not of the device.

Examples:
  dozewatch compare doors.csv --device-log device.csv -c watch.yaml
  dozewatch compare doors.csv --device-log device.ndjson -c watch.yaml --json

Exit status: 0 if every check happened and read correctly, and every alert is one that the machine would
have sent; 1 otherwise; 2 bad input.

${caution}`;

/** Adds what `compare` takes. */
export function compareTakes(command: Command) {
  const basic = withWatchFile(
    command
      .description(
        'Compares a log from the real device with its watch file and door log: how wrong its clock runs, which\n' +
          'checks are missing or read wrongly, and which alerts differ from what the machine would have sent.',
      )
      .argument('<timeline>', 'the door: a door log or a scenario; - is standard input')
      .requiredOption('--device-log <file>', 'what the device did'),
  ).option('--json', 'print what was found as JSON, schema dozewatch/compare/1');
  return withTimelineOptions(basic).addHelpText('after', afterHelp);
}

export type CompareOptions = OptionsOf<typeof compareTakes>;
