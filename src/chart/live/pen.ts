// Openings drawn by keyboard: one press of D where an opening begins, another where it ends.
import { useState } from 'preact/hooks';
import type { Window } from '../facts/window.js';

export const penWords =
  'D begins an opening where the cursor is, and D ends it; Escape gives it up.';

export interface Pen {
  /** What would be drawn now. */
  readonly drawn: Window | null;
  /** @returns whether the key does something here */
  readonly onKey: (key: string) => boolean;
}

/** @param atMs where the cursor is */
export function usePen(atMs: number, onDraw: ((span: Window) => void) | undefined): Pen {
  const [beganMs, setBegan] = useState<number | null>(null);
  const drawn =
    beganMs === null ? null : { fromMs: Math.min(beganMs, atMs), toMs: Math.max(beganMs, atMs) };
  const onKey = (key: string): boolean => {
    if (key === 'Escape' && drawn !== null) {
      setBegan(null);
      return true;
    }
    if (key !== 'd') return false;
    if (drawn === null) setBegan(atMs);
    else {
      setBegan(null);
      if (drawn.toMs > drawn.fromMs) onDraw?.(drawn);
    }
    return true;
  };
  return { drawn, onKey };
}
