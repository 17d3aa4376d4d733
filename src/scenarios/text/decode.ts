// Checks a document against a definition, and reports every problem with its line and column.
import type * as z from 'zod';
import type * as core from 'zod/v4/core';
import type { Diagnostic } from '../../base/index.js';
import type { Path, TextDocument } from './document.js';
import { homeHint, keysAt } from './homes.js';
import type { Problem } from './problem.js';
import { didYouMean } from './suggest.js';

type Issue = core.$ZodIssue;

/** The value that a definition made, or all its problems. */
export type Checked<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly errors: readonly Diagnostic[] };

/**
 * @param at.path where the value stands in the document.
 * @param at.whole what may stand in the whole file, where `definition` is a part of that.
 */
export function check<Definition extends z.ZodType>(
  definition: Definition,
  value: unknown,
  at: { readonly document: TextDocument; readonly path: Path; readonly whole?: z.ZodType },
): Checked<z.output<Definition>> {
  const parsed = definition.safeParse(value);
  if (parsed.success) return { ok: true, value: parsed.data };
  const errors = parsed.error.issues.flatMap((issue) =>
    diagnosticsOf(issue, { whole: definition, ...at, definition, base: at.path.length }),
  );
  return { ok: false, errors };
}

interface Place {
  readonly document: TextDocument;
  readonly path: Path;
  readonly definition: z.ZodType;
  readonly whole: z.ZodType;
  /** How many steps of `path` lead to the definition. */
  readonly base: number;
}

function diagnosticsOf(issue: Issue, place: Place): Diagnostic[] {
  const path = [
    ...place.path,
    ...issue.path.map((step) => (typeof step === 'number' ? step : String(step))),
  ];
  const { document } = place;
  if (issue.code === 'unrecognized_keys') {
    const known = keysAt(place.definition, path.slice(place.base));
    const { whole } = place;
    return issue.keys.map((key) => unknownKey(document, [...path, key], { known, whole }));
  }
  if (issue.code === 'invalid_union') {
    return unionIssues(issue).flatMap((inner) => diagnosticsOf(inner, { ...place, path }));
  }
  const problem = problemOf(issue);
  const written = valueAt(document.root, path);
  const isMissing = issue.code === 'invalid_type' && written === undefined;
  const isEmpty = problem.code === 'wrong-type' && written === null;
  const instead = isMissing ? missing : isEmpty ? empty : {};
  return [document.diagnose(path, { ...problem, ...instead })];
}

const missing = { code: 'missing-key', says: 'is missing' } as const;

/** A key with nothing behind it. */
const empty = {
  code: 'empty-value',
  says: 'has no value',
  hint: 'give it a value, or delete the line',
} as const;

/** What is written at a path; undefined: nothing. */
function valueAt(root: unknown, path: Path): unknown {
  let here = root;
  for (const step of path) {
    if (typeof here !== 'object' || here === null) return here;
    here = Reflect.get(here, step);
  }
  return here;
}

/** An unknown key: perhaps misspelt, perhaps from another section. */
export function unknownKey(
  document: TextDocument,
  path: Path,
  words: { readonly known: readonly string[]; readonly whole: z.ZodType },
): Diagnostic {
  const key = String(path.at(-1) ?? '');
  const kind = path.length === 1 ? kindOfFile.get(key) : undefined;
  const problem: Problem = {
    code: 'unknown-key',
    says: 'is not a known key',
    expected: words.known.length > 0 ? `one of ${words.known.join(', ')}` : undefined,
    hint:
      homeHint(words.whole, key) ??
      (kind !== undefined
        ? `it belongs in a ${kind}`
        : /^\d/u.test(key)
          ? 'a comma ends a value here: write decimals with a point, such as 2.5m'
          : didYouMean(key, words.known)),
  };
  return document.diagnose(path, problem, 'key');
}

/** The kind of file that a top-level key belongs to. */
const kindOfFile: ReadonlyMap<string, string> = new Map([
  ...['watch', 'device', 'judge', 'supply'].map((key) => [key, 'watch file'] as const),
  ...[
    'name',
    'start',
    'length',
    'network',
    'power',
    'resets',
    'temperature',
    'expect',
    'generate',
  ].map((key) => [key, 'scenario'] as const),
]);

function problemOf(issue: Issue): Problem {
  if (issue.code === 'custom') {
    const { code, expected, hint, found } = issue.params ?? {};
    return {
      code: textOr(code) ?? 'invalid',
      says: issue.message,
      expected: textOr(expected),
      hint: textOr(hint),
      found: textOr(found),
    };
  }
  if (issue.code === 'invalid_type') {
    const expected = typeWords[issue.expected] ?? issue.expected;
    return { code: 'wrong-type', says: 'has the wrong type', expected };
  }
  if (issue.code === 'too_big') {
    const says = `has more than ${String(issue.maximum)} entries`;
    return { code: 'list-too-long', says, found: '' };
  }
  return { code: 'invalid', says: `is not valid: ${issue.message}` };
}

const typeWords: Readonly<Record<string, string>> = {
  object: 'a map of keys and values',
  record: 'a map of keys and values',
  array: 'a list',
};

function textOr(value: unknown): string | undefined {
  return typeof value === 'string' ? value : undefined;
}

/** If a value may take several forms, the problems of the form that was meant. */
function unionIssues(issue: core.$ZodIssueInvalidUnion): readonly Issue[] {
  const ofItsType = issue.errors.filter((errors) => !errors.some(isTypeAtRoot));
  const [meant] = ofItsType.length > 0 ? ofItsType : issue.errors;
  if (ofItsType.length > 0) return meant ?? [];
  const forms = issue.errors.flatMap((errors) => errors.filter(isTypeAtRoot).map(problemOf));
  const expected = forms.map((form) => form.expected).filter((form) => form !== undefined);
  const params = { code: 'wrong-type', expected: [...new Set(expected)].join(', or ') };
  return [{ code: 'custom', path: [], message: 'has the wrong type', params }];
}

function isTypeAtRoot(issue: Issue): boolean {
  return issue.path.length === 0 && problemOf(issue).code === 'wrong-type';
}
