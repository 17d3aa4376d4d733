// Messages of a kind that the watch file does not send: then it is hardly the watch file of this device.
import type { WatchSettings } from '../machine/index.js';
import type { DeviceLogRow } from '../scenarios/index.js';

export interface MessagesNotInFile {
  readonly event: 'heartbeat' | 'low-battery';
  readonly count: number;
}

/** Also those that the log shows as attempted and not delivered. */
export function messagesNotInFile(
  rows: readonly DeviceLogRow[],
  { heartbeatIntervalMs, lowBattery }: Pick<WatchSettings, 'heartbeatIntervalMs' | 'lowBattery'>,
): readonly MessagesNotInFile[] {
  const kinds = [
    ...(heartbeatIntervalMs === null ? (['heartbeat'] as const) : []),
    ...(lowBattery === undefined ? (['low-battery'] as const) : []),
  ];
  return kinds
    .map((event) => ({ event, count: rows.filter((row) => row.event === event).length }))
    .filter(({ count }) => count > 0);
}
