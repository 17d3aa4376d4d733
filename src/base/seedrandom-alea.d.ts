// The published types cover the package's front door only; this is the one generator of it that we use.
declare module 'seedrandom/lib/alea.js' {
  /** Where a generator is in its sequence. */
  interface AleaState {
    readonly c: number;
    readonly s0: number;
    readonly s1: number;
    readonly s2: number;
  }
  /** Baagøe's Alea: uniform numbers in [0, 1) with 32 random bits, or with 53 from two of them. */
  interface Alea {
    (): number;
    double(): number;
  }
  /** @param seed of no account where a state is given. */
  export default function alea(seed: string, options: { readonly state: AleaState }): Alea;
}
