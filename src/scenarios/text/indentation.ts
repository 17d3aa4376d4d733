// Lines of YAML that begin in another column than the keys or entries beside them, which the parser reports in its own terms
// and often a line too soon.

/** A line whose first column fits nothing above it; columns count from 0. */
export interface Slip {
  /** Offset of its first character that is no space. */
  readonly offset: number;
  readonly message: string;
  readonly hint: string;
}

interface Line {
  readonly number: number;
  readonly offset: number;
  readonly column: number;
  readonly text: string;
}

/** The codes of the yaml library for lines indented wrongly. Within braces it gives other codes, which name the braces. */
const codes: ReadonlySet<string> = new Set([
  'BAD_INDENT',
  'BLOCK_AS_IMPLICIT_KEY',
  'MULTILINE_IMPLICIT_KEY',
  'MISSING_CHAR',
  'UNEXPECTED_TOKEN',
]);

const keyOrEntry = /^(?:- |-$|[\w$.'"-]+ *:(?:\s|$))/u;

/** @param at where the parser stopped: in the line itself, or in the one before it. */
export function indentationSlip(
  text: string,
  { code, message, at }: { readonly code: string; readonly message: string; readonly at: number },
): Slip | null {
  if (!codes.has(code) || message.startsWith('Flow')) return null;
  const lines = linesOf(text);
  const stopped = lines.findLastIndex(({ offset, column }) => offset - column <= at);
  for (const index of [stopped, stopped + 1]) {
    const line = lines[index];
    if (line === undefined || !keyOrEntry.test(line.text)) continue;
    const slip = slipOf(line, lines.slice(0, index));
    if (slip !== null) return slip;
  }
  return null;
}

/** An entry of a list that became part of the entry above it. */
export function joinedEntry(text: string, [start, end]: readonly [number, number]): Slip | null {
  const within = /\n[ ]*(?=- )/u.exec(text.slice(start, end));
  if (within === null) return null;
  const offset = start + within.index + within[0].length;
  const lines = linesOf(text);
  const index = lines.findIndex((line) => line.offset === offset);
  const line = lines[index];
  return line === undefined ? null : slipOf(line, lines.slice(0, index));
}

/** Without empty lines and comments. */
function linesOf(text: string): readonly Line[] {
  const lines: Line[] = [];
  let start = 0;
  for (const [index, whole] of text.split('\n').entries()) {
    const written = whole.trimStart();
    const column = whole.length - written.length;
    if (written !== '' && !/^(?:#|---)/u.test(written)) {
      lines.push({ number: index + 1, offset: start + column, column, text: written.trimEnd() });
    }
    start += whole.length + 1;
  }
  return lines;
}

interface Level {
  readonly column: number;
  readonly number: number;
  readonly isEntry: boolean;
}

function slipOf(line: Line, above: readonly Line[]): Slip | null {
  const last = above.at(-1);
  if (last === undefined) return null;
  const levels = levelsOf(above);
  if (levels.some(({ column }) => column === line.column)) return null;
  const isDeeper = line.column > (levels.at(-1)?.column ?? 0);
  if (isDeeper && opensBlock(last.text)) return null;
  const isEntry = line.text.startsWith('-');
  const alike = levels.filter((level) => level.isEntry === isEntry);
  const deeper = alike.find(({ column }) => column > line.column);
  const shallower = alike.findLast(({ column }) => column < line.column);
  const [near, other] = isDeeper || deeper === undefined ? [shallower] : [deeper, shallower];
  if (near === undefined) return null;
  const own = String(line.number);
  const what = isEntry ? 'entries of one list' : 'keys of one section';
  const as = ({ column, number }: Level): string =>
    `in column ${String(column + 1)} as line ${String(number)} does`;
  return {
    offset: line.offset,
    message: `line ${own} begins in column ${String(line.column + 1)}, and line ${String(near.number)} in column ${String(near.column + 1)}: ${what} must begin in the same column`,
    hint: `begin line ${own} ${as(near)}${other === undefined ? '' : `, or ${as(other)}`}`,
  };
}

/** A key without a value, or text that goes on below. */
function opensBlock(text: string): boolean {
  return /(?:^-|:|[|>][-+\d]*)$/u.test(withoutComment(text));
}

function withoutComment(text: string): string {
  const at = text.search(/\s#/u);
  return at < 0 ? text : text.slice(0, at).trimEnd();
}

/** The columns in which keys or entries may go on, outermost first, each with the last line that begins there. */
function levelsOf(lines: readonly Line[]): readonly Level[] {
  const levels: Level[] = [];
  for (const { column, number, text } of lines) {
    if (!keyOrEntry.test(text)) continue;
    while ((levels.at(-1)?.column ?? -1) >= column) levels.pop();
    levels.push({ column, number, isEntry: text.startsWith('-') });
    const entry = /^- +(?=[\w$'"-]+ *:(?:\s|$))/u.exec(text);
    if (entry === null) continue;
    levels.push({ column: column + entry[0].length, number, isEntry: false });
  }
  return levels;
}
