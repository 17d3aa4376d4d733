// `dozewatch place`: what it takes, and its help.
import type { Command } from '@commander-js/extra-typings';
import type { OptionsOf } from '../command.js';
import { caution } from '../layout/caution.js';

const afterHelp = `
Without a file it prints the sheet to fill in at the door. The file has a row for each trial: closing or
opening, the gap in mm, and what the contact read (open or shut). By how many mm the gap may be wrong can
follow. Move the door one way only within a trial; use shims or a ruler.

With --sleep-current the sheet is for measuring what the device draws asleep, with a meter in series or
by the fall of the voltage of its cells, and the answer is a supply: section.

Examples:
  dozewatch place                              # print the sheet
  dozewatch place -o sheet.html                # a page to print
  dozewatch place trials.csv --sticks-at 12mm
  dozewatch place --sleep-current -o sheet.html

Exit status: 0 if both gaps are found, no row contradicts, and a door that sticks is seen, or if a
current is found; 1 otherwise; 2 bad input.

${caution}`;

/** Adds what `place` takes. */
export function placeTakes(command: Command) {
  return command
    .description(
      'Finds out where the magnet belongs: a sheet for trials at the door, and from the trials the gaps\n' +
        'at which the contact shuts and opens, for the watch file.',
    )
    .argument('[trials]', 'CSV of direction, gap and reading; - reads standard input')
    .option('-c, --config <file>', 'watch file with the gap up to which the door seals')
    .option('--sticks-at <gap>', 'where the door sometimes rests, such as 12mm')
    .option('--sleep-current', 'the sheet for, or the answer from, readings of the current asleep')
    .optionsGroup('Output:')
    .option('-o, --output <file>', 'write the sheet as a page to print (.html)')
    .option('--json', 'print the answer as JSON, schema dozewatch/place/1')
    .addHelpText('after', afterHelp);
}

export type PlaceOptions = OptionsOf<typeof placeTakes>;
