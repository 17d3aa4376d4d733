import { InvariantError, type Result } from '../base/index.js';
import type { DoorLog, LogTimelineOptions, Timeline, WatchFile } from './types.js';

export function timelineOfLog(
  _log: DoorLog,
  _watchFile: WatchFile,
  _options: LogTimelineOptions,
): Result<Timeline> {
  throw new InvariantError('not built yet', {});
}
