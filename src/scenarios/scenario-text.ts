import { InvariantError } from '../base/index.js';
import type { Scenario } from './types.js';

export function scenarioText(_scenario: Scenario): string {
  throw new InvariantError('not built yet', {});
}
