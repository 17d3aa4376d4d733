// A list of JSON objects, as a stream: each object is cut out at its braces, wherever the lines and the pieces of the text end.
import { mostLineCharacters } from '../../model/index.js';
import type { Problem } from '../text/problem.js';
import type { LogParts } from './line-taker.js';
import { notJson, type ObjectPlace, objectTaker } from './ndjson.js';

/** Takes a text in pieces. */
export interface ChunkTaker {
  chunk(text: string): void;
  end(): void;
}

export function jsonTaker(parts: LogParts): ChunkTaker {
  const objects = objectTaker(parts);
  return objectScanner({
    take: (text, place) => {
      objects.take(text, place);
    },
    stop: (problem, at) => {
      parts.giveUp(problem, at.line, at.column);
    },
    end: () => {
      objects.end();
    },
  });
}

/** Cuts out each object and hands it on. */
export function objectScanner(to: {
  readonly take: (text: string, place: ObjectPlace) => void;
  readonly stop: (problem: Problem, place: ObjectPlace) => void;
  readonly end: () => void;
}): ChunkTaker {
  let line = 1;
  let lineStart = 0;
  /** Characters before this piece. */
  let before = 0;
  let depth = 0;
  /** Lists around the objects that have not ended. */
  let lists = 0;
  /** Behind the last character that is no white space. */
  let endPlace = { line: 1, column: 1 };
  let inText = false;
  let escaped = false;
  let begun = '';
  let place = { line: 1, column: 1 };
  let stopped = false;
  const stop = (problem: Problem, at: ObjectPlace): void => {
    stopped = true;
    to.stop(problem, at);
  };
  return {
    chunk(text) {
      let from = 0;
      for (let at = 0; at < text.length && !stopped; at += 1) {
        const code = text.charCodeAt(at);
        if (code === 10) {
          line += 1;
          lineStart = before + at + 1;
        }
        if (inText) {
          if (escaped) escaped = false;
          else if (code === 92) escaped = true;
          else if (code === 34) inText = false;
        } else if (code === 34 && depth > 0) inText = true;
        else if (code === 123) {
          if (depth === 0) {
            place = { line, column: before + at - lineStart + 1 };
            from = at;
          }
          depth += 1;
        } else if (code === 125 && depth > 0) {
          depth -= 1;
          if (depth > 0) continue;
          to.take(begun + text.slice(from, at + 1), place);
          begun = '';
        } else if (depth === 0 && !isBetween(code)) {
          const rest = text.slice(at, at + 100);
          stop(notJson(rest), { line, column: before + at - lineStart + 1 });
        } else if (depth === 0 && code === 91) lists += 1;
        else if (depth === 0 && code === 93) {
          lists -= 1;
          if (lists < 0) stop(listWithoutStart, { line, column: before + at - lineStart + 1 });
        }
        if (code > 32) endPlace = { line, column: before + at - lineStart + 2 };
      }
      if (depth > 0) begun += text.slice(from);
      if (begun.length > mostLineCharacters) stop(notJson(begun), place);
      before += text.length;
    },
    end() {
      if (stopped) return;
      if (depth > 0) stop(unclosed, place);
      else if (lists > 0) stop(listWithoutEnd, endPlace);
      else to.end();
    },
  };
}

const cutOff = 'the file may have been cut off: export it again';

const unclosed: Problem = {
  code: 'json-row-unreadable',
  says: 'this object has no end',
  hint: cutOff,
};

export const listWithoutEnd: Problem = {
  code: 'json-row-unreadable',
  says: 'the list of rows has no end: the file ends here without a ]',
  hint: `${cutOff}; if no row is missing, write the ] behind the last one`,
};

const listWithoutStart: Problem = {
  code: 'json-row-unreadable',
  says: 'a list ends here that has no beginning',
  found: ']',
  hint: cutOff,
};

/** White space, brackets and commas of the list, and the mark at the start of a file. */
function isBetween(code: number): boolean {
  return code <= 32 || code === 44 || code === 91 || code === 93 || code === 0xfeff;
}
