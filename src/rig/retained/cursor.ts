// Bytes read one after another, the least significant first.
import { textAt } from './elf.js';

export interface Cursor {
  at: number;
  /** A whole number of this many bytes. */
  whole(bytes: number): number;
  /** Numbers of seven bits a byte, as long as the eighth is set. */
  unsigned(): number;
  signed(): number;
  /** Up to a zero byte. */
  text(): string;
  take(bytes: number): Uint8Array;
}

/** @throws RangeError, by its methods, at the end of the bytes. */
export function openCursor(bytes: Uint8Array, from = 0): Cursor {
  const next = (): number => {
    const byte = bytes[cursor.at];
    if (byte === undefined) throw new RangeError('the bytes end in the middle of something');
    cursor.at += 1;
    return byte;
  };
  /** The number, and what one more bit of it would be worth. */
  const sevens = (): { value: number; worth: number; last: number } => {
    let value = 0;
    let worth = 1;
    for (;;) {
      const byte = next();
      value += (byte & 0x7f) * worth;
      worth *= 128;
      if (byte < 0x80) return { value, worth, last: byte };
    }
  };
  const cursor: Cursor = {
    at: from,
    whole(count) {
      let value = 0;
      let worth = 1;
      for (let index = 0; index < count; index += 1) {
        value += next() * worth;
        worth *= 256;
      }
      return value;
    },
    unsigned: () => sevens().value,
    signed() {
      const { value, worth, last } = sevens();
      return (last & 0x40) === 0 ? value : value - worth;
    },
    text() {
      const text = textAt(bytes, cursor.at);
      cursor.at = bytes.indexOf(0, cursor.at) + 1;
      if (cursor.at === 0) throw new RangeError('a text has an end');
      return text;
    },
    take(count) {
      const taken = bytes.subarray(cursor.at, cursor.at + count);
      if (taken.length < count) throw new RangeError('the bytes end in the middle of something');
      cursor.at += count;
      return taken;
    },
  };
  return cursor;
}
