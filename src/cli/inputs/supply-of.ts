// The battery of a watch file, for commands that need it.
import { exampleSupply, type SupplySettings, supplyPresetNames } from '../../model/index.js';
import { problem } from '../problem.js';
import type { LoadedWatch } from './load-watch.js';

/** @param needs what needs it, where not the whole command does. @throws InputProblem without a supply: section. */
export function supplyOf({ watchFile, name }: LoadedWatch, needs?: string): SupplySettings {
  if (watchFile.supply !== null) return watchFile.supply;
  throw problem('supply-missing', name ?? '--config', {
    message:
      needs !== undefined
        ? `${needs} needs a watch file with a supply: section`
        : name === null
          ? 'a watch file with a supply: section is needed'
          : 'the watch file has no supply: section',
    hint:
      `add this line to ${name ?? 'a watch file, and give it with -c'}: supply: { preset: ${exampleSupply.preset}, capacity: ${exampleSupply.capacity} } ` +
      `(presets are ${supplyPresetNames.join(', ')})`,
  });
}
