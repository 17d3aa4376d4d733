// JSON as commands print it: digits that every engine agrees on, since roots and logarithms differ in the last ones.

const sureDigits = 9;

/** Fractions are rounded, and numbers without end are null. */
export function jsonText(value: object): string {
  return `${JSON.stringify(value, rounded, 2)}\n`;
}

function rounded(_: string, value: unknown): unknown {
  if (typeof value !== 'number' || Number.isInteger(value)) return value;
  return Number.isFinite(value) ? Number(value.toPrecision(sureDigits)) : null;
}
