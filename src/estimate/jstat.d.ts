// The package has no types of its own; this is what we use of it.
declare module 'jstat' {
  interface Statistics {
    /** Quantile of the beta distribution with these shapes. */
    ibetainv(probability: number, alpha: number, beta: number): number;
    /** Quantile of the gamma distribution with this shape and scale 1. */
    gammapinv(probability: number, shape: number): number;
    /** Student's distribution. */
    readonly studentt: { inv(probability: number, freedom: number): number };
    /** The normal distribution. */
    readonly normal: { cdf(x: number, mean: number, standardDeviation: number): number };
  }
  const jStat: Statistics;
  export default jStat;
}
