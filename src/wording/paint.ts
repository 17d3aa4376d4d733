// How words are set apart, where that can be shown.

/** Wraps text for a terminal, or gives it back as it is. */
export interface Paint {
  readonly bold: (text: string) => string;
  readonly dim: (text: string) => string;
  readonly good: (text: string) => string;
  readonly bad: (text: string) => string;
  readonly doubtful: (text: string) => string;
}

const same = (text: string): string => text;

/** Where nothing can be coloured, or the page has its own ways. */
export const unpainted: Paint = { bold: same, dim: same, good: same, bad: same, doubtful: same };
