// `dozewatch compare`: what it takes, and its help.

import type { Command } from '@commander-js/extra-typings';
import { withTimelineOptions } from '../arguments/timeline-options.js';
import type { OptionsOf } from '../command.js';
import { caution } from '../layout/caution.js';

const afterHelp = `
The device log is CSV with a first line time,event,value, or NDJSON with these keys:
  power-on, reset       value is empty
  check                 value: open or shut, as its contact read
  alert, heartbeat      value: delivered or failed, at the end of the attempt
Times are those of the door log (ISO 8601, epoch seconds or ms, or local with --zone), by a clock that
can be trusted: whoever receives or records the log, not the device.

Examples:
  dozewatch compare doors.csv --device-log device.csv -c watch.yaml
  dozewatch compare doors.csv --device-log device.ndjson -c watch.yaml --json

Exit status: 0 when every check happened and read right and every alert was as the machine would have sent
it; 1 otherwise.

${caution}`;

/** Adds what `compare` takes. */
export function compareTakes(command: Command) {
  return withTimelineOptions(
    command
      .description(
        'Holds a log of the real device against its watch file and the door: how wrong its clock runs, which\n' +
          'checks never happened or read wrongly, and which alerts differ from what the machine would have sent.',
      )
      .argument('<timeline>', 'the door: a door log or a scenario; - is standard input')
      .requiredOption('--device-log <file>', 'what the device did'),
  )
    .optionsGroup('Output:')
    .option('--json', 'print what was found as JSON, schema dozewatch/compare/1')
    .addHelpText('after', afterHelp);
}

export type CompareOptions = OptionsOf<typeof compareTakes>;
