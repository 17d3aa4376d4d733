// Colour, where the reader can see it and has not said no.
import pc from 'picocolors';
import type { Paint } from '../../wording/index.js';
import type { Style } from '../command.js';
import type { Io } from '../host/io.js';

export type { Paint };

export function paint(coloured: boolean): Paint {
  const { bold, dim, green, red, yellow } = pc.createColors(coloured);
  return { bold, dim, good: green, bad: red, doubtful: yellow };
}

/**
 * Whether to colour: `--no-color` and a non-empty NO_COLOR say no; FORCE_COLOR (but `0` or `false`) says yes;
 * else what is written to decides.
 */
export function wantsColour(on: {
  readonly isTerminal: boolean;
  readonly option: boolean;
  readonly environment: Readonly<Record<string, string | undefined>>;
}): boolean {
  const { NO_COLOR: no, FORCE_COLOR: force, TERM: terminal } = on.environment;
  if (!on.option || (no !== undefined && no !== '')) return false;
  if (force !== undefined && force !== '') return force !== '0' && force !== 'false';
  return on.isTerminal && terminal !== 'dumb';
}

export function paintFor(
  stream: 'stdout' | 'stderr',
  on: { readonly io: Io; readonly style: Style },
): Paint {
  const { isTerminal } = on.io[stream];
  return paint(wantsColour({ ...on.io, isTerminal, option: on.style.colour }));
}
