import { InvariantError } from '../base/index.js';
import type { DoorLogOptions, DoorLogReader } from './types.js';

export function openDoorLog(_options: DoorLogOptions): DoorLogReader {
  throw new InvariantError('not built yet', {});
}
