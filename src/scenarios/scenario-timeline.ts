import { InvariantError, type Result } from '../base/index.js';
import type { Scenario, Timeline, WatchFile } from './types.js';

export function timelineOf(
  _scenario: Scenario,
  _watchFile: WatchFile,
  _options: { readonly seed?: string | undefined } = {},
): Result<Timeline> {
  throw new InvariantError('not built yet', {});
}
