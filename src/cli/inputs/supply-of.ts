// What a watch file says of the battery, for commands that cannot do without.
import { exampleSupply, type SupplySettings, supplyPresetNames } from '../../model/index.js';
import { problem } from '../problem.js';
import type { LoadedWatch } from './load-watch.js';

/** @throws InputProblem when it says nothing. */
export function supplyOf({ watchFile, name }: LoadedWatch): SupplySettings {
  if (watchFile.supply !== null) return watchFile.supply;
  throw problem('supply-missing', name ?? '--config', {
    message:
      name === null
        ? 'no watch file is given, so nothing is known of the battery'
        : 'the watch file says nothing of the battery',
    expected: 'a supply: section',
    hint:
      `add this line to ${name ?? 'a watch file'}: supply: { preset: ${exampleSupply.preset}, capacity: ${exampleSupply.capacity} } ` +
      `(presets are ${supplyPresetNames.join(', ')})`,
  });
}
