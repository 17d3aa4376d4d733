// What the page begins with: the files it was made for, else the defaults.
import { initialState, isState, type PlannerState } from '../state.js';

let known: PlannerState | null = null;

export function startState(): PlannerState {
  known ??= read();
  return known;
}

function read(): PlannerState {
  const data: unknown = JSON.parse(document.getElementById('dw-data')?.textContent ?? 'null');
  const start = typeof data === 'object' && data !== null && 'start' in data ? data.start : null;
  return isState(start) ? start : initialState;
}
