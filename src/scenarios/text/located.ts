// Turns YAML nodes into plain values, each with the offsets at which it stood.
import { isAlias, isMap, isScalar, isSeq, type Node, type Pair, type YAMLMap } from 'yaml';
import { joinedEntry } from './indentation.js';
import type { Problem } from './problem.js';

/** A plain value, and where its text begins and ends. */
export interface Located {
  readonly value: unknown;
  readonly start: number;
  readonly end: number;
  readonly keyStart: number | null;
  readonly keyEnd: number | null;
  readonly children: ReadonlyMap<string | number, Located> | null;
}

type Report = (offset: number, problem: Problem) => void;
type Key = Pick<Located, 'keyStart' | 'keyEnd'>;

const noKey: Key = { keyStart: null, keyEnd: null };

/** The value of a node and of all below it. What is refused is reported and reads as null. */
export function locate(node: unknown, text: string, report: Report, key: Key = noKey): Located {
  const [start, end] = rangeOf(node);
  const leaf = (value: unknown): Located => ({ value, start, end, ...key, children: null });
  if (isAlias(node)) {
    const found = text.slice(start, end);
    report(start, {
      code: 'yaml-alias',
      says: 'uses aliases (*), which dozewatch does not read',
      found,
      hint: 'write the value out wherever it is used',
    });
    return leaf(null);
  }
  if (hasTag(node)) {
    const tagStart = tagBefore(text, start);
    report(tagStart, {
      code: 'yaml-tag',
      says: 'uses a tag (!), which dozewatch does not read',
      found: text.slice(tagStart, end),
      hint: 'delete the tag',
    });
    return leaf(null);
  }
  if (isMap(node)) return { ...locateMap(node, text, report), start, end, ...key };
  if (isSeq(node)) {
    const children = new Map<string | number, Located>();
    node.items.forEach((item, index) => {
      children.set(index, locate(item, text, report));
    });
    const value = [...children.values()].map((child) => child.value);
    return { value, start, end, ...key, children };
  }
  if (!isScalar(node)) return leaf(null);
  const slip = node.type === 'PLAIN' ? joinedEntry(text, [start, end]) : null;
  if (slip !== null) {
    const { offset, message, hint } = slip;
    report(offset, { code: 'yaml-indentation', says: `cannot be read: ${message}`, hint });
    return leaf(null);
  }
  return leaf(node.value);
}

/** Where the tag before a value begins. */
function tagBefore(text: string, valueStart: number): number {
  let start = text.lastIndexOf('!', valueStart);
  // None of a list's marks is part of a tag: the search ends at the last one.
  while (start > 0 && !/[\s,[\]{}]/.test(text[start - 1] ?? ' ')) start -= 1;
  return Math.max(0, start);
}

function locateMap(
  map: YAMLMap,
  text: string,
  report: Report,
): Pick<Located, 'value' | 'children'> {
  const children = new Map<string | number, Located>();
  for (const pair of map.items) {
    const [keyStart, keyEnd] = rangeOf(pair.key);
    const name = keyOf(pair);
    const refused = name === null ? notAKey : refusedKey(name, children);
    if (name === null || refused !== null) {
      report(keyStart, { ...(refused ?? notAKey), found: text.slice(keyStart, keyEnd) });
      continue;
    }
    const child = locate(pair.value, text, report, { keyStart, keyEnd });
    // An empty value has no place of its own: its key stands for it.
    const [start, end] = child.start === child.end ? [keyStart, keyEnd] : [child.start, child.end];
    children.set(name, { ...child, start, end });
  }
  const entries = Array.from(children, ([name, child]) => [String(name), child.value] as const);
  return { value: Object.fromEntries(entries), children };
}

const notAKey: Problem = {
  code: 'yaml-key',
  says: 'has a key that is not plain text',
  hint: 'write each key as a word with a colon after it',
};

function refusedKey(name: string, known: ReadonlyMap<string | number, unknown>): Problem | null {
  if (known.has(name)) {
    const hint = 'delete one of them';
    return { code: 'duplicate-key', says: `has the key ${name} twice in the same place`, hint };
  }
  // The one key that would reach beyond its own object.
  if (name === '__proto__') {
    return { code: 'unknown-key', says: 'has the key __proto__, which is not a known key' };
  }
  return null;
}

/** Keys are text as it is written: 07 is "07". */
function keyOf({ key }: Pair): string | null {
  if (!isScalar(key) || hasTag(key)) return null;
  if (typeof key.value === 'string') return key.value;
  return key.source ?? null;
}

function rangeOf(node: unknown): readonly [start: number, end: number] {
  const range = isNode(node) ? node.range : undefined;
  return range === undefined || range === null ? [-1, -1] : [range[0], range[1]];
}

function isNode(node: unknown): node is Node {
  return isScalar(node) || isMap(node) || isSeq(node) || isAlias(node);
}

function hasTag(node: unknown): node is Node & { readonly tag: string } {
  return isNode(node) && 'tag' in node && typeof node.tag === 'string';
}
