// What the tests of this folder ask of results.
import fc from 'fast-check';
import type { Diagnostic, Result } from '../../src/base/index.js';
import { type DoorLog, type DoorLogOptions, openDoorLog } from '../../src/scenarios/index.js';

/** Text of any code units at all, lone surrogates and control characters among them. */
export function anyText(maxLength: number): fc.Arbitrary<string> {
  const unit = fc
    .oneof(fc.integer({ min: 0, max: 0xff }), fc.integer({ min: 0, max: 0xffff }))
    .map((code) => String.fromCharCode(code));
  return fc.string({ unit, maxLength });
}

/** The value of a result that has to be good. */
export function valueOf<T>(result: Result<T>): T {
  if (!result.ok) throw new Error(`refused: ${result.errors.map(brief).join('; ')}`);
  return result.value;
}

/** The errors of a result that has to be bad, as `line:column code`. */
export function errorsOf(result: Result<unknown>): readonly string[] {
  if (result.ok) throw new Error('accepted');
  return result.errors.map(brief);
}

/** The codes alone. */
export function codesOf(result: Result<unknown>): readonly string[] {
  if (result.ok) throw new Error('accepted');
  return result.errors.map(({ code }) => code);
}

export function brief({ code, source }: Diagnostic): string {
  return source.line === undefined
    ? code
    : `${String(source.line)}:${String(source.column ?? '-')} ${code}`;
}

/** Pushes a log's text in pieces of a size. */
export function readLog(
  text: string,
  options: Partial<DoorLogOptions> = {},
  pieceLength = 65_536,
): Result<DoorLog> {
  const reader = openDoorLog({ file: 'doors.csv', ...options });
  for (let at = 0; at < text.length; at += pieceLength)
    reader.push(text.slice(at, at + pieceLength));
  return reader.finish();
}

/** The openings of a log as pairs. */
export function pairsOf(log: DoorLog): readonly (readonly [number, number])[] {
  return Array.from(log.openings.fromMs, (from, index) => [from, log.openings.toMs[index] ?? 0]);
}
