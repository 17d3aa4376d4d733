// The text of a log, pushed in pieces cut anywhere: its format, its lines, and whether it is text at all.
import { shellWord } from '../../base/index.js';
import { mostLineCharacters } from '../../model/index.js';
import type { Problem } from '../text/problem.js';
import type { DoorLogOptions, LogFormat } from '../types.js';
import { delimitedTaker } from './delimited.js';
import { type ChunkTaker, jsonTaker } from './json-array.js';
import { isListOfLists, listsTaker } from './json-lists.js';
import { type LineTaker, type LogParts, piped } from './line-taker.js';
import { pairsTaker } from './lines-of-text.js';
import { ndjsonTaker } from './ndjson.js';

export interface TextTaker extends ChunkTaker {
  /** Whether any of it was more than white space. */
  hasBegun(): boolean;
}

/** @param isGivenUp whether nothing more is to be read. */
export function textTaker(parts: LogParts, isGivenUp: () => boolean): TextTaker {
  const { options } = parts;
  let taker: LineTaker | null = null;
  let list: ChunkTaker | null = null;
  let line = 0;
  let rest = '';
  const begin = (text: string): void => {
    const first = line === 1 && text.startsWith('\ufeff') ? text.slice(1) : text;
    if (first.trim() === '') return;
    const binary = binaryProblem(first);
    if (binary !== null) {
      parts.giveUp(binary, line);
      return;
    }
    const format = formatOf(options, first);
    parts.intake.cutAs = format === 'json' || format === 'ndjson' ? 'ndjson' : 'csv';
    taker = takerFor(parts, format, first);
    taker.line(first, line);
  };
  const take = (text: string): void => {
    line += 1;
    if (isGivenUp()) return;
    if (text.includes('\r') && !text.includes('"')) parts.giveUp(endedByCr(parts), line);
    else if (taker === null) begin(text);
    else taker.line(text, line);
  };
  return {
    chunk(chunk) {
      const zero = chunk.indexOf('\0');
      if (zero >= 0) {
        const linesBefore = chunk.slice(0, zero).split('\n').length;
        parts.giveUp(notText('the character U+0000'), line + linesBefore);
        return;
      }
      if (list === null && taker === null && isList(options, rest + chunk))
        list = isListOfLists(rest + chunk) ? listsTaker(parts) : jsonTaker(parts);
      if (list !== null) {
        list.chunk(rest + chunk);
        rest = '';
        return;
      }
      rest = eachLine(rest + chunk, take);
      if (rest.length > mostLineCharacters) parts.giveUp(tooLong(rest), line + 1);
    },
    end() {
      if (rest !== '' && list === null) take(rest);
      rest = '';
      if (!isGivenUp()) (list ?? taker)?.end();
    },
    hasBegun: () => taker !== null || list !== null,
  };
}

/** Hands on each whole line, without its end, and returns what is left over. */
function eachLine(text: string, take: (line: string) => void): string {
  let start = 0;
  for (let end = text.indexOf('\n'); end >= 0; end = text.indexOf('\n', start)) {
    const stop = end > start && text.charCodeAt(end - 1) === 13 ? end - 1 : end;
    take(text.slice(start, stop));
    start = end + 1;
  }
  return start === 0 ? text : text.slice(start);
}

/** Bytes that are not UTF-8, or control characters, in the first line. */
function binaryProblem(first: string): Problem | null {
  const odd = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f\ufffd]/.exec(first);
  if (odd === null) return null;
  return notText(
    `the character U+${odd[0].charCodeAt(0).toString(16).toUpperCase().padStart(4, '0')}`,
  );
}

/** Lines of old systems, or of two kinds in one file. */
function endedByCr({ options }: LogParts): Problem {
  return {
    code: 'log-not-text',
    says: 'the lines of this log end with the character CR alone',
    expected: 'lines that end with LF or CR LF',
    hint: 'convert it',
    tries: piped(`tr '\\r' '\\n' < ${shellWord(options.file)}`, options),
  };
}

function notText(found: string): Problem {
  return {
    code: 'log-not-text',
    says: 'the log is not a text file',
    found,
    expected: 'CSV, TSV or NDJSON in UTF-8',
  };
}

function tooLong(found: string): Problem {
  return { code: 'log-not-text', says: 'the log has a line that is too long', found };
}

function formatOf(options: DoorLogOptions, first: string): LogFormat | null {
  if (options.format !== undefined) return options.format;
  const [, ending = ''] = /\.([a-z]+)$/i.exec(options.file) ?? [];
  switch (ending.toLowerCase()) {
    case 'tsv':
    case 'tab':
      return 'tsv';
    case 'ndjson':
    case 'jsonl':
      return 'ndjson';
    case 'json':
      return 'json';
    case 'csv':
      return 'csv';
    default:
      return /^\s*\[/.test(first) ? 'json' : /^\s*\{/.test(first) ? 'ndjson' : null;
  }
}

/** Whether a text is JSON that need not have an object a line. */
function isList(options: DoorLogOptions, text: string): boolean {
  const first = /^[\ufeff\s]*(\S)/u.exec(text.slice(0, 1_000))?.[1];
  if (first === undefined) return false;
  const format = formatOf(options, first);
  return format === 'json' || (format === 'ndjson' && first === '[');
}

function takerFor(parts: LogParts, format: LogFormat | null, first: string): LineTaker {
  switch (format) {
    case 'json':
    case 'ndjson':
      return ndjsonTaker(parts);
    case 'tsv':
      return delimitedTaker(parts, '\t');
    case 'csv':
    case null:
      return pairsTaker(parts, first) ?? delimitedTaker(parts, null);
  }
}
