// `dozewatch battery`: what it takes, and its help.

import type { Command } from '@commander-js/extra-typings';
import { exampleLife, exampleSupply, supplyPresetNames } from '../../model/index.js';
import { collected } from '../arguments/repeated.js';
import { withTimelineOptions, withWatchFile } from '../arguments/timeline-options.js';
import type { OptionsOf } from '../command.js';
import { caution } from '../layout/caution.js';

const afterHelp = `
The watch file describes the battery under supply:, such as
  supply: { preset: ${exampleSupply.preset}, capacity: ${exampleSupply.capacity} }
Presets: ${supplyPresetNames.join(', ')}. Other keys override the preset.

Examples:
  dozewatch battery -c watch.yaml
  dozewatch battery -c watch.yaml delivery-day.yaml outage.yaml
  dozewatch battery -c watch.yaml --chart battery.svg
  dozewatch battery -c watch.yaml --calibrate "${exampleLife}"
  dozewatch battery -c watch.yaml --calibrate "800mAh lasted 40d at 2m" \\
    --calibrate "800mAh lasted 70d at 10m"

Exit status: 0 when the answer is given, however short the life; 2 bad input, or a measured life that
no sleep current explains.

These are estimates of charge, not of safety. Charge and store cells within their maker's limits, and
never charge cells that are not made for it.
${caution}`;

/** Adds what `battery` takes. */
export function batteryTakes(command: Command) {
  const basic = withWatchFile(
    command
      .description(
        'Computes how long a charge, or a set of cells, lasts and what uses it: with a door that nobody\n' +
          'opens, and over the scenarios and door logs that you give.',
      )
      .argument('[timelines...]', 'scenarios and door logs; - is standard input'),
    { help: 'the watch file, with a supply: section' },
  )
    .option(
      '--calibrate <life>',
      `fit the sleep current to a measured life: "${exampleLife}"; twice, at two check intervals ("${exampleLife} at 2m"), also what a wake takes`,
      collected,
    )
    .optionsGroup('Output:')
    .option('--chart <file>', 'draw what uses the charge, as .svg or .png')
    .option('--dark', 'draw light on dark')
    .option('--json', 'print the answer as JSON, schema dozewatch/battery/1');
  return withTimelineOptions(basic).addHelpText('after', afterHelp);
}

export type BatteryOptions = OptionsOf<typeof batteryTakes>;
