// Problems in the order in which a reader meets them.
import type { Diagnostic } from '../../base/index.js';

/** By line and column; those of one place stay as they were. */
export function inOrder(diagnostics: readonly Diagnostic[]): readonly Diagnostic[] {
  return [...diagnostics].sort((a, b) => {
    const byLine = (a.source.line ?? 0) - (b.source.line ?? 0);
    return byLine === 0 ? (a.source.column ?? 0) - (b.source.column ?? 0) : byLine;
  });
}
