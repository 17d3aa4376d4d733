// `dozewatch report`: what it takes, and its help.

import type { Command } from '@commander-js/extra-typings';
import { withTimelineOptions } from '../arguments/timeline-options.js';
import type { OptionsOf } from '../command.js';
import { caution } from '../layout/caution.js';

const afterHelp = `
Examples:
  dozewatch report delivery-day.yaml -c watch.yaml -o report.html
  dozewatch report doors.csv -c watch.yaml --zone Europe/Oslo -o report.html
  dozewatch report may.yaml june.yaml -c watch.yaml --title "Cool store, two months" -o store.html

The page is one file: it opens from disk, asks nothing of any network, prints, and can be sent.

Exit status: 0 when the page is written, whatever it shows; replay judges.

${caution}`;

/** Adds what `report` takes. */
export function reportTakes(command: Command) {
  return withTimelineOptions(
    command
      .description(
        'Writes what a watch did in scenarios or door logs as one page: verdict, timeline to zoom into,\n' +
          'every miss and false alarm with its reason, what is proved, battery, settings.',
      )
      .argument('<timelines...>', 'scenarios and door logs; - is standard input'),
  )
    .optionsGroup('Page:')
    .requiredOption('-o, --output <file>', 'where to write the page, such as report.html')
    .option('--title <text>', "in place of the timeline's name")
    .option('--no-bounds', 'leave out what is proved of the watch')
    .option('--json', 'print what was written as JSON, schema dozewatch/report/1')
    .addHelpText('after', afterHelp);
}

export type ReportOptions = OptionsOf<typeof reportTakes>;
