// What is set, with what was set before; the address of the page goes along.
import { useEffect, useRef, useState } from 'preact/hooks';
import { hashOf, initialState, type PlannerState, stateOf } from '../state.js';

export interface History {
  readonly state: PlannerState;
  readonly canUndo: boolean;
  /** @param stroke names what is typed into: one word after the other is one step to undo */
  readonly change: (state: PlannerState, stroke?: string) => void;
  readonly undo: () => void;
}

const mostUndone = 200;

export function useHistory(): History {
  const [states, setStates] = useState<readonly PlannerState[]>(() => [
    stateOf(window.location.hash) ?? initialState,
  ]);
  const state = states.at(-1) ?? initialState;
  const strokes = useStrokes();
  useEffect(() => {
    const soon = window.setTimeout(() => window.history.replaceState(null, '', hashOf(state)), 150);
    return () => window.clearTimeout(soon);
  }, [state]);
  const undo = (): void => {
    strokes.end();
    setStates((all) => (all.length > 1 ? all.slice(0, -1) : all));
  };
  useEffect(() => {
    const onHash = (): void => {
      const linked = stateOf(window.location.hash);
      if (linked !== null) setStates((all) => [...all, linked]);
    };
    const onKey = (event: KeyboardEvent): void => {
      if (event.key !== 'z' || !(event.ctrlKey || event.metaKey)) return;
      event.preventDefault();
      undo();
    };
    window.addEventListener('hashchange', onHash);
    window.addEventListener('keydown', onKey);
    return () => {
      window.removeEventListener('hashchange', onHash);
      window.removeEventListener('keydown', onKey);
    };
  }, []);
  const change = (next: PlannerState, stroke?: string): void => {
    const goesOn = strokes.goesOn(stroke);
    setStates((all) => [
      ...(goesOn && all.length > 1 ? all.slice(0, -1) : all.slice(-mostUndone)),
      next,
    ]);
  };
  return { state, canUndo: states.length > 1, change, undo };
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
