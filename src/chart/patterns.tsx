// Fills that differ by their pattern as well as by their colour.
import type { VNode } from 'preact';
import type { Theme } from './theme.js';

function Pattern(props: {
  readonly id: string;
  readonly size: number;
  readonly ground?: string;
  readonly groundOpacity?: number;
  readonly d: string;
  readonly stroke: string;
  readonly width: number;
  readonly angle?: number;
}): VNode {
  const { id, size, ground, groundOpacity = 1, d, stroke, width, angle = 0 } = props;
  return (
    <pattern
      id={`dw-p-${id}`}
      width={size}
      height={size}
      patternUnits="userSpaceOnUse"
      patternTransform={`rotate(${angle})`}
    >
      {ground === undefined ? null : (
        <rect width={size} height={size} fill={ground} fill-opacity={groundOpacity} />
      )}
      <path d={d} fill="none" stroke={stroke} stroke-width={width} />
    </pattern>
  );
}

export function Patterns({ theme }: { readonly theme: Theme }): VNode {
  const { paper, missed, falseAlarm, late, undecided, network, power, cooldown, known, brief } =
    theme;
  return (
    <defs>
      <Pattern
        id="missed"
        size={5}
        ground={missed}
        d="M0 0V5"
        stroke={paper}
        width={2}
        angle={45}
      />
      <Pattern
        id="false"
        size={5}
        ground={falseAlarm}
        groundOpacity={0.16}
        d="M0 0V5"
        stroke={falseAlarm}
        width={0.9}
        angle={-45}
      />
      <Pattern id="late" size={5} ground={late} d="M0 2.5H5" stroke={paper} width={0.9} />
      <Pattern id="undecided" size={4} ground={paper} d="M0 0V4" stroke={undecided} width={1} />
      <Pattern
        id="network"
        size={6}
        ground={network}
        groundOpacity={0.12}
        d="M0 0V6"
        stroke={network}
        width={0.6}
        angle={-45}
      />
      <Pattern
        id="power"
        size={6}
        ground={power}
        groundOpacity={0.12}
        d="M0 3H6M3 0V6"
        stroke={power}
        width={0.6}
        angle={45}
      />
      <Pattern
        id="cooldown"
        size={4}
        ground={cooldown}
        groundOpacity={0.18}
        d="M0 2H4"
        stroke={cooldown}
        width={0.8}
      />
      <Pattern
        id="pending"
        size={4}
        ground={paper}
        d="M0 0V4"
        stroke={known}
        width={0.9}
        angle={45}
      />
      <Pattern id="void" size={5} d="M0 0V5" stroke={brief} width={0.7} angle={45} />
    </defs>
  );
}
