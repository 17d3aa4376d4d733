// The retained variables of a compiled firmware: their names, where each lies, and what its bytes mean. From the debugging
// information of the program; what that does not tell is left out.
import { type Section, sectionsOf } from './elf.js';
import { attribute, type Entry, entriesOf, tag, type Value } from './entries.js';

/** What bytes stand for. */
export type Shape =
  | {
      readonly kind: 'whole';
      readonly bytes: number;
      readonly signed: boolean;
      /** A `long` by its own name: of another size on other machines. */
      readonly isLong: boolean;
    }
  | { readonly kind: 'bool' | 'float' | 'character' | 'pointer' | 'raw'; readonly bytes: number }
  | {
      readonly kind: 'enum';
      readonly bytes: number;
      readonly names: ReadonlyMap<number, string>;
    }
  /** An object of the C++ library that keeps what it holds in the heap. */
  | { readonly kind: 'holder'; readonly bytes: number; readonly what: string }
  | { readonly kind: 'array'; readonly bytes: number; readonly count: number; readonly of: Shape }
  | { readonly kind: 'struct'; readonly bytes: number; readonly members: readonly Member[] };

export interface Member {
  readonly name: string;
  readonly at: number;
  readonly shape: Shape;
  /** Of a bit field: from the least significant bit of the byte at `at` on. */
  readonly bits: { readonly from: number; readonly count: number } | null;
}

export interface Variable {
  readonly name: string;
  /** From the start of what is retained. */
  readonly at: number;
  readonly shape: Shape;
  /** Nothing sets it at power-on. */
  readonly isNoinit: boolean;
}

/** What the header puts DW_RETAINED variables into, and those that nothing sets at power-on. */
const retainedSection = 'dw_retained';
const noinitSection = 'dw_noinit';
/** The rig's own, which lie behind the firmware's. */
const guards: readonly string[] = ['retained_guard', 'noinit_guard'];
const guardBytes = 64;
const mostDepth = 30;

/** In the order of their places; null where the program does not tell: another format, or no debugging information. */
export function retainedVariables(program: Uint8Array): readonly Variable[] | null {
  try {
    const sections = sectionsOf(program);
    const retained = sections?.get(retainedSection);
    const entries = sections === null ? null : entriesOf(sections);
    if (retained === undefined || entries === null) return null;
    const set = variablesIn(entries, retained, false);
    const noinit = sections?.get(noinitSection);
    const behind = noinit === undefined ? [] : variablesIn(entries, noinit, true);
    const setBytes = ownBytes(set, retained);
    return [
      ...set,
      ...behind.map((variable) => ({ ...variable, at: variable.at + setBytes })),
    ].filter(({ name }) => !guards.includes(name));
  } catch (error) {
    // Cut short, or not what it seems: bytes can be shown without it.
    if (error instanceof RangeError) return null;
    throw error;
  }
}

/** Of `long` and pointers in a compiled program, in bits; null for another format. */
export function wordBitsOf(program: Uint8Array): 32 | 64 | null {
  const isElf = program[0] === 0x7f && program[1] === 0x45;
  if (!isElf) return null;
  return program[4] === 1 ? 32 : 64;
}

type Entries = ReadonlyMap<number, Entry>;

/** Of the firmware's own variables in a section, as the host counts them (assets/rig/memory.c). */
function ownBytes(variables: readonly Variable[], { bytes }: Section): number {
  const guard = variables.find(({ name }) => guards.includes(name));
  return guard?.at === bytes.length - guardBytes ? guard.at : bytes.length;
}

function variablesIn(
  entries: Entries,
  { address, bytes }: Section,
  isNoinit: boolean,
): readonly Variable[] {
  const found = new Map<number, Variable>();
  for (const entry of entries.values()) {
    if (entry.tag !== tag.variable) continue;
    const at = addressOf(entry.values.get(attribute.location)) - address;
    if (!(at >= 0 && at < bytes.length)) continue;
    const declared = declaredBy(entries, entry);
    const name = declared.get(attribute.name);
    if (typeof name !== 'string') continue;
    found.set(at, { name, at, shape: shapeOf(entries, declared.get(attribute.type), 0), isNoinit });
  }
  return [...found.values()].sort((a, b) => a.at - b.at);
}

