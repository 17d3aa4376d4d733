// The first comment of what is emitted, by which emit knows its own files again.

/** Stands at the beginning of every emitted file. */
export const writtenBy = 'Written by dozewatch emit';
