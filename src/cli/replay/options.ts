// `dozewatch replay`: what it takes, and its help.

import type { Command } from '@commander-js/extra-typings';
import { withTimelineOptions, withWatchFile } from '../arguments/timeline-options.js';
import type { OptionsOf } from '../command.js';
import { caution } from '../layout/caution.js';

const afterHelp = `
Examples:
  dozewatch replay delivery-day.yaml -c watch.yaml
  dozewatch replay doors.csv -c watch.yaml --zone Europe/Oslo --from 2026-05-01T00:00
  dozewatch replay doors.csv -c watch.yaml --every-phase
  dozewatch replay doors.csv -c watch.yaml --json > verdict.json
  dozewatch replay delivery-day.yaml -c watch.yaml --logic logic.mjs
  journal-export | dozewatch replay - --format ndjson -c watch.yaml --trace wakes.ndjson

Exit status: 0 if nothing was missed or late, no alarm was false, and every expectation was met;
1 otherwise, even if a scenario expects a miss (suite checks expectations only); 2 bad input.
With --every-phase also 1 if any phase misses, is late or raises a false alarm.

${caution}`;

/** Adds what `replay` takes. */
export function replayTakes(command: Command) {
  const basic = withWatchFile(
    command
      .description(
        'Runs scenarios or door logs through a watch in virtual time, and judges what it did: which\n' +
          'leave-opens it reported, how late, and which it missed.',
      )
      .argument('<timelines...>', 'scenarios and door logs; - is standard input'),
  )
    .option('--every-phase', 'judge every phase of the checks, not only one')
    .option('--logic <file>', 'your own XState machine as the logic of the watch')
    .optionsGroup('Output:')
    .option('--json', 'print the verdict as JSON, schema dozewatch/replay/2')
    .option('--all', 'show every row of long tables')
    .option('--trace <file>', 'write every wake of the device as NDJSON')
    .option('--chart <file>', 'draw the timeline, as .svg, .png, .html or .vcd');
  return withTimelineOptions(basic).addHelpText('after', afterHelp);
}

export type ReplayOptions = OptionsOf<typeof replayTakes>;
