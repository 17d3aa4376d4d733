// `dozewatch chart`: what it takes, and its help.

import type { Command } from '@commander-js/extra-typings';
import { mostCloseUps, pictureWidthLimits } from '../../model/index.js';
import { withTimelineOptions, withWatchFile } from '../arguments/timeline-options.js';
import { wholeNumber } from '../arguments/whole-number.js';
import type { OptionsOf } from '../command.js';

const afterHelp = `
Examples:
  dozewatch chart delivery-day.yaml -c watch.yaml -o delivery-day.svg
  dozewatch chart doors.csv -c watch.yaml -o doors.png --close-ups 6
  dozewatch chart delivery-day.yaml -c watch.yaml --dark > delivery-day.svg
  dozewatch chart delivery-day.yaml -c watch.yaml -o delivery-day.vcd    # for a waveform viewer

Exit status: 0 when the picture is drawn, whatever it shows (replay judges); 2 bad input.
`;

/** Adds what `chart` takes. */
export function chartTakes(command: Command) {
  const basic = withWatchFile(
    command
      .description(
        'Draws a timeline and what the watch did: an overview, and a close-up of every door left open and\n' +
          'every alert.',
      )
      .argument('<timeline>', 'a scenario or a door log; - is standard input'),
  )
    .optionsGroup('Picture:')
    .option('-o, --output <file>', '.svg, .png, .html or .vcd; - is standard output, as SVG', '-')
    .option('--svg', 'write SVG, whatever the file name is')
    .option('--png', 'write PNG')
    .option('--html', 'write a page with a timeline that can be zoomed')
    .option('--vcd', 'write a value change dump (IEEE 1364-2005) with steps of 1 ms')
    .option('--dark', 'draw light on dark')
    .option(
      '--close-ups <count>',
      'draw at most this many close-ups',
      wholeNumber('--close-ups', { least: 0, most: mostCloseUps }),
    )
    .option('--title <text>', 'title (default: the name of the timeline)')
    .option('--width <pixels>', 'width of the picture', wholeNumber('--width', pictureWidthLimits))
    .option('--json', 'print what was written as JSON, schema dozewatch/chart/1');
  return withTimelineOptions(basic).addHelpText('after', afterHelp);
}

export type ChartOptions = OptionsOf<typeof chartTakes>;
