// The package hides its own types behind its exports; this is the one function of it that we hold ours against.
declare module 'cephes' {
  interface Cephes {
    /** Inverse of the regularized incomplete beta integral: the quantile of the beta distribution at `y`. */
    incbi(a: number, b: number, y: number): number;
  }
  const cephes: Cephes;
  export default cephes;
}
