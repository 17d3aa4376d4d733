// `dozewatch margin`: what it takes, and its help.

import type { Command } from '@commander-js/extra-typings';
import type { OptionsOf } from '../command.js';
import { caution } from '../layout/caution.js';

const afterHelp = `
Temperatures: 4C, -18C, 46F; a number without a unit is in °C. Give --tau-open, --tau-ajar, --readings,
or the doorway and the volume of the room. A time constant is how long the space takes to cover 63 % of
the way to the outside temperature.

Named limits (local rules come first): cold-food, thawed-food, freezer, vaccines, vaccines-cold,
cut-flowers, chill-sensitive-flowers.

The model has one time constant. It knows no melting, and no goods that lag behind the air: where food
or medicine is at stake, measure in the goods, and follow the rules of the place.

Examples:
  dozewatch margin --start 1C --outside 18C --limit cut-flowers --tau-open 5h --worst-delay 8m --response 15m
  dozewatch margin --start 3C --outside 24C --limit cold-food --readings warming.csv -c watch.yaml --response 20m
  dozewatch margin --start 2C --outside 25C --limit 8C --door-width 1m --door-height 2m --volume 12m3 \\
    -c watch.yaml --response 10m

  dozewatch margin --start 1C --outside 18C --limit cut-flowers --tau-open 5h --worst-delay 8m \\
    --chart margin.svg

Exit status: 0 if the door is shut in time in every case; 1 otherwise; 2 bad input.

${caution}`;

/** Adds what `margin` takes. */
export function marginTakes(command: Command) {
  return command
    .description(
      'Computes how long the space behind an open door takes to reach a limit, and how much of that time is\n' +
        'left after the worst detection latency and your way to the door.',
    )
    .option('-c, --config <file>', 'watch file whose worst detection latency is proved, at rest')
    .optionsGroup('Temperatures:')
    .option('--start <temperature>', 'inside, when the door opens')
    .option('--outside <temperature>', 'outside, where the space warms or cools to')
    .option('--limit <temperature or name>', 'the temperature that it must not pass')
    .optionsGroup('How fast it warms:')
    .option('--tau-open <duration>', 'time constant with the door open')
    .option('--tau-ajar <duration>', 'time constant with the door ajar')
    .option('--readings <file>', 'fit it to a CSV of time and temperature with the door open')
    .option('--door-width <length>', 'width of the doorway of a walk-in room')
    .option('--door-height <length>', 'height of the doorway')
    .option('--volume <volume>', 'volume of air in the room, such as 12m3')
    .optionsGroup('How soon the door is shut:')
    .option('--worst-delay <duration>', 'worst detection latency, instead of -c')
    .option('--response <duration>', 'from the alert until somebody shuts the door', '0s')
    .optionsGroup('Output:')
    .option('--chart <file>', 'draw the temperature against time, as .svg or .png')
    .option('--dark', 'draw light on dark')
    .option('--json', 'print the answer as JSON, schema dozewatch/margin/1')
    .addHelpText('after', afterHelp);
}

export type MarginOptions = OptionsOf<typeof marginTakes>;
