// The sections of a compiled program in the executable and linkable format, as 64-bit little-endian machines have it.
import { utf8Text } from '../../base/index.js';

export interface Section {
  /** Where it lies in memory, as linked. */
  readonly address: number;
  readonly bytes: Uint8Array;
}

const magic = [0x7f, 0x45, 0x4c, 0x46, 2, 1];
const noBits = 8;
const headBytes = 64;

/** By name; null for a file of another kind. @throws RangeError for one that is cut short. */
export function sectionsOf(program: Uint8Array): ReadonlyMap<string, Section> | null {
  if (program.length < headBytes || magic.some((byte, index) => program[index] !== byte))
    return null;
  const view = new DataView(program.buffer, program.byteOffset, program.byteLength);
  const tableAt = Number(view.getBigUint64(0x28, true));
  const entryBytes = view.getUint16(0x3a, true);
  const count = view.getUint16(0x3c, true);
  const heads = Array.from({ length: count }, (_, index) => {
    const at = tableAt + index * entryBytes;
    return {
      name: view.getUint32(at, true),
      type: view.getUint32(at + 4, true),
      address: Number(view.getBigUint64(at + 0x10, true)),
      from: Number(view.getBigUint64(at + 0x18, true)),
      length: Number(view.getBigUint64(at + 0x20, true)),
    };
  });
  const names = heads[view.getUint16(0x3e, true)];
  if (names === undefined) return null;
  return new Map(
    heads.map(({ name, type, address, from, length }) => [
      textAt(program, names.from + name),
      { address, bytes: program.subarray(from, type === noBits ? from : from + length) },
    ]),
  );
}

/** Text up to the next zero byte. */
export function textAt(bytes: Uint8Array, at: number): string {
  const end = bytes.indexOf(0, at);
  return utf8Text(bytes.subarray(at, end < 0 ? bytes.length : end));
}
