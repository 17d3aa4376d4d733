import { InvariantError } from '../base/index.js';

export function starterWatchText(_schemaPath = './schemas/watch.schema.json'): string {
  throw new InvariantError('not built yet', {});
}

export function starterScenarioText(_schemaPath = '../schemas/scenario.schema.json'): string {
  throw new InvariantError('not built yet', {});
}
