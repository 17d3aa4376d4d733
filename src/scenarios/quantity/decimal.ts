// Decimal text times a whole factor, without floating point on the way: "1.1" × 1,000 is 1,100 exactly.

/**
 * @param digits unsigned decimal text: digits, perhaps a point and more digits.
 * @returns the product, or null when it is not whole; beyond 53 bits it is `Infinity`.
 */
export function timesWhole(digits: string, factor: number): number | null {
  const [whole = '', fraction = ''] = digits.split('.');
  const product = BigInt(`${whole}${fraction}` || '0') * BigInt(factor);
  const scale = 10n ** BigInt(fraction.length);
  if (product % scale !== 0n) return null;
  const value = Number(product / scale);
  return Number.isSafeInteger(value) ? value : Number.POSITIVE_INFINITY;
}
