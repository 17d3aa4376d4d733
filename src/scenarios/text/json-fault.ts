// Strict JSON: the YAML parser, which gives lines and columns, also takes commas and quotes that JSON does not.
import type { Diagnostic } from '../../base/index.js';
import { placeAt } from './plain-text.js';
import { shortened } from './problem.js';

/** What is wrong with the text as JSON, or null. */
export function jsonFault(text: string, file: string): Diagnostic | null {
  const message = jsonMessage(text);
  if (message === null) return null;
  const offset = faultOffset(text, message);
  const found = text.slice(offset).split('\n')[0] ?? '';
  return {
    code: 'json-syntax',
    severity: 'error',
    source: placeAt(text, file, offset),
    message: `the file is not valid JSON: ${reason(message)}`,
    ...(found.trim() === '' ? {} : { found: shortened(found) }),
    hint: isUnfinished(text.trimEnd())
      ? 'the file ends too early: a bracket or a quote is missing, or the file was cut off'
      : 'a file that ends in .json must be strict JSON; a YAML file must end in .yaml',
  };
}

/** Where a text stops being JSON, by the engine's message on it. */
export function faultOffset(text: string, message: string): number {
  return offsetOf(message) ?? firstBadOffset(text);
}

function jsonMessage(text: string): string | null {
  try {
    JSON.parse(text);
    return null;
  } catch (error) {
    return error instanceof Error ? error.message : 'unreadable';
  }
}

/** The engine's own words, without its excerpt and its position. */
function reason(message: string): string {
  const [words = ''] = message.split(/ in JSON at position |, \.{0,3}"| after JSON at position /);
  const plain = words.replace(/ JSON input$/, '').trim();
  return `${plain.slice(0, 1).toLowerCase()}${plain.slice(1)}`;
}

function offsetOf(message: string): number | undefined {
  const [, digits] = /at position (\d+)/.exec(message) ?? [];
  return digits === undefined ? undefined : Number(digits);
}

/** Some engine messages lack the position: it is the length of the longest start that is merely unfinished. */
function firstBadOffset(text: string): number {
  let fine = 0;
  let broken = text.length + 1;
  while (fine + 1 < broken) {
    const middle = (fine + broken) >>> 1;
    if (isUnfinished(text.slice(0, middle))) fine = middle;
    else broken = middle;
  }
  return Math.min(fine, Math.max(0, text.length - 1));
}

/** Whether a text is the beginning of JSON that ends too early. */
export function isUnfinished(start: string): boolean {
  const message = jsonMessage(start);
  if (message === null || message.includes('end of JSON input')) return true;
  const offset = offsetOf(message);
  return offset !== undefined && offset >= start.length;
}
