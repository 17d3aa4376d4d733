// `dozewatch merge`: what it takes, and its help.

import type { Command } from '@commander-js/extra-typings';
import type { OptionsOf } from '../command.js';
import { caution } from '../layout/caution.js';

const afterHelp = `
All parts of one estimate, in any order, give the result that one run would have given, byte for byte.

Examples:
  dozewatch merge part-1.json part-2.json
  dozewatch merge parts/*.json --json

The parts come from estimate, on as many machines as there are parts:
  dozewatch estimate -c watch.yaml --profile seed-bank --years 100000 --shard 1/2 -o part-1.json
  dozewatch estimate -c watch.yaml --profile seed-bank --years 100000 --shard 2/2 -o part-2.json

Exit status: 0 when the parts make a whole; 2 when they do not.

${caution}`;

/** Adds what `merge` takes. */
export function mergeTakes(command: Command) {
  return command
    .description('Joins the parts that dozewatch estimate --shard wrote.')
    .argument('<files...>', 'part files, all of them')
    .option('--confidence <share>', 'of the intervals', '95%')
    .option('--json', 'print the estimate as JSON, schema dozewatch/estimate/1')
    .addHelpText('after', afterHelp);
}

export type MergeOptions = OptionsOf<typeof mergeTakes>;
