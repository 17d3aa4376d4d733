// A certificate's file as JSON: it may be far longer than what people write by hand.
import { type Diagnostic, firstTooDeep, quotedEnd, shellWord } from '../../base/index.js';
import { mostCertificateMebibytes, mostLevels } from '../../model/index.js';
import type { Io } from '../host/io.js';
import { textChunksOf } from '../host/read-text.js';
import { InputProblem, problem } from '../problem.js';

/** @throws InputProblem when the file cannot be read, or is not JSON. */
export async function readCertificate(file: string, io: Io): Promise<unknown> {
  const parts: string[] = [];
  let bytes = 0;
  for await (const part of textChunksOf(file, io, (count) => (bytes += count))) {
    parts.push(part);
    if (bytes > mostCertificateMebibytes * 1024 * 1024) {
      throw problem('file-too-large', file, {
        message: 'the file is larger than a certificate can be',
        expected: `at most ${String(mostCertificateMebibytes)} MiB`,
      });
    }
  }
  return jsonOf(file, parts.join(''));
}

function jsonOf(file: string, text: string): unknown {
  const deep = firstTooDeep(text, mostLevels);
  if (deep !== null) throw tooDeep(file, text, deep);
  const json = parsed(file, text);
  refuseDoubles(file, text);
  return json;
}

function parsed(file: string, text: string): unknown {
  try {
    const json: unknown = JSON.parse(text);
    return json;
  } catch (error) {
    throw notJson(file, text, error);
  }
}

/** A key written twice: a reader of JSON silently keeps the last. @param text what is JSON. */
function refuseDoubles(file: string, text: string): void {
  const open: Set<string>[] = [];
  for (let at = 0; at < text.length; at += 1) {
    const character = text[at];
    if (character === '{') open.push(new Set());
    else if (character === '}') open.pop();
    else if (character === '"') {
      const end = quotedEnd(text, at);
      const after = firstNotBlank(text, end);
      if (text[after] === ':') {
        const key = unescaped(text.slice(at, end));
        const keys = open.at(-1);
        if (keys?.has(key) === true) throw keyTwice(file, key, { text, index: at });
        keys?.add(key);
      }
      at = after - 1;
    }
  }
}

/** In JSON, nothing else is blank. */
function firstNotBlank(text: string, from: number): number {
  let at = from;
  while (at < text.length && ' \t\n\r'.includes(text.charAt(at))) at += 1;
  return at;
}

/** A key in quotes as JSON means it: letters may be written as their numbers. */
function unescaped(key: string): string {
  return key.includes('\\') ? JSON.stringify(JSON.parse(key)) : key;
}

function keyTwice(
  file: string,
  key: string,
  { text, index }: { readonly text: string; readonly index: number },
): InputProblem {
  return new InputProblem([
    {
      code: 'duplicate-key',
      severity: 'error',
      source: placeIn(file, text, index),
      message: 'the certificate has the same key twice in one object',
      found: key,
      hint: `write it again: dozewatch bounds -c WATCHFILE --certificate ${shellWord(file)}`,
    },
  ]);
}

/** @param offset characters from the start of the text. */
function placeIn(file: string, text: string, offset: number): Diagnostic['source'] {
  const before = text.slice(0, offset).split('\n');
  return { file, line: before.length, column: (before.at(-1)?.length ?? 0) + 1 };
}

function tooDeep(file: string, text: string, offset: number): InputProblem {
  return new InputProblem([
    {
      code: 'file-too-deep',
      severity: 'error',
      source: placeIn(file, text, offset),
      message: `the file nests more than ${String(mostLevels)} levels deep`,
      expected: 'a certificate, as dozewatch bounds --certificate writes it',
    },
  ]);
}

function notJson(file: string, text: string, error: unknown): InputProblem {
  const message = error instanceof Error ? error.message : '';
  const [, digits] = /position (\d+)/u.exec(message) ?? [];
  // A text that does not even begin like a certificate is another file; else it was cut off, or damaged there.
  const isOther = !text.trimStart().startsWith('{');
  const offset = isOther ? 0 : digits === undefined ? text.trimEnd().length : Number(digits);
  return new InputProblem([
    {
      code: 'json-syntax',
      severity: 'error',
      source: placeIn(file, text, offset),
      message: isOther ? 'this is not a certificate' : 'the file is not JSON',
      expected: 'a certificate, as dozewatch bounds --certificate writes it',
    },
  ]);
}
