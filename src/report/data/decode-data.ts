// The data of a page, read back where it was written: the shape is that of `encodedData`.
import { idealContactEdges, type Spans } from '../../world/index.js';
import type { PageData } from './encode.js';

export function decodedData(text: string): PageData {
  return JSON.parse(text, (_, value: unknown) => {
    if (typeof value !== 'object' || value === null) return value;
    if ('endless' in value) return Number.POSITIVE_INFINITY;
    if ('columns' in value && Array.isArray(value.columns)) return Float64Array.from(value.columns);
    if ('columnSteps' in value && Array.isArray(value.columnSteps)) {
      return columnOf(value.columnSteps);
    }
    if ('contact' in value && 'openings' in value && isIdeal(value.contact)) {
      return { ...value, contact: idealContactEdges(value.openings as Spans) };
    }
    if ('entries' in value && Array.isArray(value.entries)) return new Map(value.entries);
    return value;
  }) as PageData;
}

/** The data as it was written, or as `packedData` packed it: that takes a moment. */
export function unpackData(text: string, then: (data: PageData) => void): void {
  const packed = packedIn(text);
  if (packed === null) then(decodedData(text));
  else unpackText(packed, (unpacked) => then(decodedData(unpacked)));
}

function packedIn(text: string): string | null {
  if (!text.startsWith('{"packed":')) return null;
  const data: unknown = JSON.parse(text);
  const isPacked = typeof data === 'object' && data !== null && 'packed' in data;
  return isPacked && typeof data.packed === 'string' ? data.packed : null;
}

/** The text of gzip in base 64. */
export function unpackText(base64: string, then: (text: string) => void): void {
  const bytes = Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));
  const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream('gzip'));
  void new Response(stream).text().then(then);
}

function isIdeal(contact: unknown): boolean {
  return typeof contact === 'object' && contact !== null && 'ideal' in contact;
}

function columnOf(steps: readonly number[]): Float64Array {
  let sum = 0;
  return Float64Array.from(steps, (step) => {
    if (!Number.isFinite(step)) return step;
    sum += step;
    return sum;
  });
}
