// `dozewatch drill`: what it takes, and its help.

import type { Command } from '@commander-js/extra-typings';
import { Option } from '@commander-js/extra-typings';
import type { OptionsOf } from '../command.js';
import { caution } from '../layout/caution.js';

const afterHelp = `
Each step begins with power put in. The windows of its messages hold for every clock error, boot and connect
time in the ranges of the watch file, and for a person who is early or late by the tolerance.

The record is typed in, a row a message, or none:
  step,message
  1,none
  2,3:12
or it is a log of the device, as compare reads it, with the power-on of each step in it. The drill is made
anew from the same watch file and options.

Examples:
  dozewatch drill -c watch.yaml
  dozewatch drill -c watch.yaml --short -o drill.html
  dozewatch drill -c watch.yaml --quick watch-quick.yaml --format markdown
  dozewatch drill -c watch.yaml --record results.csv

Exit status: 0 when the drill is made, or every step of the record passed; 1 when a step failed or was not
tried.

${caution}`;

/** Adds what `drill` takes. */
export function drillTakes(command: Command) {
  return command
    .description(
      'Makes a test of the real device by hand: what to do at the door and when, and which messages must and\n' +
        'must not come of it; and judges what came.',
    )
    .option('-c, --config <file>', 'the watch file; without it the defaults apply')
    .option('--short', 'only both sides of the bounds and what tells mistakes, not every state')
    .option('--tolerance <duration>', 'how far from its time a person acts and notes (default: 2s)')
    .option(
      '--quick <file>',
      'write a watch file with shorter intervals, and make the drill of that',
    )
    .optionsGroup('What came of it:')
    .option(
      '--record <file>',
      'judge results that were typed in, or a log of the device; - is standard input',
    )
    .option('--zone <zone>', 'of the times of a device log without an offset')
    .optionsGroup('Output:')
    .option('-o, --output <file>', 'write the checklist into a file (default: standard output)')
    .addOption(
      new Option(
        '--format <format>',
        'of the checklist; default: as the name ends, else text',
      ).choices(['text', 'markdown', 'html'] as const),
    )
    .option('--json', 'print the drill, and what came of it, as JSON, schema dozewatch/drill/1')
    .addHelpText('after', afterHelp);
}

export type DrillOptions = OptionsOf<typeof drillTakes>;
