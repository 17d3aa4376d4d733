// An owner's own state machine: its module imported and its table compiled, in whichever thread this runs.
import { pathToFileURL } from 'node:url';
import {
  isMachine,
  LogicFault,
  type LogicSettings,
  type LogicTable,
  logicTools,
  otherTable,
} from '../../machine/index.js';

/** What became of a module: plain data, which threads can hand to each other. */
export type Compiled =
  | { readonly kind: 'table'; readonly table: LogicTable }
  | { readonly kind: 'no-machine' }
  | { readonly kind: 'refused'; readonly what: string; readonly facts: LogicFault['facts'] }
  | { readonly kind: 'throws'; readonly words: string };

export interface LogicTask {
  /** An absolute path. */
  readonly target: string;
  readonly settings: LogicSettings;
}

export async function compileLogic({ target, settings }: LogicTask): Promise<Compiled> {
  try {
    const loaded: unknown = await import(pathToFileURL(target).href);
    const exported = exportOf(loaded);
    const made: unknown =
      typeof exported === 'function' ? Reflect.apply(exported, undefined, [logicTools]) : exported;
    return isMachine(made)
      ? { kind: 'table', table: otherTable(made, settings) }
      : { kind: 'no-machine' };
  } catch (error) {
    if (error instanceof LogicFault) {
      return { kind: 'refused', what: error.what, facts: error.facts };
    }
    return { kind: 'throws', words: wordsOf(error) };
  }
}

/** The first line of an error of any kind. */
export function wordsOf(error: unknown): string {
  const words = error instanceof Error ? `${error.name}: ${error.message}` : String(error);
  const first = words.split('\n')[0] ?? '';
  // Of what cannot be parsed the place stands at the head of the stack only.
  const place =
    error instanceof SyntaxError ? /^file:.*:(?<line>\d+)\n/u.exec(error.stack ?? '') : null;
  return place === null ? first : `${first} (line ${place.groups?.['line'] ?? ''})`;
}

function exportOf(loaded: unknown): unknown {
  if (typeof loaded !== 'object' || loaded === null) return undefined;
  if ('machine' in loaded) return loaded.machine;
  return 'default' in loaded ? loaded.default : undefined;
}
