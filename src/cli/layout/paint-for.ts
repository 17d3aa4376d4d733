// How to colour one of the two streams of a command.
import type { Style } from '../command.js';
import type { Io } from '../host/io.js';
import { type Paint, paint, wantsColour } from './paint.js';

export function paintFor(
  stream: 'stdout' | 'stderr',
  on: { readonly io: Io; readonly style: Style },
): Paint {
  const { isTerminal } = on.io[stream];
  return paint(wantsColour({ ...on.io, isTerminal, option: on.style.colour }));
}
