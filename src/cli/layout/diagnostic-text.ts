// A finding about the user's input, always in the same shape: where and what, the line it stands on with a
// caret, then what was found, what was expected, and what to do.
import { type Diagnostic, plain, pushAll } from '../../base/index.js';
import { columnsOf, plainCut } from '../../wording/index.js';
import type { Paint } from './paint.js';
import { factsText } from './table-text.js';

/** How much of a long line stands before its caret. */
const leadColumns = 40;
const excerptColumns = 90;
/** Of a message or a fact: nobody reads on, and an option or a name may have a million characters. */
const mostColumns = 2_000;
/** However narrow the terminal. */
const leastExcerpt = 20;

/** @param line the input's line that the diagnostic names, where it could be read. @param width columns to wrap facts to. */
export function diagnosticText(
  diagnostic: Diagnostic,
  line: string | undefined,
  how: { readonly paint: Paint; readonly width: number },
): string {
  const { paint, width } = how;
  const { code, severity, message } = diagnostic;
  const word = severity === 'error' ? paint.bad(paint.bold('error:')) : paint.doubtful('warning:');
  const lines = [
    `${word} ${placeText(diagnostic)}${plainCut(message, mostColumns)} ${paint.dim(`[${code}]`)}`,
  ];
  if (line !== undefined) pushAll(lines, excerpt(diagnostic, line, how));
  const facts = (['found', 'expected', 'hint'] as const).flatMap((name) => {
    const text = diagnostic[name];
    return text === undefined
      ? []
      : [[paint.dim(`${name}:`), plainCut(text, mostColumns)] as const];
  });
  const head = `${lines.join('\n')}\n${facts.length > 0 ? factsText(facts, width) : ''}`;
  // Command lines are not wrapped: they are to be pasted.
  const label = 'try:'.padEnd(labelWidth(facts.map(([name]) => plain(name))));
  const tries = diagnostic.tries ?? [];
  return (
    head + tries.map((line) => `  ${paint.dim(label)}${plainCut(line, mostColumns)}\n`).join('')
  );
}

/** As wide as that of the other facts, with two spaces behind it. */
function labelWidth(names: readonly string[]): number {
  return 2 + names.reduce((most, name) => Math.max(most, columnsOf(name)), 'try:'.length);
}

/** `watch.yaml:3:18: `, or as much of it as is known. */
function placeText({ source }: Diagnostic): string {
  const { file, line, column } = source;
  const place = file === '-' ? 'standard input' : plainCut(file, mostColumns);
  const parts = [place, line, line === undefined ? undefined : column];
  const text = parts.filter((part) => part !== undefined).join(':');
  return text === '' ? '' : `${text}: `;
}

function excerpt(
  { source }: Diagnostic,
  line: string,
  { paint, width }: { readonly paint: Paint; readonly width: number },
): string[] {
  const number = String(source.line ?? '');
  const gutter = ' '.repeat(number.length);
  const column = source.column ?? 1;
  const room = Math.max(leastExcerpt, Math.min(excerptColumns, width - gutter.length - 6));
  const before = Math.min(leadColumns, Math.trunc(room / 2));
  const from = column > room - before ? column - 1 - before : 0;
  const shown = plainCut(untabbed(line.slice(from)), room);
  const lead = from > 0 ? '…' : '';
  const rows = [`  ${paint.dim(`${number} |`)} ${lead}${shown}`];
  if (source.column !== undefined) {
    const blanks = columnsOf(lead + plain(untabbed(line.slice(from, column - 1))));
    rows.push(`  ${paint.dim(`${gutter} |`)} ${' '.repeat(blanks)}${paint.bad('^')}`);
  }
  return rows;
}

/** A tab takes one column here, so that the caret stands under its character. */
function untabbed(line: string): string {
  return line.replaceAll('\t', ' ');
}
