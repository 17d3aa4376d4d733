// What is set, with what was set before; the address of the page goes along.
import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import { hashOf, type Link, type PlannerState, readLink } from '../state.js';
import { startState } from './start.js';

export interface History {
  readonly state: PlannerState;
  /** Why the last link could not be used; null: it could. */
  readonly badLink: string | null;
  /** What was set before the last change; null: nothing was. */
  readonly before: PlannerState | null;
  readonly canUndo: boolean;
  readonly canRedo: boolean;
  /** @param stroke names what is typed into: one word after the other is one step to undo */
  readonly change: (state: PlannerState, stroke?: string) => void;
  readonly undo: () => void;
  readonly redo: () => void;
}

interface Steps {
  readonly past: readonly PlannerState[];
  readonly now: PlannerState;
  /** What was undone, the last undone first. */
  readonly future: readonly PlannerState[];
}

const mostUndone = 200;

export function useHistory(): History {
  const first = useMemo(() => readLink(window.location.hash), []);
  const [badLink, setBadLink] = useState(refusalOf(first));
  const [steps, setSteps] = useState<Steps>(() => ({
    past: [],
    now: first.kind === 'read' ? first.state : startState(),
    future: [],
  }));
  const strokes = useStrokes();
  const put = (now: PlannerState, goesOn: boolean): void =>
    setSteps((at) => ({
      past: goesOn ? at.past : [...at.past.slice(-mostUndone), at.now],
      now,
      future: [],
    }));
  const undo = (): void => {
    strokes.end();
    setSteps(undone);
  };
  const redo = (): void => {
    strokes.end();
    setSteps(redone);
  };
  useLink(steps.now, (link) => {
    setBadLink(refusalOf(link));
    if (link.kind === 'read') put(link.state, false);
  });
  useUndoKeys(undo, redo);
  return {
    state: steps.now,
    badLink,
    before: steps.past.at(-1) ?? null,
    canUndo: steps.past.length > 0,
    canRedo: steps.future.length > 0,
    change: (next, stroke) => put(next, strokes.goesOn(stroke)),
    undo,
    redo,
  };
}

function refusalOf(link: Link): string | null {
  return link.kind === 'refused' ? link.says : null;
}

function undone(at: Steps): Steps {
  const now = at.past.at(-1);
  if (now === undefined) return at;
  return { past: at.past.slice(0, -1), now, future: [at.now, ...at.future] };
}

function redone(at: Steps): Steps {
  const [now, ...future] = at.future;
  return now === undefined ? at : { past: [...at.past, at.now], now, future };
}

/** The address of the page tells the state, and a changed address sets it. */
function useLink(state: PlannerState, follow: (link: Link) => void): void {
  useEffect(() => {
    const soon = window.setTimeout(() => window.history.replaceState(null, '', hashOf(state)), 150);
    return () => window.clearTimeout(soon);
  }, [state]);
  useEffect(() => {
    const onHash = (): void => {
      follow(readLink(window.location.hash));
    };
    window.addEventListener('hashchange', onHash);
    return () => window.removeEventListener('hashchange', onHash);
  }, []);
}

function useUndoKeys(undo: () => void, redo: () => void): void {
  useEffect(() => {
    const onKey = (event: KeyboardEvent): void => {
      if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
      const key = event.key.toLowerCase();
      if (key !== 'z' && key !== 'y') return;
      event.preventDefault();
      if (key === 'y' || event.shiftKey) redo();
      else undo();
    };
    window.addEventListener('keydown', onKey);
    return () => window.removeEventListener('keydown', onKey);
  }, []);
}

interface Strokes {
  /** Whether a change belongs to the one before: a pointer still pressed, or a field still typed into. */
  readonly goesOn: (typed: string | undefined) => boolean;
  readonly end: () => void;
}

function useStrokes(): Strokes {
  const pressed = useRef(0);
  const isDown = useRef(false);
  const last = useRef<string | null>(null);
  useEffect(() => {
    const down = (): void => {
      pressed.current += 1;
      isDown.current = true;
    };
    const up = (): void => {
      isDown.current = false;
    };
    const left = (): void => {
      if (!isDown.current) last.current = null;
    };
    window.addEventListener('pointerdown', down, true);
    window.addEventListener('pointerup', up);
    window.addEventListener('pointercancel', up);
    window.addEventListener('focusout', left);
    return () => {
      window.removeEventListener('pointerdown', down, true);
      window.removeEventListener('pointerup', up);
      window.removeEventListener('pointercancel', up);
      window.removeEventListener('focusout', left);
    };
  }, []);
  return {
    goesOn(typed) {
      const stroke = isDown.current ? `pointer ${String(pressed.current)}` : (typed ?? null);
      const same = stroke !== null && stroke === last.current;
      last.current = stroke;
      return same;
    },
    end() {
      last.current = null;
    },
  };
}
