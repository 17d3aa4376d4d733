import type { Out } from '../host/io.js';
import { wrapped } from './wrapped.js';

/** Writes words for a reader, whole lines of them: a terminal gets them in its width, a file as they are. */
export function tell(out: Out, text: string): Promise<void> {
  return out.write(out.isTerminal ? wrapped(text, out.columns) : text);
}
