// `dozewatch suite`: what it takes, and its help.

import type { Command } from '@commander-js/extra-typings';
import { inItsFolders, withWatchChoice } from '../arguments/watch-choice.js';
import type { OptionsOf } from '../command.js';
import { caution } from '../layout/caution.js';

const afterHelp = `
The watch is the one given by -c. Without -c it is the watch.yaml (.yml, .json) in the scenario's own
folder, or in the nearest folder above it up to FOLDER, or else the defaults. Files named watch.* or
*-watch.* are watch files, not scenarios. Hidden folders and node_modules are left out.

A scenario is checked against its own expect: section. If it has none, nothing may be missed, late or
false.

--on-change runs the suite, and again after each change of a file in FOLDER or of the watch file, until
you press Ctrl-C.

--against-mistakes runs the scenarios against faulty watches, each with one small mistake. A mistake is
noticed if a scenario passes with your watch and fails with the faulty one. The exit status is the same
with and without it.

Examples:
  dozewatch suite scenarios
  dozewatch suite scenarios -c watch.yaml --junit results.xml
  dozewatch suite scenarios --against-mistakes

Exit status: 0 all expectations met; 1 some were not; 2 a scenario or watch file cannot be read.

${caution}`;

/** Adds what `suite` takes. */
export function suiteTakes(command: Command) {
  return withWatchChoice(
    command
      .description(
        'Replays every scenario in a folder and in its subfolders, and checks it against its expectations.',
      )
      .argument('<folder>', 'folder with scenarios (.yaml, .yml, .json)')
      .option('-c, --config <file>', 'one watch file for all scenarios'),
    inItsFolders,
  )
    .option('--logic <file>', 'your own XState machine as the logic of the watch')
    .option('--on-change', 'run again each time a scenario, a log or a watch file changes')
    .option('--junit <file>', 'write the results as JUnit XML')
    .option('--against-mistakes', 'also find out which mistakes the scenarios would not notice')
    .option('--json', 'print the results as JSON, schema dozewatch/suite/1')
    .addHelpText('after', afterHelp);
}

export type SuiteOptions = OptionsOf<typeof suiteTakes> & {
  /** Set by `--no-config`. */
  readonly noConfig?: true | undefined;
};
