// Whether messages seen in a step fit its windows.
import type { Window } from './plan.js';

/** What is wrong with the messages seen in a step: one too few, too many, too soon or too late. */
export type Wrong =
  | { readonly kind: 'missing'; readonly window: Window }
  | { readonly kind: 'unexpected'; readonly atMs: number };

/** What does not fit, in order; empty: as it must be. */
export function wrongs(
  { windows, endsMs }: { readonly windows: readonly Window[]; readonly endsMs: number },
  seenMs: readonly number[],
): readonly Wrong[] {
  const within = ({ fromMs, toMs }: Window, atMs: number): boolean =>
    atMs >= fromMs && atMs <= toMs;
  const left = seenMs.filter((atMs) => atMs <= endsMs);
  const missing: Wrong[] = [];
  for (const window of windows) {
    const index = left.findIndex((atMs) => within(window, atMs));
    if (index < 0) missing.push({ kind: 'missing', window });
    else left.splice(index, 1);
  }
  return [...missing, ...left.map((atMs): Wrong => ({ kind: 'unexpected', atMs }))];
}
