// `dozewatch battery`: what it takes, and its help.

import type { Command } from '@commander-js/extra-typings';
import { exampleLife, exampleSupply, supplyPresetNames } from '../../model/index.js';
import { withTimelineOptions } from '../arguments/timeline-options.js';
import type { OptionsOf } from '../command.js';
import { caution } from '../layout/caution.js';

const afterHelp = `
The watch file tells of the battery under supply:, such as
  supply: { preset: ${exampleSupply.preset}, capacity: ${exampleSupply.capacity} }
Presets: ${supplyPresetNames.join(', ')}; every key beside it goes before the preset's.

Examples:
  dozewatch battery -c watch.yaml
  dozewatch battery -c watch.yaml delivery-day.yaml outage.yaml
  dozewatch battery -c watch.yaml --chart battery.svg
  dozewatch battery -c watch.yaml --calibrate "${exampleLife}"

Exit status: 0 when the answer is given, however short the life; 2 for bad input, and for a measured
life that no sleep current explains.

Lithium cells: charge and store them within their maker's limits; these are estimates of charge, not
of safety.

${caution}`;

/** Adds what `battery` takes. */
export function batteryTakes(command: Command) {
  return withTimelineOptions(
    command
      .description(
        'Tells how long a charge lasts and where it goes: on a door that nobody opens, in closed form, and\n' +
          'along scenarios and door logs, exactly as the watch runs through them.',
      )
      .argument('[timelines...]', 'scenarios and door logs; - is standard input'),
  )
    .optionsGroup('Battery:')
    .option('--calibrate <life>', `a measured life, such as "${exampleLife}"`)
    .optionsGroup('Output:')
    .option('--chart <file>', 'draw where the charge goes, as .svg or .png')
    .option('--dark', 'light on dark, for --chart')
    .option('--json', 'print the answer as JSON, schema dozewatch/battery/1')
    .addHelpText('after', afterHelp);
}

export type BatteryOptions = OptionsOf<typeof batteryTakes>;
