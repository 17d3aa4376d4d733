// What a log has and the watch file does not send, in words.
import { counted, listText } from '../../base/index.js';
import type { MessagesNotInFile } from '../../compare/index.js';

const nouns = { heartbeat: 'heartbeat', 'low-battery': 'low-battery message' } as const;

/** `the log has 6 heartbeats; the watch file sends none: is this the watch file of this device?` Empty: nothing. */
export function notInFileText(found: readonly MessagesNotInFile[]): string {
  if (found.length === 0) return '';
  const all = listText(found.map(({ event, count }) => counted(count, nouns[event])));
  return `the log has ${all}; the watch file sends none: is this the watch file of this device?`;
}
