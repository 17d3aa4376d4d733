// Settings that override those of the file, such as options of a command line. The same definition reads them, and
// messages name the option.
import { allSettings, type Kind } from '../../model/index.js';
import { nameOf, type Path, type TextDocument } from '../text/document.js';
import { diagnosed } from '../text/problem.js';

/** One setting that overrides the file's. */
export interface WatchOverride {
  /** Where it would stand in the file: `['watch', 'checkInterval']`. */
  readonly path: readonly string[];
  /** As a parsed file would hold it: text, a number, a map. */
  readonly value: unknown;
  /** As it was written, and where: `3m` of `--interval`. */
  readonly text: string;
  readonly source: string;
}

/** A document without any key. */
export function emptyDocument(name: string): TextDocument {
  const place = () => ({ file: name });
  return {
    root: {},
    errors: [],
    place,
    diagnose: (path, problem) => diagnosed(problem, nameOf(path), place()),
    warn: (_, { found: _found, ...problem }) => diagnosed(problem, null, place(), 'warning'),
  };
}

/** Keys that say more of a fault, by the key that switches it off: an option that does leaves them without a meaning, and out. */
const moreOf: Readonly<Record<string, readonly string[]>> = {
  'environment.powerLosses': ['powerLossLasting'],
  'environment.longestOutage': ['outages', 'outagesApart'],
};

/** What overrides take out of the file, because they switch it off. */
export function switchedOff(overrides: readonly WatchOverride[]): readonly (readonly string[])[] {
  const given = new Set(overrides.map(({ path }) => path.join('.')));
  return overrides.flatMap(({ path, text }) => {
    const more = moreOf[path.join('.')];
    if (more === undefined || !isNothing(text)) return [];
    const section = path.slice(0, -1);
    return more.map((key) => [...section, key]).filter((one) => !given.has(one.join('.')));
  });
}

/** `0`, `0s`, `0 min`. */
function isNothing(text: string): boolean {
  return /^0+(?:\.0+)? ?[a-z]*$/u.test(text.trim());
}

/** The document with the overrides in it, as if they were in the file. */
export function overlaid(
  document: TextDocument,
  overrides: readonly WatchOverride[],
): TextDocument {
  if (overrides.length === 0 || document.root === undefined) return document;
  const above = (path: Path): WatchOverride | undefined =>
    overrides.find((override) => override.path.every((step, index) => path[index] === step));
  return {
    root: overrides.reduce<unknown>(
      (root, { path, value }) => withValue(root, path, value),
      switchedOff(overrides).reduce<unknown>(without, document.root),
    ),
    errors: document.errors,
    place(path) {
      const override = above(path);
      return override === undefined ? document.place(path) : { file: override.source };
    },
    diagnose(path, problem, at) {
      const override = above(path);
      if (override === undefined) return document.diagnose(path, problem, at);
      const { text, source } = override;
      const found = problem.found ?? text;
      const hint = hintIn(source, problem.hint);
      const isOption = source.startsWith('--');
      const expected = isOption ? expectedOf(override, problem.expected) : problem.expected;
      // Who types an option need not know where its setting stands in a file.
      const inner = path.length > override.path.length ? String(path.at(-1)) : 'this';
      const says = isOption && problem.code === 'wrong-type' ? 'cannot be read' : problem.says;
      const adapted = { ...problem, says, found, expected, hint };
      return diagnosed(adapted, isOption ? inner : nameOf(path), { file: source });
    },
    warn(path, problem) {
      const override = above(path);
      if (override === undefined) return document.warn(path, problem);
      const { text, source } = override;
      // Nothing is found of a default: the option that makes it one to change is.
      const isDefault = problem.found === undefined || problem.found === '';
      const found = isDefault ? text : problem.found;
      const hint = hintIn(source, problem.hint);
      return diagnosed({ ...problem, found, hint }, null, { file: source }, 'warning');
    },
  };
}

/** How an option is written where a file takes a map or a list. */
const optionForms: Readonly<Partial<Record<Kind, string>>> = {
  threshold: '2/3 for 2 out of 3',
  timeRange: 'a range such as 2s..8s',
  clockError: 'a range such as -2%..2%',
};

/** `a number of checks from 1 to 10, or 2/3 for 2 out of 3`: on a command line there are no maps. */
function expectedOf({ path }: WatchOverride, expected: string | undefined): string | undefined {
  const kind = allSettings.find((setting) => setting.path.join() === path.join())?.row.kind;
  const form = kind === undefined ? undefined : optionForms[kind];
  const map = /, or a (?:map of keys and values|list)/gu;
  if (expected === undefined || !map.test(expected)) return expected;
  const others = expected.replace(map, '');
  return form === undefined ? others : `${others}, or ${form}`;
}

/** A hint to an option names options: `longestOutage: 1h` is `--outage 1h` there, and `leaveOpenAfter` is `--leave-open-after`. */
function hintIn(source: string, hint: string | undefined): string | undefined {
  if (!source.startsWith('--')) return hint;
  return hint
    ?.replaceAll(/\b(\w+): (?=\w)/gu, (written, key: string) => {
      const option = optionOf(key);
      return option === undefined ? written : `${option} `;
    })
    .replaceAll(/(?<![\w.-])(?:[a-z]+\.)?[a-z]+(?:[A-Z][a-z]+)*\b/gu, (word) =>
      /[A-Z.]/u.test(word) ? (optionOf(word) ?? word) : word,
    )
    .replace(/ under \w+:/u, '');
}

/** The flag for a setting, by its key or the last two of its path; undefined: it has none. */
function optionOf(key: string): string | undefined {
  const setting = allSettings.find((one) => `.${one.key}`.endsWith(`.${key}`));
  return setting?.row.option?.flags.replace(/ .*/u, '');
}

/** A copy without a key. */
function without(root: unknown, [key, ...rest]: readonly string[]): unknown {
  if (key === undefined || typeof root !== 'object' || root === null || Array.isArray(root)) {
    return root;
  }
  return Object.fromEntries(
    Object.entries(root).flatMap(([name, inner]) => {
      if (name !== key) return [[name, inner]];
      return rest.length === 0 ? [] : [[name, without(inner, rest)]];
    }),
  );
}

/** A copy with one value set. A value on its path that is not a map stays, for the definition to refuse. */
function withValue(root: unknown, [key, ...rest]: readonly string[], value: unknown): unknown {
  if (key === undefined) return value;
  const map = root ?? {};
  if (typeof map !== 'object' || Array.isArray(map)) return root;
  const inner: unknown = Object.entries(map).find(([name]) => name === key)?.[1];
  return { ...map, [key]: withValue(inner, rest, value) };
}
