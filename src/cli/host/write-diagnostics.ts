// Diagnostics on the error stream, each with the line it stands on.
import { counted, type Diagnostic } from '../../base/index.js';
import { asRun } from '../layout/command-line.js';
import { diagnosticText } from '../layout/diagnostic-text.js';
import type { Paint } from '../layout/paint.js';
import { wrapped } from '../layout/print.js';
import { namedLine } from './excerpt.js';
import type { Io } from './io.js';

/** Warnings of one file that anybody reads. */
const mostOfFile = 20;

/** Prints at most `most` of each file in full and counts the rest. */
export async function writeDiagnostics(
  diagnostics: readonly Diagnostic[],
  how: { readonly io: Io; readonly paint: Paint; readonly most?: number },
): Promise<void> {
  const { io, paint, most = mostOfFile } = how;
  const { shown, rest } = firstOfEach(diagnostics, most);
  const waits = diagnostics.every(({ severity }) => severity !== 'error');
  const write = async (text: string): Promise<void> => {
    if (waits && io.waiting !== undefined) io.waiting.push(text);
    else await io.stderr.write(text);
  };
  for (const diagnostic of shown) {
    const line = await namedLine(diagnostic, io);
    const text = diagnosticText(hintAsRun(diagnostic, io), line, {
      paint,
      width: io.stderr.columns,
    });
    await write(io.stderr.isTerminal ? headlineWrapped(text, io.stderr.columns) : text);
  }
  if (rest > 0) await write(`… and ${counted(rest, 'more like these', 'more like these')}\n`);
}

/** The first of each file, and how many are left. What counts the rest of a file itself is always shown. */
function firstOfEach(
  diagnostics: readonly Diagnostic[],
  most: number,
): { readonly shown: readonly Diagnostic[]; readonly rest: number } {
  const counts = new Map<string, number>();
  const shown = diagnostics.filter(({ code, source: { file } }) => {
    if (code === 'more-errors' || code === 'more-repairs') return true;
    const count = (counts.get(file) ?? 0) + 1;
    counts.set(file, count);
    return count <= most;
  });
  return { shown, rest: diagnostics.length - shown.length };
}

/** A hint may name a command to run; what to try are such commands. */
function hintAsRun(diagnostic: Diagnostic, { environment }: Io): Diagnostic {
  const { hint, tries } = diagnostic;
  return {
    ...diagnostic,
    ...(hint === undefined ? {} : { hint: asRun(hint, environment) }),
    ...(tries === undefined ? {} : { tries: tries.map((line) => asRun(line, environment)) }),
  };
}

/** All but the first line is made for the width already. */
function headlineWrapped(text: string, width: number): string {
  const [headline = '', ...below] = text.split('\n');
  return [wrapped(headline, width), ...below].join('\n');
}
