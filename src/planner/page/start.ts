// What the page begins with: the files it was made for, else the defaults.
import { initialState, isState, type PlannerState } from '../state.js';

let known: PlannerState = initialState;

export function startState(): PlannerState {
  return known;
}

/** Reads it once, before anything is drawn: a long door log is packed. */
export async function readStart(): Promise<void> {
  const data: unknown = JSON.parse(document.getElementById('dw-data')?.textContent ?? 'null');
  if (typeof data !== 'object' || data === null) return;
  const start: unknown =
    'packed' in data && typeof data.packed === 'string'
      ? JSON.parse(await unpacked(data.packed))
      : 'start' in data
        ? data.start
        : null;
  if (isState(start)) known = start;
}

/** The text of gzip in base 64. */
async function unpacked(base64: string): Promise<string> {
  const bytes = Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));
  const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream('gzip'));
  return new Response(stream).text();
}
