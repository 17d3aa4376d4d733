// A YAML or JSON file as plain values that remember where they stood. What other YAML readers expand, build or
// guess (aliases, tags, several documents, merge keys) is an error here.
import { LineCounter, parseDocument } from 'yaml';
import type { Diagnostic, SourceRef } from '../../base/index.js';
import { indentationSlip } from './indentation.js';
import { jsonFault } from './json-fault.js';
import { type Located, locate } from './located.js';
import { emptyFile, textFault } from './plain-text.js';
import { diagnosed, type Problem, shortened } from './problem.js';

export type Path = readonly (string | number)[];

/** A parsed file. `errors` are those of the notation; `root` is what could be read all the same. */
export interface TextDocument {
  readonly root: unknown;
  readonly errors: readonly Diagnostic[];
  /** Line and column of the value at a path, or of the nearest thing around it. */
  place(path: Path): SourceRef;
  /** A problem of the value at a path, or of its key, with what stands there. */
  diagnose(path: Path, problem: Problem, at?: 'value' | 'key'): Diagnostic;
  /** A warning about the value at a path; `says` is a whole clause. */
  warn(path: Path, problem: Problem): Diagnostic;
}

/** Reads a file's text. Never throws; when nothing can be read, `root` is undefined and `errors` says why. */
export function readDocument(text: string, file: string): TextDocument {
  const withoutMark = text.startsWith('\ufeff') ? text.slice(1) : text;
  const json = file.toLowerCase().endsWith('.json');
  const fault = textFault(withoutMark, file) ?? (json ? jsonFault(withoutMark, file) : null);
  if (fault !== null) return unreadable(file, fault);
  const lines = new LineCounter();
  const parsed = parseDocument(withoutMark, {
    version: '1.2',
    schema: 'core',
    strict: true,
    // Checked while locating, in linear time.
    uniqueKeys: false,
    prettyErrors: false,
    logLevel: 'error',
    lineCounter: lines,
  });
  const place = (offset: number): SourceRef => {
    const { line, col } = lines.linePos(offset);
    return { file, line: Math.max(1, line), column: Math.max(1, col) };
  };
  const [syntax] = parsed.errors;
  if (syntax !== undefined) {
    return unreadable(file, syntaxError(syntax, withoutMark, place));
  }
  const errors: Diagnostic[] = [];
  const root = locate(parsed.contents, withoutMark, (offset, problem) => {
    errors.push(diagnosed(problem, 'the file', place(offset)));
  });
  // Aliases, and entries that became part of others, leave values missing elsewhere: one error is enough.
  const first = errors.find(({ code }) => code === 'yaml-alias' || code === 'yaml-indentation');
  if (first !== undefined) return unreadable(file, first);
  if (root.value === null && errors.length === 0) return unreadable(file, emptyFile(file));
  return documentOf({ root, errors, place, text: withoutMark });
}

function unreadable(file: string, error: Diagnostic): TextDocument {
  const place = (): SourceRef => ({ file });
  return {
    root: undefined,
    errors: [error],
    place,
    diagnose: (path, problem) => diagnosed(problem, nameOf(path), place()),
    warn: (_, problem) => diagnosed(problem, null, place(), 'warning'),
  };
}

function syntaxError(
  {
    code,
    message,
    pos,
  }: { readonly code: string; readonly message: string; readonly pos: readonly number[] },
  text: string,
  place: (offset: number) => SourceRef,
): Diagnostic {
  const at = pos[0] ?? 0;
  const source = place(at);
  if (code === 'MULTIPLE_DOCS') {
    return {
      code: 'yaml-several-documents',
      severity: 'error',
      source,
      message: 'the file has several documents',
      hint: 'put each into its own file, without ---',
    };
  }
  const found = text.slice(at).split('\n')[0] ?? '';
  const joined = /^(?:- )?([\w-]+:)[^\s:]+$/u.exec(found.trim())?.[1];
  if (code === 'MULTILINE_IMPLICIT_KEY' && joined !== undefined) {
    return {
      code: 'yaml-syntax',
      severity: 'error',
      source,
      found: shortened(found),
      message: 'a space is missing behind the colon',
      hint: `write ${joined} and a space before the value`,
    };
  }
  const slip = indentationSlip(text, { code, message, at });
  if (slip !== null) {
    const { offset, ...words } = slip;
    return { code: 'yaml-indentation', severity: 'error', source: place(offset), ...words };
  }
  return {
    code: 'yaml-syntax',
    severity: 'error',
    source,
    message: `the file is not valid YAML: ${message.slice(0, 1).toLowerCase()}${message.slice(1)}`,
    ...(found.trim() === '' ? {} : { found: shortened(found) }),
    hint: syntaxHints[code],
  };
}

const syntaxHints: Readonly<Record<string, string>> = {
  TAB_AS_INDENT: 'indent with spaces',
  MISSING_CHAR: 'close the bracket or the quote',
  BAD_SCALAR_START: 'put the text in quotes',
  BLOCK_AS_IMPLICIT_KEY: 'put text that contains a colon and a space in quotes',
};

function documentOf(parts: {
  readonly root: Located;
  readonly errors: readonly Diagnostic[];
  readonly place: (offset: number) => SourceRef;
  readonly text: string;
}): TextDocument {
  const nearest = (path: Path): Located => {
    let here = parts.root;
    for (const step of path) here = here.children?.get(step) ?? here;
    return here;
  };
  const exact = (path: Path): Located | undefined => {
    let here: Located | undefined = parts.root;
    for (const step of path) here = here?.children?.get(step);
    return here;
  };
  const standing = (path: Path, at: 'value' | 'key'): readonly [start: number, end: number] => {
    const here = exact(path);
    if (here === undefined) {
      // Within a sentence the parts have no places of their own: the sentence stands for them.
      const { start, end, children } = nearest(path);
      return children === null ? [start, end] : [start, start];
    }
    return at === 'key' && here.keyStart !== null && here.keyEnd !== null
      ? [here.keyStart, here.keyEnd]
      : [here.start, here.end];
  };
  const foundAt = (problem: Problem, start: number, end: number): Problem => {
    const found = problem.found ?? parts.text.slice(start, Math.min(end, start + 300));
    return { ...problem, found: found.trim() === '' ? undefined : found };
  };
  return {
    root: parts.root.value,
    errors: parts.errors,
    place: (path) => parts.place(nearest(path).start),
    diagnose(path, problem, at = 'value') {
      const [start, end] = standing(path, at);
      return diagnosed(foundAt(problem, start, end), nameOf(path), parts.place(start));
    },
    warn(path, problem) {
      const [start, end] = standing(path, 'value');
      return diagnosed(foundAt(problem, start, end), null, parts.place(start), 'warning');
    },
  };
}

/** A path as people read it: `watch.retry.attempts`, `door entry 3, "at"`. */
export function nameOf(path: Path): string {
  let name = '';
  let afterEntry = false;
  for (const step of path) {
    if (typeof step === 'number') name += `${name === '' ? '' : ' '}entry ${String(step + 1)}`;
    else if (afterEntry) name += `, "${step}"`;
    else name += `${name === '' ? '' : '.'}${step}`;
    afterEntry = typeof step === 'number';
  }
  return name === '' ? 'the file' : name;
}
