// The package hides its own types behind its exports; these are the functions of it that tests compare with.
declare module 'cephes' {
  interface Cephes {
    /** Its functions can be called once this is done. */
    readonly compiled: Promise<void>;
    /** Inverse of the regularized incomplete beta integral: the quantile of the beta distribution at `y`. */
    incbi(a: number, b: number, y: number): number;
    /** The chance of a chi-square of at least `x`. */
    chdtrc(degreesOfFreedom: number, x: number): number;
    /** The chance of a Kolmogorov statistic of at least `y`, for a large sample. */
    kolmogorov(y: number): number;
    /** The normal distribution. */
    ndtr(x: number): number;
    erfc(x: number): number;
    /** Logarithm of the gamma function. */
    lgam(x: number): number;
  }
  const cephes: Cephes;
  export default cephes;
}
