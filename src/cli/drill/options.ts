// `dozewatch drill`: what it takes, and its help.

import type { Command } from '@commander-js/extra-typings';
import { Option } from '@commander-js/extra-typings';
import { withWatchFile } from '../arguments/timeline-options.js';
import { inFolder } from '../arguments/watch-choice.js';
import type { OptionsOf } from '../command.js';
import { caution } from '../layout/caution.js';

const afterHelp = `
Each step begins when the device gets its power. The times of its messages allow for every clock error,
boot and connect time in the ranges of the watch file, and for a person who is early or late by the
tolerance.

The record is a CSV that you type, with one row for each message, or none; the times count from the
power-on of the step:
  step,message
  1,none
  2,3:12
It can also be a log of the device, as compare reads it, with the power-on of each step. Give the same
watch file and options as for the checklist.

Examples:
  dozewatch drill -c watch.yaml
  dozewatch drill -c watch.yaml --short -o drill.html
  dozewatch drill -c watch.yaml --quick watch-quick.yaml --format markdown
  dozewatch drill -c watch.yaml --record results.csv

Exit status: 0 when the checklist is made, or every step of the record passed; 1 if a step failed or was
not tried; 2 bad input.

${caution}`;

/** Adds what `drill` takes. */
export function drillTakes(command: Command) {
  return withWatchFile(
    command.description(
      'Makes a checklist for testing the real device by hand: what to do at the door and when, and which\n' +
        'messages must and must not arrive. Then judges what you recorded.',
    ),
    { look: inFolder },
  )
    .option('--short', 'test both sides of the bounds and notice mistakes, but not every state')
    .option('--without <kinds>', 'leave out kinds of step: reset,network,power,heartbeat')
    .option('--tolerance <duration>', 'how far from its time a person acts and notes (default: 2s)')
    .option('--quick <file>', 'write a watch file with shorter intervals, and drill that one')
    .optionsGroup('Judge a drill:')
    .option('--record <file>', 'typed results, or a log of the device; - is standard input')
    .option('--zone <zone>', 'zone of times without an offset in a device log')
    .optionsGroup('Output:')
    .option('-o, --output <file>', 'write the checklist to a file (default: standard output)')
    .addOption(
      new Option(
        '--format <format>',
        'format of the checklist (default: by the file name, or text)',
      ).choices(['text', 'markdown', 'html'] as const),
    )
    .option('--json', 'print the drill and its results as JSON, schema dozewatch/drill/1')
    .addHelpText('after', afterHelp);
}

export type DrillOptions = OptionsOf<typeof drillTakes>;
