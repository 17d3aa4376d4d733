// What dozewatch writes, it reads, and reads as the same.
import { isDeepStrictEqual } from 'node:util';
import {
  overlaidWatchText,
  parseScenario,
  parseWatchFile,
  type Scenario,
  scenarioText,
} from '../../../src/scenarios/index.js';
import type { VaryingMs } from '../../../src/world/index.js';
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

/** Lines differ, and a list that ends with the same value again and again is written with it once. */
function withoutPlaces({ door, environment, ...scenario }: Scenario): object {
  const { bootTime, connectTime } = environment;
  return {
    ...scenario,
    door: door.map(({ source: _, gapSource: __, ...opening }) => opening),
    environment: {
      ...environment,
      bootTime: withOneLast(bootTime),
      connectTime: withOneLast(connectTime),
    },
  };
}

function withOneLast(time: VaryingMs | null): VaryingMs | null {
  if (time?.kind !== 'inTurn') return time;
  const last = time.ms.at(-1);
  const kept = time.ms.findLastIndex((ms) => ms !== last) + 2;
  return { ...time, ms: time.ms.slice(0, kept) };
}
