// `dozewatch suite`: what it takes, and its help.

import type { Command } from '@commander-js/extra-typings';
import type { OptionsOf } from '../command.js';
import { caution } from '../layout/caution.js';

const afterHelp = `
Which watch: the one given by -c; else the watch.yaml (.yml, .json) in the scenario's own folder, or in
the nearest one above it up to DIR; else the defaults. Files named watch.* or *-watch.* are watch files,
never scenarios; folders that begin with a dot, and node_modules, are left out.

A scenario is held to its own expect: section alone. One without it is held to: nothing missed, nothing
late, no false alarm.

--against-mistakes runs them against a catalogue of faulty watches, each with one small mistake. A mistake
is noticed when a scenario that the watch meets is not met with it. It also names the states and
transitions of the watch that no scenario visits. The exit status does not depend on it.

Examples:
  dozewatch suite scenarios
  dozewatch suite scenarios -c watch.yaml --junit results.xml
  dozewatch suite scenarios --against-mistakes

Exit status: 0 all expectations met; 1 some were not; 2 a scenario or watch file cannot be read.

${caution}`;

/** Adds what `suite` takes. */
export function suiteTakes(command: Command) {
  return command
    .description(
      'Replays every scenario of a folder, and of the folders in it, against its own expectations.',
    )
    .argument('<folder>', 'folder with scenarios (.yaml, .yml, .json)')
    .option('-c, --config <file>', 'the watch file for all of them')
    .option('--logic <file>', "an XState machine in place of the watch's own logic")
    .option('--junit <file>', 'write the findings as JUnit XML')
    .option(
      '--against-mistakes',
      'also say which mistakes in a watch the scenarios would not notice',
    )
    .option('--json', 'print the findings as JSON, schema dozewatch/suite/1')
    .addHelpText('after', afterHelp);
}

export type SuiteOptions = OptionsOf<typeof suiteTakes>;
