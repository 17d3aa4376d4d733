// `dozewatch hunt`: what it takes, and its help.

import type { Command } from '@commander-js/extra-typings';
import type { OptionsOf } from '../command.js';
import { caution } from '../layout/caution.js';

const afterHelp = `
Properties: reported, in-time and quiet are what the judge: section asks for, and are tried by default. By
name: no-false-alarm, one-alert-per-cooldown, delivered-in-the-end, retained-memory-enough. The last two
bring the faults that they are about.

Faults: by default those that the environment: section of the watch file allows, and none without one.
--with adds usual ones: outages, power (cuts), resets, chatter (a contact that reads wrongly). What a
fault makes impossible is not held against the watch.

--mistake turns a mistake into the watch (dozewatch suite --against-mistakes names them all) and hunts for a
timeline on which its verdict is another: a scenario that would notice that mistake.

The same watch file, options and --seed give the same findings. A counterexample is made as small and
round as can be and printed as a scenario with what should have been in its expect: section; -o writes it.

Examples:
  dozewatch hunt -c watch.yaml
  dozewatch hunt -c watch.yaml --with outages,power,resets,chatter --for 30s
  dozewatch hunt -c watch.yaml --property no-false-alarm --runs 20000 --seed 7
  dozewatch hunt -c watch.yaml --mistake cooldown-from-attempt

Exit status: 0 nothing found (which proves nothing); 1 a counterexample was found; 2 bad input or usage.

${caution}`;

/** Adds what `hunt` takes. */
export function huntTakes(command: Command) {
  return command
    .description(
      'Tries to break a watch: thousands of door timelines around its own checks, with faults if asked\n' +
        'for, until one breaks what you ask of it.',
    )
    .option('-c, --config <file>', 'the watch file; without it the defaults apply')
    .option('--logic <file>', "an XState machine in place of the watch's own logic")
    .option('--property <names>', 'what should hold, in place of what judge: asks')
    .option('--with <faults>', 'what may go wrong: outages,power,resets,chatter')
    .option('--calm', 'nothing goes wrong but the door, whatever the watch file allows')
    .option('--mistake <name>', 'hunt for what tells a faulty watch from this one')
    .optionsGroup('How long and where:')
    .option('--runs <count>', 'timelines to try; default 2000, or no limit with --for')
    .option('--for <duration>', 'go on for so long, such as 30s')
    .option('--length <duration>', 'of each timeline; default 7d')
    .option('--seed <number>', 'another seed tries other timelines; default 1')
    .option('--path <text>', 'straight to an earlier finding of the same seed')
    .optionsGroup('Output:')
    .option('-o, --output <file>', 'write the counterexample into a file, as a scenario')
    .option('--json', 'print the finding as JSON, schema dozewatch/hunt/1')
    .addHelpText('after', afterHelp);
}

export type HuntOptions = OptionsOf<typeof huntTakes>;
