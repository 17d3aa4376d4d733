import { InvariantError, type Result } from '../base/index.js';
import type { Scenario } from './types.js';

export function parseScenario(_text: string, _file: string): Result<Scenario> {
  throw new InvariantError('not built yet', {});
}
