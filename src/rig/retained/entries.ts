// Debugging information (DWARF 2 to 4, in its 32-bit form) as a tree of entries. Only what tells names, places and types
// of variables is kept.

import { type Cursor, openCursor } from './cursor.js';
import type { Section } from './elf.js';
import { textAt } from './elf.js';

/** The tags that matter here, by their numbers. */
export const tag = {
  array: 0x01,
  class: 0x02,
  enumeration: 0x04,
  member: 0x0d,
  unit: 0x11,
  pointer: 0x0f,
  struct: 0x13,
  typedef: 0x16,
  union: 0x17,
  inheritance: 0x1c,
  subrange: 0x21,
  base: 0x24,
  const: 0x26,
  enumerator: 0x28,
  variable: 0x34,
  volatile: 0x35,
  parameter: 0x05,
  reference: 0x10,
} as const;

/** The attributes that matter here. */
export const attribute = {
  location: 0x02,
  name: 0x03,
  byteSize: 0x0b,
  bitOffset: 0x0c,
  bitSize: 0x0d,
  constValue: 0x1c,
  upperBound: 0x2f,
  abstractOrigin: 0x31,
  count: 0x37,
  declaredInFile: 0x3a,
  memberLocation: 0x38,
  declaration: 0x3c,
  encoding: 0x3e,
  specification: 0x47,
  type: 0x49,
  dataBitOffset: 0x6b,
} as const;

/** A number, a text, or the bytes of an expression. References are offsets of entries. */
export type Value = number | string | Uint8Array;

export interface Entry {
  readonly tag: number;
  readonly values: ReadonlyMap<number, Value>;
  readonly children: Entry[];
}

interface Abbreviation {
  readonly tag: number;
  readonly hasChildren: boolean;
  readonly forms: readonly (readonly [attribute: number, form: number])[];
}

interface Unit {
  readonly from: number;
  readonly version: number;
  readonly addressBytes: number;
  readonly texts: Uint8Array;
}

/** All entries by their offsets; null for a form that is not known here. @throws RangeError for what is cut short. */
export function entriesOf(
  sections: ReadonlyMap<string, Section>,
): ReadonlyMap<number, Entry> | null {
  const info = sections.get('.debug_info')?.bytes;
  const shapes = sections.get('.debug_abbrev')?.bytes;
  if (info === undefined || shapes === undefined) return null;
  const texts = sections.get('.debug_str')?.bytes ?? new Uint8Array(0);
  const entries = new Map<number, Entry>();
  const cursor = openCursor(info);
  while (cursor.at < info.length) {
    const from = cursor.at;
    const length = cursor.whole(4);
    if (length >= 0xfffffff0) return null;
    const end = cursor.at + length;
    const version = cursor.whole(2);
    if (version < 2 || version > 4) return null;
    const abbreviations = abbreviationsAt(shapes, cursor.whole(4));
    const unit = { from, version, addressBytes: cursor.whole(1), texts };
    if (!readUnit(cursor, end, { unit, abbreviations, entries })) return null;
    cursor.at = end;
  }
  return entries;
}

function abbreviationsAt(bytes: Uint8Array, at: number): ReadonlyMap<number, Abbreviation> {
  const cursor = openCursor(bytes, at);
  const found = new Map<number, Abbreviation>();
  for (let code = cursor.unsigned(); code !== 0; code = cursor.unsigned()) {
    const tagNumber = cursor.unsigned();
    const hasChildren = cursor.whole(1) === 1;
    const forms: [number, number][] = [];
    for (;;) {
      const pair: [number, number] = [cursor.unsigned(), cursor.unsigned()];
      if (pair[0] === 0 && pair[1] === 0) break;
      forms.push(pair);
    }
    found.set(code, { tag: tagNumber, hasChildren, forms });
  }
  return found;
}

/** False: some form is not known here. */
function readUnit(
  cursor: Cursor,
  end: number,
  on: {
    readonly unit: Unit;
    readonly abbreviations: ReadonlyMap<number, Abbreviation>;
    readonly entries: Map<number, Entry>;
  },
): boolean {
  const open: Entry[] = [];
  while (cursor.at < end) {
    const offset = cursor.at;
    const code = cursor.unsigned();
    if (code === 0) {
      open.pop();
      continue;
    }
    const shape = on.abbreviations.get(code);
    if (shape === undefined) return false;
    const values = new Map<number, Value>();
    for (const [name, form] of shape.forms) {
      const value = valueOf(cursor, form, on.unit);
      if (value === undefined) return false;
      values.set(name, value);
    }
    const entry: Entry = { tag: shape.tag, values, children: [] };
    on.entries.set(offset, entry);
    open.at(-1)?.children.push(entry);
    if (shape.hasChildren) open.push(entry);
  }
  return true;
}

/** Undefined: a form that is not known here. */
function valueOf(cursor: Cursor, form: number, unit: Unit): Value | undefined {
  switch (form) {
    case 0x01:
      return cursor.whole(unit.addressBytes);
    case 0x0b:
    case 0x0c:
      return cursor.whole(1);
    case 0x05:
      return cursor.whole(2);
    case 0x06:
    case 0x17:
      return cursor.whole(4);
    case 0x07:
    case 0x20:
      return cursor.whole(8);
    case 0x0d:
      return cursor.signed();
    case 0x0f:
      return cursor.unsigned();
    case 0x19:
      return 1;
    case 0x08:
      return cursor.text();
    case 0x0e:
      return textAt(unit.texts, cursor.whole(4));
    default:
      return referenceOf(cursor, form, unit) ?? blockOf(cursor, form);
  }
}

function referenceOf(cursor: Cursor, form: number, unit: Unit): number | undefined {
  switch (form) {
    case 0x10:
      return cursor.whole(unit.version === 2 ? unit.addressBytes : 4);
    case 0x11:
      return unit.from + cursor.whole(1);
    case 0x12:
      return unit.from + cursor.whole(2);
    case 0x13:
      return unit.from + cursor.whole(4);
    case 0x14:
      return unit.from + cursor.whole(8);
    case 0x15:
      return unit.from + cursor.unsigned();
    default:
      return undefined;
  }
}

function blockOf(cursor: Cursor, form: number): Uint8Array | undefined {
  switch (form) {
    case 0x03:
      return cursor.take(cursor.whole(2));
    case 0x04:
      return cursor.take(cursor.whole(4));
    case 0x0a:
      return cursor.take(cursor.whole(1));
    case 0x09:
    case 0x18:
      return cursor.take(cursor.unsigned());
    default:
      return undefined;
  }
}
