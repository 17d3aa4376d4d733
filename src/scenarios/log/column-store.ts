// Columns of numbers that grow: a million rows are two typed arrays and not a million objects.

export interface GrowingColumn {
  push(value: number): void;
  replaceLast(value: number): void;
  /** Forgets all values. */
  clear(): void;
  readonly length: number;
  /** The values so far; a view, not a copy. */
  values(): Float64Array;
}

export function growingColumn(): GrowingColumn {
  let store = new Float64Array(1_024);
  let length = 0;
  return {
    push(value) {
      if (length === store.length) {
        const larger = new Float64Array(store.length * 2);
        larger.set(store);
        store = larger;
      }
      store[length] = value;
      length += 1;
    },
    replaceLast(value) {
      if (length > 0) store[length - 1] = value;
    },
    clear() {
      store = new Float64Array(16);
      length = 0;
    },
    get length() {
      return length;
    },
    values: () => store.subarray(0, length),
  };
}
