// `dozewatch merge`: what it takes, and its help.

import type { Command } from '@commander-js/extra-typings';
import type { OptionsOf } from '../command.js';
import { caution } from '../layout/caution.js';

const afterHelp = `
All parts of one estimate, in any order, give the same result as a single run, byte for byte.

Examples:
  dozewatch estimate -c watch.yaml --profile seed-bank --years 100000 --shard 1/2 -o part-1.json
  dozewatch estimate -c watch.yaml --profile seed-bank --years 100000 --shard 2/2 -o part-2.json
  dozewatch merge part-1.json part-2.json
  dozewatch merge parts/*.json --json

Exit status: 0 when all parts are there and belong together; 2 otherwise.

${caution}`;

/** Adds what `merge` takes. */
export function mergeTakes(command: Command) {
  return command
    .description('Joins the parts of an estimate that estimate --shard wrote.')
    .argument('<files...>', 'all part files')
    .option('--confidence <share>', 'confidence of the intervals', '95%')
    .option('--chart <file>', 'draw how the years differ, as .svg or .png')
    .option('--dark', 'draw light on dark')
    .option('--json', 'print the estimate as JSON, schema dozewatch/estimate/1')
    .addHelpText('after', afterHelp);
}

export type MergeOptions = OptionsOf<typeof mergeTakes>;
