import type { PrintedMotif, PrintSpec } from './scene.js';

type Point = readonly [number, number];

/** Counter-clockwise corners of a convex part, in units of half the drawing's size; y towards growing v. */
type Part = readonly Point[];

const box = (x0: number, y0: number, x1: number, y1: number): Part => [
  [x0, y0],
  [x1, y0],
  [x1, y1],
  [x0, y1],
];

/**
 * Drawings as unions of convex parts. What keeps each of them, beside the identity: bar everything; arrow the mirror across
 * (x reversed); zed the half turn; flag nothing.
 */
const PARTS: Readonly<Record<Exclude<PrintedMotif['kind'], 'disc' | 'flower'>, readonly Part[]>> = {
  bar: [box(-0.5, -1, 0.5, 1)],
  arrow: [
    [
      [-1, -0.2],
      [1, -0.2],
      [0, 1],
    ],
    box(-0.35, -1, 0.35, 0),
  ],
  zed: [box(-0.95, 0, 0.25, 1), box(-0.25, -1, 0.95, 0)],
  flag: [box(-0.9, -1, -0.4, 1), box(-0.5, 0.1, 0.9, 1)],
};

/** Signed depth inside a drawing, mm, positive inside; about a distance near the outline. x, y from its middle. */
export function motifDepth({ kind, sizeMm, turnDeg, mirrored }: PrintedMotif, x: number, y: number): number {
  const half = sizeMm / 2;
  const a = (-turnDeg * Math.PI) / 180;
  const tx = x * Math.cos(a) - y * Math.sin(a);
  const px = mirrored ? -tx : tx;
  const py = x * Math.sin(a) + y * Math.cos(a);
  if (kind === 'disc') return half - Math.hypot(px, py);
  if (kind === 'flower') return half * (0.74 + 0.26 * Math.cos(6 * Math.atan2(px, py))) - Math.hypot(px, py);
  let depth = -Infinity;
  for (const part of PARTS[kind]) {
    let least = Infinity;
    for (let i = 0; i < part.length; i++) {
      const [x0, y0] = part[i];
      const [x1, y1] = part[(i + 1) % part.length];
      const length = Math.hypot(x1 - x0, y1 - y0);
      const off = ((x1 - x0) * (py - y0 * half) - (y1 - y0) * (px - x0 * half)) / length;
      least = Math.min(least, off);
    }
    depth = Math.max(depth, least);
  }
  return depth;
}

/** Offset (x, y) of a cloth point from the nearest copy of a motif. Copies of one motif do not overlap. */
export function toNearestCopy(
  { acrossRepeats, alongMm, drop }: PrintSpec,
  { atMm }: PrintedMotif,
  repeatMm: number,
  u: number,
  v: number,
): Point {
  const across = acrossRepeats * repeatMm;
  const column = Math.round((u - atMm[0]) / across);
  const along = v - atMm[1] - column * drop * alongMm;
  return [u - atMm[0] - column * across, along - Math.round(along / alongMm) * alongMm];
}