/** An expression that is nothing but an address; NaN for another. */
function addressOf(location: Value | undefined): number {
  if (!(location instanceof Uint8Array) || location[0] !== 0x03) return NaN;
  const view = new DataView(location.buffer, location.byteOffset, location.byteLength);
  if (location.length === 5) return view.getUint32(1, true);
  return location.length === 9 ? Number(view.getBigUint64(1, true)) : NaN;
}

/** What an entry says, and what it stands for: a member of a class, or a variable of an inlined function. */
function declaredBy(entries: Entries, entry: Entry): ReadonlyMap<number, Value> {
  const other =
    entry.values.get(attribute.specification) ?? entry.values.get(attribute.abstractOrigin);
  const origin = typeof other === 'number' ? entries.get(other) : undefined;
  return origin === undefined ? entry.values : new Map([...origin.values, ...entry.values]);
}

function numberIn(values: ReadonlyMap<number, Value>, name: number): number {
  const value = values.get(name);
  return typeof value === 'number' ? value : 0;
}

function shapeOf(entries: Entries, type: Value | undefined, depth: number): Shape {
  const entry = typeof type === 'number' ? entries.get(type) : undefined;
  if (entry === undefined || depth > mostDepth) return { kind: 'raw', bytes: 0 };
  const { values } = entry;
  const bytes = numberIn(values, attribute.byteSize);
  const inner = (): Shape => shapeOf(entries, values.get(attribute.type), depth + 1);
  switch (entry.tag) {
    case tag.typedef: {
      const shape = inner();
      // int64_t and its like have a size of their own, whatever they are made of here.
      const fixed = shape.kind === 'whole' && /64|size|ptr/iu.test(nameOf(values));
      return fixed ? { ...shape, isLong: false } : shape;
    }
    case tag.const:
    case tag.volatile:
      return inner();
    case tag.base:
      return baseShape(values, bytes);
    case tag.enumeration:
      return { kind: 'enum', bytes, names: enumerators(entry) };
    case tag.pointer:
    case tag.reference:
      return { kind: 'pointer', bytes: bytes === 0 ? 8 : bytes };
    case tag.array:
      return arrayShape(entry, inner());
    case tag.struct:
    case tag.class:
    case tag.union: {
      const holder = holderText(nameOf(values));
      if (holder !== null) return { kind: 'holder', bytes, what: holder };
      return { kind: 'struct', bytes, members: membersOf(entries, entry, depth) };
    }
    default:
      return { kind: 'raw', bytes };
  }
}

function baseShape(values: Entry['values'], bytes: number): Shape {
  // int8_t is a signed char, and uint8_t an unsigned one: numbers to those who count with them.
  if (values.get(attribute.name) === 'char') return { kind: 'character', bytes };
  switch (numberIn(values, attribute.encoding)) {
    case 0x02:
      return { kind: 'bool', bytes };
    case 0x04:
      return { kind: 'float', bytes };
    case 0x05:
    case 0x06:
      return { kind: 'whole', bytes, signed: true, isLong: isLong(values) };
    case 0x07:
    case 0x08:
      return { kind: 'whole', bytes, signed: false, isLong: isLong(values) };
    default:
      return { kind: 'raw', bytes };
  }
}

function nameOf(values: Entry['values']): string {
  const name = values.get(attribute.name);
  return typeof name === 'string' ? name : '';
}

function isLong(values: Entry['values']): boolean {
  return /^long (?:unsigned )?int$/u.test(nameOf(values));
}

/** What a class of the C++ library is called that keeps what it holds in the heap; null: another class. */
function holderText(name: string): string | null {
  const [, bare = ''] = /^([a-z_]+)(?:<|$)/u.exec(name) ?? [];
  if (bare === 'basic_string') return 'std::string';
  const isHolder =
    /^(?:unique_ptr|shared_ptr|weak_ptr|function|any)$/u.test(bare) || /\ballocator</u.test(name);
  return isHolder && !/^(?:_|allocator|tuple|pair)/u.test(bare) ? `std::${bare}` : null;
}

/** Variables that keep what they hold in the heap, which is gone with each sleep, and what each of them is. */
export function heapHolders(
  variables: readonly Variable[],
): readonly { readonly name: string; readonly what: string }[] {
  return variables.flatMap(({ name, shape }) => {
    const what = holderIn(shape);
    return what === null ? [] : [{ name, what }];
  });
}

