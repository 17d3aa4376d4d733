import { type Diagnostic, InvariantError } from '../base/index.js';
import type { WatchFile } from './types.js';

export function watchWarnings(_file: WatchFile): readonly Diagnostic[] {
  throw new InvariantError('not built yet', {});
}
