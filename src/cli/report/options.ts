// `dozewatch report`: what it takes, and its help.

import type { Command } from '@commander-js/extra-typings';
import { withTimelineOptions, withWatchFile } from '../arguments/timeline-options.js';
import type { OptionsOf } from '../command.js';
import { caution } from '../layout/caution.js';

const afterHelp = `
Examples:
  dozewatch report delivery-day.yaml -c watch.yaml -o report.html
  dozewatch report doors.csv -c watch.yaml --zone Europe/Oslo -o report.html
  dozewatch report may.yaml june.yaml -c watch.yaml --title "Cool store, two months" -o store.html

The page is one file. It opens from disk, needs no network, and can be printed and sent.

Exit status: 0 when the page is written, whatever it shows (replay judges); 2 bad input.

${caution}`;

/** Adds what `report` takes. */
export function reportTakes(command: Command) {
  const basic = withWatchFile(
    command
      .description(
        'Writes what a watch did in scenarios or door logs as one page: the verdict, a timeline to zoom,\n' +
          'every miss and false alarm with its reason, proved bounds, battery and settings.',
      )
      .argument('<timelines...>', 'scenarios and door logs; - is standard input'),
  )
    .requiredOption('-o, --output <file>', 'the page to write, such as report.html')
    .option('--title <text>', 'title (default: the name of the timeline)')
    .option('--no-bounds', 'leave out the data sheet and the detection curve')
    .option('--json', 'print what was written as JSON, schema dozewatch/report/1');
  return withTimelineOptions(basic).addHelpText('after', afterHelp);
}

export type ReportOptions = OptionsOf<typeof reportTakes>;
