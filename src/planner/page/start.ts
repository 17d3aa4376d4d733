// What the page begins with: the files it was made for, else the defaults.
import { unpackText } from '../../report/index.js';
import { initialState, isState, type PlannerState } from '../state.js';

let known: PlannerState = initialState;

export function startState(): PlannerState {
  return known;
}

/** Reads it once, before anything is drawn: a long door log is packed, and takes a moment. */
export function readStart(done: () => void): void {
  const data: unknown = JSON.parse(document.getElementById('dw-data')?.textContent ?? 'null');
  const take = (start: unknown): void => {
    if (isState(start)) known = start;
    done();
  };
  if (typeof data !== 'object' || data === null) done();
  else if ('packed' in data && typeof data.packed === 'string') {
    unpackText(data.packed, (text) => take(JSON.parse(text)));
  } else take('start' in data ? data.start : null);
}
