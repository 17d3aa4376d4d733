import { InvariantError, type Result } from '../base/index.js';
import type { WatchFile } from './types.js';

export function parseWatchFile(_text: string, _file: string): Result<WatchFile> {
  throw new InvariantError('not built yet', {});
}

/** What an owner gets who sets nothing. */
export function defaultWatchFile(): WatchFile {
  throw new InvariantError('not built yet', {});
}
