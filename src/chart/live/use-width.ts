// How wide a part of a page is, now and after each change.
import { useEffect, useState } from 'preact/hooks';

/** Before the first measurement. */
const usualWidthPx = 1_000;

/** In pixels, at least 240. */
export function useWidth(frame: { readonly current: HTMLDivElement | null }): number {
  const [widthPx, setWidthPx] = useState(usualWidthPx);
  useEffect(() => {
    const { current } = frame;
    if (current === null) return undefined;
    const measure = (): void => setWidthPx(Math.max(240, Math.floor(current.clientWidth)));
    const observer = new ResizeObserver(measure);
    observer.observe(current);
    measure();
    return () => observer.disconnect();
  }, [frame]);
  return widthPx;
}
