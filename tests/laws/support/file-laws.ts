// What dozewatch writes, it reads, and reads as the same.
import { isDeepStrictEqual } from 'node:util';
import {
  overlaidWatchText,
  parseScenario,
  parseWatchFile,
  type Scenario,
  scenarioText,
} from '../../../src/scenarios/index.js';
import type { Broken, LawCase } from './law-case.js';

/** A watch file and a scenario, written out again, say what they said. */
export function fileLaw({ watchText, watchFile, scenario }: LawCase): Broken {
  const again = parseWatchFile(
    overlaidWatchText(watchText, 'watch.yaml', { overrides: [], comment: ['a law'] }),
    'watch.yaml',
  );
  const scene = parseScenario(scenarioText(scenario, ['a law']), 'scenario.yaml');
  return [
    ...(again.ok && isDeepStrictEqual(again.value, watchFile)
      ? []
      : ['a watch file written again is another']),
    ...(scene.ok && isDeepStrictEqual(withoutPlaces(scene.value), withoutPlaces(scenario))
      ? []
      : [`a scenario written again is another: ${JSON.stringify(scene)}`]),
  ];
}

/** Lines differ; and a stretch that reaches beyond the end is written as it is. */
function withoutPlaces({ door, ...scenario }: Scenario): object {
  return { ...scenario, door: door.map(({ source: _, ...opening }) => opening) };
}
