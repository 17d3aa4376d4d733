// A strip with as few elements as show the same: all marks of one kind in a lane become one path, without titles, since a
// live timeline tells in words what is under the pointer. A browser draws forty paths in a fraction of the time that it
// takes for four thousand.
import { Fragment, isValidElement, type VNode } from 'preact';
import { Bar, Shape } from '../drawing.js';
import { px } from '../numbers.js';

interface Fused {
  /** The path of each kind, in the order in which kinds appear. */
  readonly paths: Map<string, string[]>;
  /** What cannot be one path with others: words, and groups with a place or a look of their own. */
  readonly others: VNode[];
}

/** @param strip components that are plain functions of their properties */
export function withFewShapes(strip: VNode): VNode {
  const group = drawn(strip);
  const lanes = childrenOf(group).map((child) => {
    const lane = isMark(child) ? child : drawn(child);
    return isMark(lane) || isPlain(lane) ? fused(lane) : withFewShapes(lane);
  });
  return <g {...group.props}>{lanes}</g>;
}

/** What a component draws. */
function drawn(node: VNode): VNode {
  const [only, second] = isComponent(node.type) ? partsOf(node.type(node.props)) : [node];
  if (only === undefined || second !== undefined) return <g />;
  return isComponent(only.type) && !isMark(only) ? drawn(only) : only;
}

function fused(lane: VNode): VNode {
  const into: Fused = { paths: new Map(), others: [] };
  add(lane, into);
  return (
    <g>
      {[...into.paths].map(([kind, parts]) => (
        <path key={kind} class={kind} d={parts.join('')} />
      ))}
      {into.others}
    </g>
  );
}

function add(node: VNode, into: Fused): void {
  const { type, props } = node;
  if (isMark(node)) addPath(node, into);
  else if (isComponent(type)) for (const part of partsOf(type(props))) add(part, into);
  else if (type === 'g' && isPlain(node)) for (const part of childrenOf(node)) add(part, into);
  else if (type !== 'title') into.others.push(node);
}

function addPath({ type, props }: VNode, { paths }: Fused): void {
  const { class: kind, d, x, y, width, height }: Readonly<Record<string, unknown>> = { ...props };
  const path = type === Bar ? barPath(Number(x), Number(y), [width, height]) : String(d);
  const known = paths.get(String(kind));
  if (known === undefined) paths.set(String(kind), [path]);
  else known.push(path);
}

function barPath(x: number, y: number, size: readonly unknown[]): string {
  const [width = 0, height = 0] = size.map((length) => px(Number(length)));
  return `M${px(x)} ${px(y)}h${width}v${height}h${-width}Z`;
}

function isMark({ type }: VNode): boolean {
  return type === Shape || type === Bar || type === 'path';
}

function isComponent(type: unknown): type is (props: object) => unknown {
  return typeof type === 'function' && type !== Fragment;
}

/** A group that neither moves nor colours what is in it. */
function isPlain({ type, props }: VNode): boolean {
  return type === 'g' && Object.keys(props).every((key) => key === 'children');
}

function childrenOf({ props }: VNode): readonly VNode[] {
  return partsOf('children' in props ? props.children : null);
}

/** The elements in what a component gives or a group holds; fragments are opened. */
function partsOf(given: unknown): readonly VNode[] {
  if (Array.isArray(given)) return given.flatMap(partsOf);
  if (!isValidElement(given)) return [];
  return given.type === Fragment ? childrenOf(given) : [given];
}
