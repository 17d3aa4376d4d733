// The sections of a compiled program in the executable and linkable format, as little-endian machines of 64 and 32 bits have it.
import { utf8Text } from '../../base/index.js';

export interface Section {
  /** Where it lies in memory, as linked. */
  readonly address: number;
  readonly bytes: Uint8Array;
}

const magic = [0x7f, 0x45, 0x4c, 0x46];
const littleEndian = 1;
const noBits = 8;
const headBytes = 64;

/** Where the numbers of a file of one size lie. */
interface Layout {
  readonly wordBytes: 4 | 8;
  readonly tableAt: number;
  readonly entryBytesAt: number;
  readonly addressAt: number;
}

const layouts: Readonly<Record<number, Layout>> = {
  1: { wordBytes: 4, tableAt: 0x20, entryBytesAt: 0x2e, addressAt: 0x0c },
  2: { wordBytes: 8, tableAt: 0x28, entryBytesAt: 0x3a, addressAt: 0x10 },
};

/** By name; null for a file of another kind. @throws RangeError for one that is cut short. */
export function sectionsOf(program: Uint8Array): ReadonlyMap<string, Section> | null {
  if (program.length < headBytes || magic.some((byte, index) => program[index] !== byte))
    return null;
  const layout = layouts[program[4] ?? 0];
  if (layout === undefined || program[5] !== littleEndian) return null;
  const { wordBytes, entryBytesAt, addressAt } = layout;
  const view = new DataView(program.buffer, program.byteOffset, program.byteLength);
  const word = (at: number): number =>
    wordBytes === 4 ? view.getUint32(at, true) : Number(view.getBigUint64(at, true));
  const tableAt = word(layout.tableAt);
  const entryBytes = view.getUint16(entryBytesAt, true);
  const count = view.getUint16(entryBytesAt + 2, true);
  const heads = Array.from({ length: count }, (_, index) => {
    const at = tableAt + index * entryBytes;
    return {
      name: view.getUint32(at, true),
      type: view.getUint32(at + 4, true),
      address: word(at + addressAt),
      from: word(at + addressAt + wordBytes),
      length: word(at + addressAt + 2 * wordBytes),
    };
  });
  const names = heads[view.getUint16(entryBytesAt + 4, true)];
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
