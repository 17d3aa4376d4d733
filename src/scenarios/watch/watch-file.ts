// A watch file's text becomes settings, or a list of all that is wrong with it.
import { type Diagnostic, invariant, ok, type Result } from '../../base/index.js';
import type { WatchSettings } from '../../machine/index.js';
import { isCompilable, mostAttempts, settingAt } from '../../model/index.js';
import { check } from '../text/decode.js';
import { type Path, readDocument, type TextDocument } from '../text/document.js';
import { inOrder } from '../text/in-order.js';
import { logInstead, otherKind } from '../text/kind-of-file.js';
import type { Problem } from '../text/problem.js';
import type { WatchFile } from '../types.js';
import { carried } from './carried.js';
import { watchDefinition } from './definition.js';
import { emptyDocument, overlaid, type WatchOverride } from './overrides.js';
import { spelledOut } from './short-form.js';
import { findContradictions } from './warnings.js';

/**
 * Reads a watch file, in YAML, or in JSON when its name ends in `.json`.
 * @param text null: there is no file, and the overrides stand alone.
 * @param file names it in messages.
 * @param overrides settings in place of the file's.
 * @returns the settings, with warnings about those that cancel each other; or all errors, each with its line.
 */
export function parseWatchFile(
  text: string | null,
  file: string,
  overrides: readonly WatchOverride[] = [],
): Result<WatchFile> {
  const document = overlaid(
    text === null ? emptyDocument(file) : withLongForms(readDocument(text, file)),
    overrides,
  );
  const log = text === null ? null : logInstead(text, document);
  if (log !== null) return { ok: false, errors: [log] };
  if (document.root === undefined) return { ok: false, errors: document.errors };
  const other = otherKind(document, 'watch file');
  if (other !== null) return { ok: false, errors: [other] };
  const checked = check(watchDefinition, document.root, { document, path: [] });
  const errors = [...document.errors, ...(checked.ok ? [] : checked.errors)];
  if (!checked.ok || errors.length > 0) return { ok: false, errors: inOrder(errors) };
  const watchFile = carried(checked.value);
  const tooMany = stateCountFault(watchFile.watch);
  if (tooMany !== null) {
    return {
      ok: false,
      errors: [document.diagnose(['watch', 'escalationThreshold'], tooMany)],
    };
  }
  return ok(watchFile, warningsIn(document, watchFile));
}

/** Where a file has what only an option takes, `3 of 5`, the hint is what the file takes. */
function withLongForms(document: TextDocument): TextDocument {
  return {
    ...document,
    diagnose(path, problem, at) {
      const setting = settingAt(path.join('.'));
      const long =
        problem.code === 'wrong-type' && setting !== undefined
          ? spelledOut(valueAt(document, path), setting.row.kind)
          : null;
      return document.diagnose(
        path,
        long === null ? problem : { ...problem, hint: `write ${long}` },
        at,
      );
    },
  };
}

function valueAt(document: TextDocument, path: Path): unknown {
  let here: unknown = document.root;
  for (const step of path) here = isRecord(here) ? here[step] : undefined;
  return here;
}

/** What an owner gets who sets nothing. */
export function defaultWatchFile(): WatchFile {
  const checked = watchDefinition.safeParse({});
  invariant(checked.success, 'the defaults are in order');
  return carried(checked.data);
}

function warningsIn(document: TextDocument, watchFile: WatchFile): readonly Diagnostic[] {
  const isGiven = (path: Path): boolean => valueAt(document, path) !== undefined;
  return findContradictions(watchFile, isGiven).map((contradiction) => {
    const { path, because = [] } = contradiction;
    if (isGiven(path)) return document.warn(path, contradiction);
    const cause = because.map((key) => key.split('.')).find((key) => isGiven(key));
    return document.warn(cause ?? path.slice(0, 1), { ...contradiction, found: '' });
  });
}

function isRecord(value: unknown): value is Record<string | number, unknown> {
  return typeof value === 'object' && value !== null;
}

/** The error for settings whose table would be too large, or null. */
function stateCountFault(watch: WatchSettings): Problem | null {
  if (isCompilable(watch)) return null;
  const attempts = mostAttempts(watch);
  const fewer = attempts < 1 ? '' : `make retry.attempts at most ${String(attempts)}, or `;
  return {
    code: 'too-many-states',
    says: `has too many states together with clearThreshold ${String(watch.clearThreshold)} and retry.attempts ${String(watch.retryAttempts)}`,
    hint: `${fewer}lower outOf or clearThreshold`,
  };
}
