// The sections in which a definition knows a key, for the hint to a key in the wrong section.
import * as core from 'zod/v4/core';
import type { Path } from './document.js';

/** A key that many places know is at home in none of them in particular. */
const mostHomes = 3;

/** `it belongs under judge`; undefined: the definition of the file knows the key nowhere, or all over. */
export function homeHint(whole: core.$ZodType, key: string): string | undefined {
  const homes = [...(homesIn(whole).get(key) ?? [])];
  if (homes.length === 0 || homes.length > mostHomes) return undefined;
  return `it belongs ${homes.join(' or ')}`;
}

interface Here {
  readonly path: readonly string[];
  /** Whether this is an entry of the list at the path. */
  readonly isEntry: boolean;
}

type Homes = Map<string, Set<string>>;

/** Of each definition, once walked: a file may have thousands of unknown keys. */
const walked = new WeakMap<core.$ZodType, Homes>();

function homesIn(whole: core.$ZodType): Homes {
  const known = walked.get(whole);
  if (known !== undefined) return known;
  const homes: Homes = new Map();
  collect(homes, whole, { path: [], isEntry: false });
  walked.set(whole, homes);
  return homes;
}

function collect(homes: Homes, definition: core.$ZodType, here: Here): void {
  for (const form of formsOf(definition)) {
    if (form instanceof core.$ZodArray) {
      collect(homes, form._zod.def.element, { ...here, isEntry: true });
    }
    if (!(form instanceof core.$ZodObject)) continue;
    const parts = Object.entries(form._zod.def.shape);
    for (const [key] of parts) {
      const of = homes.get(key) ?? new Set();
      homes.set(key, of.add(homeWords(here)));
    }
    for (const [name, part] of parts) {
      collect(homes, part, { path: [...here.path, name], isEntry: false });
    }
  }
}

function homeWords({ path, isEntry }: Here): string {
  if (path.length === 0) return 'at the top level of the file';
  return isEntry ? `in an entry of ${path.join('.')}` : `under ${path.join('.')}`;
}

/** The keys that the definition knows at a path below it. */
export function keysAt(definition: core.$ZodType, path: Path): readonly string[] {
  return formsOf(definition).flatMap((form): readonly string[] => {
    const [step, ...rest] = path;
    if (form instanceof core.$ZodObject) {
      const shape = form._zod.def.shape;
      if (step === undefined) return Object.keys(shape);
      const inner = Object.hasOwn(shape, step) ? shape[step] : undefined;
      return inner === undefined ? [] : keysAt(inner, rest);
    }
    if (form instanceof core.$ZodArray && typeof step === 'number') {
      return keysAt(form._zod.def.element, rest);
    }
    return [];
  });
}

/** A definition without its wrappings: all the forms that it may take. */
function formsOf(definition: core.$ZodType): readonly core.$ZodType[] {
  if (definition instanceof core.$ZodUnion) return definition._zod.def.options.flatMap(formsOf);
  if (definition instanceof core.$ZodPipe) {
    const { in: first, out } = definition._zod.def;
    return formsOf(first instanceof core.$ZodTransform ? out : first);
  }
  if (
    definition instanceof core.$ZodOptional ||
    definition instanceof core.$ZodPrefault ||
    definition instanceof core.$ZodNullable
  ) {
    return formsOf(definition._zod.def.innerType);
  }
  return [definition];
}
