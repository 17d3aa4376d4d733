import { InvariantError, type Result, type SourceRef } from '../base/index.js';

export function parseDuration(_text: string, _source: SourceRef): Result<number> {
  throw new InvariantError('not built yet', {});
}
