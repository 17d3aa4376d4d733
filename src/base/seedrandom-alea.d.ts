// The published types cover the package's front door only; this is the one generator of it that we use.
declare module 'seedrandom/lib/alea.js' {
  /** Where a generator is in its sequence. */
  interface AleaState {
    readonly c: number;
    readonly s0: number;
    readonly s1: number;
    readonly s2: number;
  }
  /** Baagøe's Alea: uniform numbers in [0, 1) with 32 random bits. */
  export default function alea(seed: string): () => number;
  export default function alea(
    seed: string,
    options: { readonly state: true },
  ): (() => number) & { readonly state: () => AleaState };
}
