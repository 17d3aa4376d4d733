// `dozewatch chart`: what it takes, and its help.

import type { Command } from '@commander-js/extra-typings';
import { withTimelineOptions } from '../arguments/timeline-options.js';
import { wholeNumber } from '../arguments/whole-number.js';
import type { OptionsOf } from '../command.js';
import { caution } from '../layout/caution.js';

const afterHelp = `
Examples:
  dozewatch chart delivery-day.yaml -c watch.yaml -o delivery-day.svg
  dozewatch chart doors.csv -c watch.yaml -o doors.png --close-ups 6
  dozewatch chart delivery-day.yaml -c watch.yaml --dark > delivery-day.svg
  dozewatch chart delivery-day.yaml -c watch.yaml -o delivery-day.vcd    # for a waveform viewer

Exit status: 0 when the picture is drawn, whatever it shows; replay judges.

${caution}`;

/** Adds what `chart` takes. */
export function chartTakes(command: Command) {
  return withTimelineOptions(
    command
      .description(
        'Draws a timeline and what the watch did in it: an overview, and a close-up of every leave-open\n' +
          'and every alert.',
      )
      .argument('<timeline>', 'a scenario or a door log; - is standard input'),
  )
    .optionsGroup('Picture:')
    .option('-o, --output <file>', '.svg, .png, .html or .vcd; - is standard output, as SVG', '-')
    .option('--svg', 'write SVG, whatever the name says')
    .option('--png', 'write PNG')
    .option('--html', 'write a page with the timeline to zoom into')
    .option('--vcd', 'write a value change dump (IEEE 1364-2005), 1 ms a step')
    .option('--dark', 'light on dark')
    .option(
      '--close-ups <count>',
      'at most so many close-ups; the rest is counted',
      wholeNumber('--close-ups', { least: 0, most: 1_000 }),
    )
    .option('--title <text>', "in place of the timeline's name")
    .option(
      '--width <pixels>',
      'width of the picture',
      wholeNumber('--width', { least: 560, most: 4_000 }),
    )
    .option('--json', 'print what was written as JSON, schema dozewatch/chart/1')
    .addHelpText('after', afterHelp);
}

export type ChartOptions = OptionsOf<typeof chartTakes>;
