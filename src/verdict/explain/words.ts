// Small phrases that the explanations share.
import type { SendRecord } from '../../sim/index.js';

/** `1 check`, `2 checks`. */
export function countText(count: number, noun: string): string {
  return `${String(count)} ${noun}${count === 1 || noun === 'more' ? '' : 's'}`;
}

/** How sends went: `3 attempts failed`, `1 attempt was cut off`. */
export function sendsText(sends: readonly SendRecord[]): string {
  const failed = sends.filter(({ outcome }) => outcome === 'failed').length;
  const cutOff = sends.filter(({ outcome }) => outcome === 'cutOff').length;
  const parts: string[] = [];
  if (failed > 0) parts.push(`${countText(failed, 'attempt')} failed`);
  if (cutOff > 0) parts.push(`${countText(cutOff, 'attempt')} cut off`);
  return parts.join(', ');
}
