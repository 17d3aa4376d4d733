// An owner's own state machine: its module imported and its table compiled, in whichever thread this runs.
import * as modules from 'node:module';
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
  | { readonly kind: 'no-machine'; readonly found?: string }
  | { readonly kind: 'refused'; readonly what: string; readonly facts: LogicFault['facts'] }
  | { readonly kind: 'throws'; readonly words: string };

export interface LogicTask {
  /** An absolute path. */
  readonly target: string;
  readonly settings: LogicSettings;
}

export async function compileLogic({ target, settings }: LogicTask): Promise<Compiled> {
  try {
    const loaded: unknown = await importWithTools(pathToFileURL(target).href);
    const exported = exportOf(loaded);
    const made: unknown =
      typeof exported === 'function'
        ? await Reflect.apply(exported, undefined, [logicTools])
        : exported;
    return isMachine(made)
      ? { kind: 'table', table: otherTable(made, settings) }
      : { kind: 'no-machine', found: exportWords(loaded, made) };
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
  const [start = '', next = ''] = words.split('\n');
  // XState names the guard or the action first, and what it threw on the next line.
  const first = start.endsWith(':') ? `${start} ${next}` : start;
  // Of what cannot be parsed the place stands at the head of the stack only.
  const place =
    error instanceof SyntaxError ? /^file:.*:(?<line>\d+)\n/u.exec(error.stack ?? '') : null;
  return place === null ? first : `${first} (line ${place.groups?.['line'] ?? ''})`;
}

/** A module; where it imports xstate and its folder has none, it gets the one that dozewatch uses. */
async function importWithTools(href: string): Promise<unknown> {
  try {
    return await import(href);
  } catch (error) {
    if (!isXstateMissing(error)) throw error;
    findOurXstate(import.meta.url);
    // Under another name, since the import that failed is remembered.
    return import(`${href}?again`);
  }
}

function isXstateMissing(error: unknown): boolean {
  return error instanceof Error && error.message.includes("Cannot find package 'xstate'");
}

type Resolve = (
  name: string,
  context: { readonly parentURL?: string },
  next: (name: string, context: object) => object,
) => object;

/** From here on imports of xstate look for it from a file of dozewatch. */
function findOurXstate(parentURL: string): void {
  const isOurs = (name: string): boolean => name === 'xstate' || name.startsWith('xstate/');
  const resolve: Resolve = (name, context, next) =>
    next(name, isOurs(name) ? { ...context, parentURL } : context);
  // From Node.js 22.15 on; the declarations are those of the oldest version.
  const registerHooks: unknown = Reflect.get(modules, 'registerHooks');
  if (typeof registerHooks === 'function') {
    Reflect.apply(registerHooks, undefined, [{ resolve }]);
    return;
  }
  // Newer versions warn of this one. Its hook runs in a thread, and so is passed as text.
  const hook = `export function resolve(name, context, next) {
    const isOurs = name === 'xstate' || name.startsWith('xstate/');
    return next(name, isOurs ? { ...context, parentURL: ${JSON.stringify(parentURL)} } : context);
  }`;
  modules.register(`data:text/javascript,${encodeURIComponent(hook)}`);
}

function exportOf(loaded: unknown): unknown {
  if (typeof loaded !== 'object' || loaded === null) return undefined;
  if ('machine' in loaded) return loaded.machine;
  const own = 'default' in loaded ? loaded.default : undefined;
  // What a CommonJS module exports is the default export.
  return typeof own === 'object' && own !== null && 'machine' in own ? own.machine : own;
}

/** What a module exports in place of a machine. */
function exportWords(loaded: unknown, made: unknown): string {
  if (made !== undefined) {
    const isConfig = typeof made === 'object' && made !== null && 'states' in made;
    const isActor = typeof made === 'object' && made !== null && 'getSnapshot' in made;
    if (isActor) return 'an actor: leave out createActor';
    return isConfig ? 'the configuration of a machine: pass it to createMachine' : typeof made;
  }
  const names = typeof loaded === 'object' && loaded !== null ? Object.keys(loaded) : [];
  return names.length === 0 ? 'no exports' : `exports named ${names.slice(0, 6).join(', ')}`;
}
