// A stretch of the timeline that is looked at.
import type { Spans } from '../../world/index.js';

/** Half-open. */
export interface Window {
  readonly fromMs: number;
  readonly toMs: number;
}

/** The part of a span that lies in the window, or null. */
export function clipped(span: Window, { fromMs, toMs }: Window): Window | null {
  const from = Math.max(span.fromMs, fromMs);
  const to = Math.min(span.toMs, toMs);
  return from < to ? { fromMs: from, toMs: to } : null;
}

/** The index of the first span that ends after `atMs`. */
export function firstEndingAfter({ toMs }: Spans, atMs: number): number {
  let low = 0;
  let high = toMs.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if ((toMs[middle] ?? 0) <= atMs) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** The spans that reach into the window, cut to it. */
export function spansIn(spans: Spans, window: Window): (Window & { readonly index: number })[] {
  const found: (Window & { index: number })[] = [];
  for (
    let index = firstEndingAfter(spans, window.fromMs);
    index < spans.fromMs.length;
    index += 1
  ) {
    const fromMs = spans.fromMs[index] ?? 0;
    if (fromMs >= window.toMs) break;
    const part = clipped({ fromMs, toMs: spans.toMs[index] ?? 0 }, window);
    if (part !== null) found.push({ ...part, index });
  }
  return found;
}
