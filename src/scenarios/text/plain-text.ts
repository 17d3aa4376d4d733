// Checks a file before any parser sees it: it must be text, of a sensible size, and not nested so deeply that a
// parser runs out of stack.
import type { Diagnostic, SourceRef } from '../../base/index.js';
import { mostFileCharacters, mostLevels, mostMarks } from '../../model/index.js';

// U+FFFD is what a decoder puts for bytes that are not UTF-8.
const notText =
  /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u0084\u0086-\u009f\ufffd\ufffe\uffff]/;

/** The first reason not to parse this text, or null. */
export function textFault(text: string, file: string): Diagnostic | null {
  if (text.length > mostFileCharacters) {
    const message = `the file has more than ${String(mostFileCharacters)} characters`;
    return { code: 'file-too-large', severity: 'error', source: { file }, message };
  }
  const odd = notText.exec(text);
  if (odd !== null) {
    return {
      code: 'file-not-text',
      severity: 'error',
      source: placeAt(text, file, odd.index),
      message: 'the file is not a text file',
      found: `the character U+${odd[0].charCodeAt(0).toString(16).toUpperCase().padStart(4, '0')}`,
      expected: 'text in UTF-8',
    };
  }
  if (hasTooManyMarks(text)) {
    const message = `the file has more than ${String(mostMarks)} commas, colons and lines`;
    return {
      code: 'file-too-large',
      severity: 'error',
      source: { file },
      message,
      hint: 'a door log (CSV or NDJSON) may be of any length',
    };
  }
  if (/^\s*$/.test(text)) return emptyFile(file);
  const tooDeep = firstTooDeep(text);
  if (tooDeep === null) return null;
  return {
    code: 'file-too-deep',
    severity: 'error',
    source: placeAt(text, file, tooDeep),
    message: `the file is nested more than ${String(mostLevels)} levels deep`,
  };
}

function hasTooManyMarks(text: string): boolean {
  // Most files are shorter than that.
  if (text.length <= mostMarks) return false;
  let marks = 0;
  for (let at = 0; at < text.length && marks <= mostMarks; at += 1) {
    const code = text.charCodeAt(at);
    if (code === 0x2c || code === 0x3a || code === 0x0a) marks += 1;
  }
  return marks > mostMarks;
}

export function emptyFile(file: string): Diagnostic {
  return {
    code: 'file-empty',
    severity: 'error',
    source: { file, line: 1, column: 1 },
    message: 'the file is empty',
    hint: 'dozewatch init writes a first watch file and a first scenario',
  };
}

/** Line and column of an offset. */
export function placeAt(text: string, file: string, offset: number): SourceRef {
  const before = text.slice(0, offset);
  const lineStart = before.lastIndexOf('\n') + 1;
  const line = before.split('\n').length;
  return { file, line, column: offset - lineStart + 1 };
}

/**
 * Where brackets, or dashes at the start of a line, open too many levels. Brackets in quotes and comments count
 * too: a file of ours has no forty of them unclosed.
 */
function firstTooDeep(text: string): number | null {
  let depth = 0;
  for (const { 0: bracket, index } of text.matchAll(/[[\]{}]/g)) {
    depth = bracket === '[' || bracket === '{' ? depth + 1 : Math.max(0, depth - 1);
    if (depth > mostLevels) return index;
  }
  const dashes = new RegExp(`^[ \\t]*(?:[-?:][ \\t]+){${String(mostLevels)}}`, 'm').exec(text);
  if (dashes !== null) return dashes.index;
  const indented = /^ {400}/m.exec(text);
  return indented === null ? null : indented.index;
}
