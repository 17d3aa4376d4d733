// `dozewatch margin`: what it takes, and its help.

import type { Command } from '@commander-js/extra-typings';
import type { OptionsOf } from '../command.js';
import { caution } from '../layout/caution.js';

const afterHelp = `
Temperatures: 4C, -18C, 46F; a bare number is in °C. Give at least one of --tau-open, --tau-ajar,
--readings, or a doorway with its room. A time constant is how long the space takes to come 63 % of
the way to the outside temperature.

Named limits (local rules come first): cold-food, thawed-food, freezer, vaccines, vaccines-cold,
cut-flowers, chill-sensitive-flowers.

Examples:
  dozewatch margin --start 1C --outside 18C --limit cut-flowers --tau-open 5h --worst-delay 8m --response 15m
  dozewatch margin --start 3C --outside 24C --limit cold-food --readings warming.csv -c watch.yaml --response 20m
  dozewatch margin --start 2C --outside 25C --limit 8C --door-width 1m --door-height 2m --volume 12m3 \\
    -c watch.yaml --response 10m

Exit status: 0 when somebody comes in time in every case; 1 when not; 2 for bad input.

The model is one time constant: melting and goods that lag behind the air are not in it. Where food or
medicine is at stake, measure in the goods, and follow the rules of the place.

${caution}`;

/** Adds what `margin` takes. */
export function marginTakes(command: Command) {
  return command
    .description(
      'Tells how long a space with its door open takes to a limit, and what the worst detection latency\n' +
        'and the way of its owner to the door leave of that.',
    )
    .optionsGroup('Temperatures:')
    .option('--start <temperature>', 'inside, when the door opens')
    .option('--outside <temperature>', 'what the space goes towards')
    .option('--limit <temperature or name>', 'what it must not pass')
    .optionsGroup('How fast it warms:')
    .option('--tau-open <duration>', 'time constant with the door open')
    .option('--tau-ajar <duration>', 'time constant with the door ajar')
    .option('--readings <file>', 'CSV with time and temperature, door open: fits a time constant')
    .option('--door-width <length>', 'doorway of a walk-in room, for the exchange of air')
    .option('--door-height <length>', 'its height')
    .option('--volume <volume>', 'of air in that room, such as 12m3')
    .optionsGroup('How soon somebody comes:')
    .option('--worst-delay <duration>', 'worst detection latency, as bounds proves it')
    .option('-c, --config <file>', 'a watch file, for its worst detection latency from rest')
    .option('--response <duration>', 'from the alert to the door being shut', '0s')
    .optionsGroup('Output:')
    .option('--json', 'print the answer as JSON, schema dozewatch/margin/1')
    .addHelpText('after', afterHelp);
}

export type MarginOptions = OptionsOf<typeof marginTakes>;
