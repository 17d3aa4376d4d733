// Wheel, drag and two fingers on a live timeline, as changes of what is looked at.
import { useEffect, useRef, useState } from 'preact/hooks';
import type { Window } from '../facts/window.js';
import { laneNamesPx } from '../strip/strip.js';
import { panned, zoomed } from './view.js';

interface Ground {
  readonly frame: { readonly current: HTMLDivElement | null };
  readonly view: Window;
  readonly lengthMs: number;
  /** Milliseconds a pixel. */
  readonly perPx: number;
  readonly setView: (view: Window) => void;
  readonly describe: (atMs: number) => void;
  readonly onDraw: ((span: Window) => void) | undefined;
}

interface Pressed {
  readonly startPx: number;
  readonly view: Window;
}

export function useGestures(ground: Ground) {
  const { frame, view, lengthMs, perPx, setView, describe, onDraw } = ground;
  const [drawn, setDrawn] = useState<Window | null>(null);
  const pressed = useRef<Pressed | null>(null);
  const latest = useRef(ground);
  latest.current = ground;
  const wheelHint = useWheel(latest);
  const pxOf = (event: PointerEvent): number =>
    event.clientX - (frame.current?.getBoundingClientRect().left ?? 0) - laneNamesPx;
  const atOf = (px: number): number =>
    Math.round(Math.min(Math.max(view.fromMs + px * perPx, 0), lengthMs));
  const onPointerDown = (event: PointerEvent): void => {
    if (event.button !== 0) return;
    pressed.current = { startPx: pxOf(event), view };
    frame.current?.setPointerCapture(event.pointerId);
  };
  const onPointerMove = (event: PointerEvent): void => {
    const px = pxOf(event);
    const start = pressed.current;
    if (start === null) describe(atOf(px));
    else if (onDraw !== undefined && !event.shiftKey) {
      const [from, to] = [atOf(start.startPx), atOf(px)].sort((a, b) => a - b);
      if (from !== undefined && to !== undefined) setDrawn({ fromMs: from, toMs: to });
    } else setView(panned(start.view, (start.startPx - px) * perPx, lengthMs));
  };
  const onPointerUp = (): void => {
    pressed.current = null;
    if (drawn !== null && drawn.toMs > drawn.fromMs) onDraw?.(drawn);
    setDrawn(null);
  };
  const onPointerCancel = (): void => {
    pressed.current = null;
    setDrawn(null);
  };
  return {
    drawn,
    wheelHint,
    handlers: { onPointerDown, onPointerMove, onPointerUp, onPointerCancel },
  };
}

const hintForMs = 3_000;

/**
 * Attached by hand: only so may it keep the page from scrolling.
 * @returns whether the wheel was just turned over it without effect, so that a hint is due.
 */
function useWheel(latest: { readonly current: Ground }): boolean {
  const { frame } = latest.current;
  const [isDue, setDue] = useState(false);
  useEffect(() => {
    if (!isDue) return undefined;
    const soon = window.setTimeout(() => setDue(false), hintForMs);
    return () => window.clearTimeout(soon);
  }, [isDue]);
  useEffect(() => {
    const { current } = frame;
    if (current === null) return undefined;
    const onWheel = (event: WheelEvent): void => {
      const { view, lengthMs, perPx, setView } = latest.current;
      if (!event.ctrlKey && !event.metaKey && Math.abs(event.deltaX) <= Math.abs(event.deltaY)) {
        // Without a key the page scrolls, until the pointer has been put to work here.
        if (frame.current !== frame.current?.ownerDocument.activeElement) {
          setDue(true);
          return;
        }
      }
      event.preventDefault();
      if (Math.abs(event.deltaX) > Math.abs(event.deltaY)) {
        setView(panned(view, event.deltaX * perPx, lengthMs));
        return;
      }
      const px = event.clientX - current.getBoundingClientRect().left - laneNamesPx;
      const factor = Math.min(2, Math.max(0.5, 1.0015 ** event.deltaY));
      setView(zoomed(view, { aboutMs: view.fromMs + px * perPx, factor, lengthMs }));
    };
    current.addEventListener('wheel', onWheel, { passive: false });
    return () => current.removeEventListener('wheel', onWheel);
  }, [frame, latest]);
  return isDue;
}
