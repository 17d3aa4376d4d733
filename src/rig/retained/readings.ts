// What retained variables hold, as plain data and in words.
import { plain, utf8Text } from '../../base/index.js';
import type { Member, Shape, Variable } from './variables.js';

/** What bytes mean: large whole numbers, pointers and what is not understood as text. */
export type Reading = number | string | boolean | null | readonly Reading[] | NamedReadings;

/** Of a struct's members. */
// oxlint-disable-next-line typescript/no-empty-object-type -- a record that holds itself can only be written so
export interface NamedReadings extends Readonly<Record<string, Reading>> {}

/** @returns null where the bytes do not reach so far. */
export function readingOf(bytes: Uint8Array, { at, shape }: Variable): Reading {
  return read(bytes.subarray(at, at + shape.bytes), shape);
}

function read(bytes: Uint8Array, shape: Shape): Reading {
  if (bytes.length < shape.bytes) return null;
  switch (shape.kind) {
    case 'whole':
      return wholeOf(bytes, shape.bytes * 8, shape.signed);
    case 'bool':
      return bytes.some((byte) => byte !== 0);
    case 'float':
      return floatOf(bytes);
    case 'character':
      return wholeOf(bytes, shape.bytes * 8, true);
    case 'enum': {
      const value = Number(bitsOf(bytes, 0, shape.bytes * 8));
      const signed = value >= 2 ** (shape.bytes * 8 - 1) ? value - 2 ** (shape.bytes * 8) : value;
      return shape.names.get(value) ?? shape.names.get(signed) ?? value;
    }
    case 'pointer':
      return pointerText(bitsOf(bytes, 0, shape.bytes * 8), shape.bytes);
    case 'holder':
      return `a ${shape.what}, which keeps what it holds in the heap`;
    case 'raw':
      return `0x${hexOf(bytes)}`;
    case 'array':
      return listOf(bytes, shape);
    case 'struct':
      return membersOf(bytes, shape.members);
  }
}

/** The rig's heap (assets/rig/heap.c), and where Linux has stacks. */
const places = {
  4: { heapFrom: 0x4000_0000n, heapTo: 0x6000_0000n, stackFrom: 0xff00_0000n },
  8: { heapFrom: 0x69_0000_0000n, heapTo: 0x6a_0000_0000n, stackFrom: 0x7ff0_0000_0000n },
} as const;

function pointerText(value: bigint, bytes: number): string | null {
  if (value === 0n) return null;
  const { heapFrom, heapTo, stackFrom } = places[bytes === 4 ? 4 : 8];
  if (value >= heapFrom && value < heapTo) return 'a pointer into the heap, gone in the next wake';
  return value >= stackFrom ? 'a pointer into the stack, gone in the next wake' : 'a pointer';
}

function listOf(
  bytes: Uint8Array,
  { count, of }: Extract<Shape, { readonly kind: 'array' }>,
): Reading {
  const text = of.kind === 'character' ? textOf(bytes) : null;
  if (text !== null) return text;
  return Array.from({ length: count }, (_, index) =>
    read(bytes.subarray(index * of.bytes, (index + 1) * of.bytes), of),
  );
}

/** Up to the first zero; null: these characters are used as numbers. */
function textOf(bytes: Uint8Array): string | null {
  const end = bytes.indexOf(0);
  const text = utf8Text(end < 0 ? bytes : bytes.subarray(0, end));
  return /[\p{Cc}\uFFFD]/u.test(text.replaceAll(/[\t\n\r]/gu, '')) ? null : text;
}

function membersOf(bytes: Uint8Array, members: readonly Member[]): Reading {
  const read1 = ({ at, shape, bits }: Member): Reading => {
    if (bits === null) return read(bytes.subarray(at, at + shape.bytes), shape);
    const value = bitsOf(bytes.subarray(at), bits.from, bits.count);
    if (shape.kind === 'bool') return value !== 0n;
    const signed = shape.kind === 'whole' && shape.signed;
    if (shape.kind === 'enum') return shape.names.get(Number(value)) ?? Number(value);
    return plainNumber(signed ? BigInt.asIntN(bits.count, value) : value);
  };
  const [only] = members;
  // Wrappers of a library (an array class, an atomic number) are what they wrap.
  if (only !== undefined && members.length === 1 && only.name.startsWith('_')) return read1(only);
  return Object.fromEntries(
    members.flatMap((member): [string, Reading][] => {
      const reading = read1(member);
      // What has no name of its own (a base class, an unnamed union) is spread out.
      if (member.name === '' && isNamed(reading)) return Object.entries(reading);
      return [[member.name === '' ? `at ${String(member.at)}` : member.name, reading]];
    }),
  );
}

function isNamed(reading: Reading): reading is NamedReadings {
  return typeof reading === 'object' && reading !== null && !Array.isArray(reading);
}

function wholeOf(bytes: Uint8Array, count: number, signed: boolean): Reading {
  const value = bitsOf(bytes, 0, count);
  return plainNumber(signed ? BigInt.asIntN(count, value) : value);
}

/** From the least significant bit of the first byte on. */
function bitsOf(bytes: Uint8Array, from: number, count: number): bigint {
  const needed = Math.ceil((from + count) / 8);
  const value = bytes
    .subarray(0, needed)
    .reduceRight((sum, byte) => (sum << 8n) | BigInt(byte), 0n);
  return BigInt.asUintN(count, value >> BigInt(from));
}

function plainNumber(value: bigint): Reading {
  const number = Number(value);
  return Number.isSafeInteger(number) ? number : String(value);
}

function floatOf(bytes: Uint8Array): Reading {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const value =
    bytes.length === 4
      ? Number(view.getFloat32(0, true).toPrecision(7))
      : bytes.length === 8
        ? view.getFloat64(0, true)
        : Number.NaN;
  return Number.isFinite(value) ? value : `0x${hexOf(bytes)}`;
}

export function hexOf(bytes: Uint8Array): string {
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('');
}

/** A reading by its parts: each member of a struct by a name of its own, such as `kept.recent`. */
export function partsOf(name: string, reading: Reading): readonly (readonly [string, Reading])[] {
  if (!isNamed(reading)) return [[name, reading]];
  return Object.entries(reading).flatMap(([member, inner]) => partsOf(`${name}.${member}`, inner));
}

/** More of a list than this is no help. */
const mostItems = 16;

/** `{ state: ALERTED, recent: [1, 1, 0 × 6] }` */
export function readingText(reading: Reading): string {
  if (reading === null) return 'null';
  if (Array.isArray(reading)) return `[${runsOf(reading).join(', ')}]`;
  if (typeof reading === 'object') {
    const members = Object.entries(reading).map(
      ([name, value]) => `${plain(name)}: ${readingText(value)}`,
    );
    return members.length === 0 ? '{}' : `{ ${members.join(', ')} }`;
  }
  return typeof reading === 'string' ? plain(reading) : String(reading);
}

function runsOf(list: readonly Reading[]): readonly string[] {
  const runs: { text: string; count: number }[] = [];
  for (const item of list) {
    const text = readingText(item);
    const last = runs.at(-1);
    if (last?.text === text) last.count += 1;
    else runs.push({ text, count: 1 });
  }
  const shown = runs
    .slice(0, mostItems)
    .map(({ text, count }) => (count === 1 ? text : `${text} × ${String(count)}`));
  return runs.length > mostItems ? [...shown, '…'] : shown;
}