function holderIn(shape: Shape): string | null {
  if (shape.kind === 'holder') return shape.what;
  if (shape.kind === 'array') return holderIn(shape.of);
  if (shape.kind !== 'struct') return null;
  for (const member of shape.members) {
    const what = holderIn(member.shape);
    if (what !== null) return what;
  }
  return null;
}

/** Names of all variables of a firmware that hold a `long`: retained ones first, then those of its source files and functions. */
export function longOnes(program: Uint8Array): readonly string[] {
  const kept = (retainedVariables(program) ?? []).filter(({ shape }) => holdsLong(shape));
  const names = new Set(kept.map(({ name }) => name));
  for (const name of ownLongs(program)) names.add(name);
  return [...names];
}

/** The rig's host, which is compiled along. */
const hostFile = /(?:^|\/)host\.c$/u;

function* ownLongs(program: Uint8Array): Generator<string> {
  const sections = sectionsOf(program);
  const entries = sections === null ? null : entriesOf(sections);
  let isOwn = false;
  for (const entry of entries?.values() ?? []) {
    if (entry.tag === tag.unit) isOwn = !hostFile.test(nameOf(entry.values));
    if (!isOwn || (entry.tag !== tag.variable && entry.tag !== tag.parameter)) continue;
    // What headers declare is numbered from 2 on.
    if (entries === null || numberIn(entry.values, attribute.declaredInFile) !== 1) continue;
    const name = nameOf(entry.values);
    const shape = shapeOf(entries, entry.values.get(attribute.type), 0);
    if (name !== '' && holdsLong(shape)) yield name;
  }
}

function holdsLong(shape: Shape): boolean {
  if (shape.kind === 'array') return holdsLong(shape.of);
  if (shape.kind === 'struct') return shape.members.some((member) => holdsLong(member.shape));
  return shape.kind === 'whole' && shape.isLong;
}

function enumerators({ children }: Entry): ReadonlyMap<number, string> {
  return new Map(
    children.flatMap(({ values }): [number, string][] => {
      const name = values.get(attribute.name);
      return typeof name === 'string' ? [[numberIn(values, attribute.constValue), name]] : [];
    }),
  );
}

/** The last dimension is the innermost. */
function arrayShape({ children }: Entry, of: Shape): Shape {
  const counts = children
    .filter((child) => child.tag === tag.subrange)
    .map(({ values }) =>
      values.has(attribute.count)
        ? numberIn(values, attribute.count)
        : numberIn(values, attribute.upperBound) + (values.has(attribute.upperBound) ? 1 : 0),
    );
  return counts.reduceRight<Shape>(
    (shape, count) => ({ kind: 'array', bytes: shape.bytes * count, count, of: shape }),
    of,
  );
}

function membersOf(entries: Entries, { children }: Entry, depth: number): readonly Member[] {
  return children.flatMap((child): readonly Member[] => {
    const { values } = child;
    const isBase = child.tag === tag.inheritance;
    // A static member lies elsewhere.
    if (values.has(attribute.declaration) || (!isBase && child.tag !== tag.member)) return [];
    const shape = shapeOf(entries, values.get(attribute.type), depth + 1);
    const named = values.get(attribute.name);
    const member = placed(values, shape);
    if (member === null) return [];
    return [{ ...member, name: typeof named === 'string' ? named : '', shape }];
  });
}

function placed(
  values: ReadonlyMap<number, Value>,
  shape: Shape,
): Pick<Member, 'at' | 'bits'> | null {
  const at = numberIn(values, attribute.memberLocation);
  const count = values.get(attribute.bitSize);
  if (typeof count !== 'number') return { at, bits: null };
  if (values.has(attribute.dataBitOffset)) {
    const from = numberIn(values, attribute.dataBitOffset);
    return { at: Math.floor(from / 8), bits: { from: from % 8, count } };
  }
  // The older way counts from the most significant bit of the storage.
  const storage = values.has(attribute.byteSize)
    ? numberIn(values, attribute.byteSize)
    : shape.bytes;
  const from = storage * 8 - numberIn(values, attribute.bitOffset) - count;
  return from < 0 ? null : { at: at + Math.floor(from / 8), bits: { from: from % 8, count } };
}
