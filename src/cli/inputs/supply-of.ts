// The battery of a watch file, for commands that need it.
import { exampleSupply, type SupplySettings, supplyPresetNames } from '../../model/index.js';
import { problem } from '../problem.js';
import type { LoadedWatch } from './load-watch.js';

/** @throws InputProblem without a supply: section. */
export function supplyOf({ watchFile, name }: LoadedWatch): SupplySettings {
  if (watchFile.supply !== null) return watchFile.supply;
  throw problem('supply-missing', name ?? '--config', {
    message:
      name === null
        ? 'a watch file with a supply: section is needed'
        : 'the watch file has no supply: section',
    hint:
      `add this line to ${name ?? 'a watch file, and give it with -c'}: supply: { preset: ${exampleSupply.preset}, capacity: ${exampleSupply.capacity} } ` +
      `(presets are ${supplyPresetNames.join(', ')})`,
  });
}
