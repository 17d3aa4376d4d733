import { InvariantError, type Result, type SourceRef } from '../base/index.js';

export function parseInstant(
  _text: string,
  _zone: string | null,
  _source: SourceRef,
): Result<number> {
  throw new InvariantError('not built yet', {});
}
