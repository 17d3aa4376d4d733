// `dozewatch hunt`: what it takes, and its help.

import type { Command } from '@commander-js/extra-typings';
import { withWatchFile } from '../arguments/timeline-options.js';
import { inFolder } from '../arguments/watch-choice.js';
import type { OptionsOf } from '../command.js';
import { caution } from '../layout/caution.js';

const afterHelp = `
Properties: reported, in-time and quiet are the requirements of the judge: section, and are tried by
default. Others by name: no-false-alarm, one-alert-per-cooldown, delivered-in-the-end,
retained-memory-enough. The last two bring the faults that they are about.

Faults: by default those that the environment: section of the watch file allows. --with adds outages,
power (power losses), resets or chatter (a contact that reads wrongly). An alert that a fault makes
impossible does not count.

A finding is reduced to a short scenario and printed; -o writes it. The same watch file, options and
--seed give the same finding. A long hunt goes on with further seeds, hashed from that one: the line
after "Again" goes straight to the finding.

Examples:
  dozewatch hunt -c watch.yaml
  dozewatch hunt -c watch.yaml --with outages,power,resets,chatter --for 30s
  dozewatch hunt -c watch.yaml --property no-false-alarm --runs 20000 --seed 7
  dozewatch hunt -c watch.yaml --mistake cooldown-from-attempt

Exit status: 0 nothing found (which proves nothing); 1 a counterexample was found; 2 bad input.

${caution}`;

/** Adds what `hunt` takes. */
export function huntTakes(command: Command) {
  return withWatchFile(
    command.description(
      'Tries to break a watch with thousands of door timelines, until one of them breaks a requirement.',
    ),
    { look: inFolder },
  )
    .option('--logic <file>', 'your own XState machine as the logic of the watch')
    .option('--property <names>', 'what to break (default: the requirements of the watch file)')
    .option('--with <faults>', 'what may also go wrong: outages,power,resets,chatter')
    .option('--calm', 'no faults, whatever the watch file allows')
    .option('--mistake <name>', 'find a scenario that notices this mistake (suite lists them)')
    .option('-o, --output <file>', 'write the counterexample as a scenario')
    .option('--json', 'print the counterexample as JSON, schema dozewatch/hunt/1')
    .optionsGroup('How long and where:')
    .option('--runs <count>', 'timelines to try (default: 2000; with --for: no limit)')
    .option('--for <duration>', 'time to spend, such as 30s')
    .option('--length <duration>', 'length of the longest timelines (default: 7d)')
    .option('--seed <text>', 'another seed tries other timelines (default: 1)')
    .option('--path <text>', 'go straight to an earlier counterexample of the same seed')
    .addHelpText('after', afterHelp);
}

export type HuntOptions = OptionsOf<typeof huntTakes>;
