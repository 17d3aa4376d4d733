// The few primitives that all of a picture is drawn with.
import type { ComponentChildren, VNode } from 'preact';
import { px } from './numbers.js';

/** Something of a known height, drawn from y = 0 down. */
export interface Block {
  readonly height: number;
  readonly node: VNode;
}

/** From true time to pixels. */
export type TimeScale = (atMs: number) => number;

/** A stretch of a scale in pixels, at least `least` wide. */
export function stretchPx(
  x: TimeScale,
  { fromMs, toMs }: { readonly fromMs: number; readonly toMs: number },
  least = 0,
): { readonly x: number; readonly width: number } {
  const left = x(fromMs);
  return { x: px(left), width: px(Math.max(least, x(toMs) - left)) };
}

export function At({
  x = 0,
  y,
  children,
}: {
  readonly x?: number;
  readonly y: number;
  readonly children?: ComponentChildren;
}): VNode {
  return <g transform={`translate(${px(x)} ${px(y)})`}>{children}</g>;
}

/** Made only where it is written down: a live timeline shows none. */
export type Title = string | (() => string);

/** A mark with its title; `class` names its kind. */
export function Shape({
  d,
  class: kind,
  title,
}: {
  readonly d: string;
  readonly class: string;
  readonly title?: Title | undefined;
}): VNode | null {
  // An empty attribute would be written without its value, which is HTML but not XML.
  if (d === '') return null;
  return (
    <path class={kind} d={d}>
      {title === undefined ? null : <title>{typeof title === 'string' ? title : title()}</title>}
    </path>
  );
}

export function Bar({
  x,
  y,
  width,
  height,
  class: kind,
  title,
}: {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
  readonly class: string;
  readonly title?: Title | undefined;
}): VNode {
  return (
    <rect class={kind} x={px(x)} y={px(y)} width={px(width)} height={px(height)}>
      {title === undefined ? null : <title>{typeof title === 'string' ? title : title()}</title>}
    </rect>
  );
}

export function Words({
  x,
  y,
  class: kind,
  anchor,
  size,
  children,
}: {
  readonly x: number;
  readonly y: number;
  readonly class?: string;
  readonly anchor?: 'middle' | 'end';
  readonly size?: number;
  readonly children: ComponentChildren;
}): VNode {
  return (
    <text
      x={px(x)}
      y={px(y)}
      {...(kind === undefined ? {} : { class: kind })}
      {...(anchor === undefined ? {} : { 'text-anchor': anchor })}
      {...(size === undefined ? {} : { 'font-size': size, style: `font-size:${size}px` })}
    >
      {children}
    </text>
  );
}
