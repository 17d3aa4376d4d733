// `dozewatch replay`: what it takes, and its help.

import type { Command } from '@commander-js/extra-typings';
import { withTimelineOptions } from '../arguments/timeline-options.js';
import type { OptionsOf } from '../command.js';
import { caution } from '../layout/caution.js';

const afterHelp = `
Examples:
  dozewatch replay delivery-day.yaml -c watch.yaml
  dozewatch replay doors.csv -c watch.yaml --zone Europe/Oslo --from 2026-05-01T00:00
  dozewatch replay doors.csv -c watch.yaml --json > verdict.json
  dozewatch replay delivery-day.yaml -c watch.yaml --logic logic.mjs
  journal-export | dozewatch replay - --format ndjson -c watch.yaml --trace wakes.ndjson

Exit status: 0 when nothing was missed, nothing late, no alarm false, and every expectation of a
scenario met; 1 otherwise, even where a scenario expects a miss (a suite goes by expectations alone).

${caution}`;

/** Adds what `replay` takes. */
export function replayTakes(command: Command) {
  return withTimelineOptions(
    command
      .description(
        'Drives scenarios (.yaml, .json) or door logs (.csv, .tsv, .ndjson) through a watch in virtual\n' +
          'time, and judges what it did: which leave-opens it reported, how late, and what it missed.',
      )
      .argument('<timelines...>', 'scenarios and door logs; - is standard input')
      .option('--logic <file>', "an XState machine in place of the watch's own logic"),
  )
    .optionsGroup('Output:')
    .option('--json', 'print the verdict as JSON, schema dozewatch/replay/1')
    .option('--all', 'show every row of long tables')
    .option('--trace <file>', 'write every wake of the device as NDJSON')
    .option('--chart <file>', 'draw the timeline, as .svg or .png')
    .addHelpText('after', afterHelp);
}

export type ReplayOptions = OptionsOf<typeof replayTakes>;
