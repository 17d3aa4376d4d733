// The package has no types of its own; these are the two quantiles of it that we use.
declare module 'jstat' {
  interface Quantiles {
    /** Quantile of the beta distribution with these shapes. */
    ibetainv(probability: number, alpha: number, beta: number): number;
    /** Quantile of the gamma distribution with this shape and scale 1. */
    gammapinv(probability: number, shape: number): number;
  }
  const jStat: Quantiles;
  export default jStat;
}
