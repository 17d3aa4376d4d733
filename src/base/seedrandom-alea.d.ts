// The published types cover the package's front door only; this is the one generator of it that we use.
declare module 'seedrandom/lib/alea.js' {
  /** Baagøe's Alea: uniform numbers in [0, 1) with 32 random bits. */
  export default function alea(seed: string): () => number;
}
