// Spans of a margin, for its report and its picture alike.
import { dayMs, roughDurationText, roundedDurationText, type Said } from '../base/index.js';

/** To the second, so that the parts add up; of a day and more seconds say nothing, and have no room. */
export function marginSpanText(ms: number, said?: Said): string {
  return Math.abs(ms) < dayMs ? roundedDurationText(ms, said) : roughDurationText(ms, said);
}
