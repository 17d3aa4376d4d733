// What each key does on a live timeline.
import type { Window } from '../facts/window.js';
import type { Scene } from '../scene.js';
import { type Description, describeAt, nextCheckMs } from './describe.js';
import { panned, zoomed } from './view.js';

export const keyWords =
  'The arrow keys move, + and - zoom, the , and . keys go from check to check, Shift with an arrow key moves a little, N and P go from finding to finding, Home shows all.';

interface Ground {
  readonly view: Window;
  readonly lengthMs: number;
  readonly scene: Scene;
  readonly described: Description | null;
  readonly setView: (view: Window) => void;
  readonly setDescribed: (described: Description) => void;
  readonly goTo: (step: 1 | -1) => void;
}

/** A step with Shift, as a share of what is seen. */
const littleShare = 0.01;

/** @returns whether the key does something here */
export function keyAction(
  { key, shiftKey }: Pick<KeyboardEvent, 'key' | 'shiftKey'>,
  on: Ground,
): boolean {
  const { view, lengthMs, scene, described, setView, setDescribed, goTo } = on;
  const span = view.toMs - view.fromMs;
  const aboutMs = described === null ? (view.fromMs + view.toMs) / 2 : described.atMs;
  const look = (atMs: number): void => {
    setDescribed(describeAt(scene, atMs, 0));
    if (atMs < view.fromMs || atMs >= view.toMs) {
      setView(panned(view, atMs - span / 2 - view.fromMs, lengthMs));
    }
  };
  const toCheck = (forward: boolean): void => {
    const atMs = nextCheckMs(scene, described?.atMs ?? view.fromMs, forward);
    if (atMs !== null) look(atMs);
  };
  const move = (direction: 1 | -1): void => {
    const aLittle = direction * Math.max(1, Math.round(span * littleShare));
    if (shiftKey) look(Math.min(Math.max(0, Math.round(aboutMs) + aLittle), lengthMs));
    else setView(panned(view, (direction * span) / 5, lengthMs));
  };
  const actions: Readonly<Record<string, () => void>> = {
    ArrowLeft: () => move(-1),
    ArrowRight: () => move(1),
    '+': () => setView(zoomed(view, { aboutMs, factor: 0.5, lengthMs })),
    '=': () => setView(zoomed(view, { aboutMs, factor: 0.5, lengthMs })),
    '-': () => setView(zoomed(view, { aboutMs, factor: 2, lengthMs })),
    Home: () => setView({ fromMs: 0, toMs: Math.max(1, lengthMs) }),
    '.': () => toCheck(true),
    ',': () => toCheck(false),
    n: () => goTo(1),
    p: () => goTo(-1),
  };
  const action = actions[key];
  action?.();
  return action !== undefined;
}
