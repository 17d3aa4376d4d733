// The shapes of marks, as paths around a centre. Each kind can be distinguished from the others without its colour.
import { px } from './numbers.js';

/** A shape of radius `r` around a point. */
export type Glyph = (x: number, y: number, r: number) => string;

/** Relative polygon from its first corner on; corners are in units of the radius. */
function polygon(corners: readonly (readonly [number, number])[]): Glyph {
  return (x, y, r) => {
    const points = corners.map(([cx, cy]) => `${px(x + cx * r)} ${px(y + cy * r)}`);
    return `M${points.join('L')}Z`;
  };
}

export const circle: Glyph = (x, y, r) => {
  const d = px(2 * r);
  return `M${px(x - r)} ${px(y)}a${px(r)} ${px(r)} 0 1 0 ${d} 0a${px(r)} ${px(r)} 0 1 0 ${-d} 0Z`;
};

export const square: Glyph = polygon([
  [-0.85, -0.85],
  [0.85, -0.85],
  [0.85, 0.85],
  [-0.85, 0.85],
]);

export const diamond: Glyph = polygon([
  [0, -1.15],
  [1.15, 0],
  [0, 1.15],
  [-1.15, 0],
]);

/** A battery: an upright box with its pole on top. */
export const cell: Glyph = polygon([
  [-0.7, -0.75],
  [-0.3, -0.75],
  [-0.3, -1.1],
  [0.3, -1.1],
  [0.3, -0.75],
  [0.7, -0.75],
  [0.7, 1.1],
  [-0.7, 1.1],
]);

/** Points back in time. */
export const triangleLeft: Glyph = polygon([
  [-1.05, 0],
  [0.75, -1],
  [0.75, 1],
]);

export const triangleUp: Glyph = polygon([
  [0, -1],
  [0.9, 0.7],
  [-0.9, 0.7],
]);

/** A cross with arms as thick as a stamp's. */
export const cross: Glyph = polygon([
  [-0.55, -1],
  [0, -0.45],
  [0.55, -1],
  [1, -0.55],
  [0.45, 0],
  [1, 0.55],
  [0.55, 1],
  [0, 0.45],
  [-0.55, 1],
  [-1, 0.55],
  [-0.45, 0],
  [-1, -0.55],
]);

/** Two thin strokes. */
export const thinCross: Glyph = (x, y, r) =>
  `M${px(x - r)} ${px(y - r)}L${px(x + r)} ${px(y + r)}M${px(x + r)} ${px(y - r)}L${px(x - r)} ${px(y + r)}`;

/** Half a disc: what was cut off. */
export const halfDisc: Glyph = (x, y, r) =>
  `M${px(x)} ${px(y - r)}a${px(r)} ${px(r)} 0 0 0 0 ${px(2 * r)}Z`;

/** A diamond with an exclamation mark cut out of it (fill rule: evenodd). */
export const alarmDiamond: Glyph = (x, y, r) => {
  if (r < 5) return diamond(x, y, r);
  const w = r * 0.22;
  const bar = `M${px(x - w / 2)} ${px(y - r * 0.6)}h${px(w)}v${px(r * 0.68)}h${px(-w)}Z`;
  const dot = `M${px(x - w / 2)} ${px(y + r * 0.28)}h${px(w)}v${px(w)}h${px(-w)}Z`;
  return diamond(x, y, r) + bar + dot;
};
