import { type Ring, throughOrigin } from './ring.js';
import { type Slabs, slabAt, slabsOf } from './slabs.js';

/**
 * Where one outline may not lie beside another: all shifts of the moving one, against the fixed one, at which the two overlap. It is the sum
 * of the fixed outline with the moving one turned half round, told by their convolution (Guibas, Ramshaw, Stolfi 1983, "A kinetic framework for
 * computational geometry", doi 10.1109/SFCS.1983.1): closed curves that go round a shift as often as the two, so shifted, have parts in
 * common. Nothing is cut or united, so it is exact to rounding.
 */
export interface NoFit {
  /** Directed edges of the convolution, four numbers each: from x, y, to x, y. */
  readonly edges: Float64Array;
  /** The rim of the forbidden shifts, five numbers a stretch: x, y, the way to its end, and 1 over the square of its length. */
  readonly rim: Float64Array;
  /** Box about all forbidden shifts: least and greatest x, then y. */
  readonly box: Float64Array;
  /** Edges by slabs of x, and by slabs of y. */
  readonly slabs: readonly [Slabs, Slabs];
}

const SIZE = 4;
export const RIM_SIZE = 5;

/** Sides of a stretch are told apart this part of the outline's size away from it. */
const BESIDE_PART = 1e-8;

export function noFit(fixed: Ring, moving: Ring): NoFit {
  const other = throughOrigin(moving);
  const forward: number[] = [];
  const backward: number[] = [];
  addSwept(fixed, other, true, forward, backward);
  addSwept(other, fixed, false, forward, backward);
  const edges = Float64Array.from([...forward, ...backward]);
  const box = boxOf(edges);
  const slabs = [slabsOf(edges, box, 0), slabsOf(edges, box, 1)] as const;
  return { edges, box, slabs, rim: rimOf(edges, forward.length, box, slabs[0]) };
}

/**
 * Every edge of `along` shifted to every corner of `corners` within whose turn its direction lies; where a corner turns inwards edges run
 * backward. Edges of one direction: those of the first outline count as turned a hair further, so that none is met twice or never.
 */
function addSwept(corners: Ring, along: Ring, isFirst: boolean, forward: number[], backward: number[]): void {
  const n = corners.x.length;
  const m = along.x.length;
  for (let i = 0; i < n; i++) {
    const before = corners.angle[i === 0 ? n - 1 : i - 1];
    const after = corners.angle[i];
    const turn = after - before;
    if (turn === 0) continue;
    const isConvex = turn > 0 ? turn < Math.PI : turn < -Math.PI;
    const from = isConvex ? before : after;
    const to = isConvex ? after : before;
    for (let k = 0; k < m; k++) {
      const d = along.angle[k];
      const isAbove = isFirst ? d > from : d >= from;
      const isBelow = isFirst ? d <= to : d < to;
      if (from < to ? !(isAbove && isBelow) : !(isAbove || isBelow)) continue;
      const next = k + 1 < m ? k + 1 : 0;
      const [x, y] = [corners.x[i], corners.y[i]];
      const start = [x + along.x[k], y + along.y[k]];
      const end = [x + along.x[next], y + along.y[next]];
      if (isConvex) forward.push(start[0], start[1], end[0], end[1]);
      else backward.push(end[0], end[1], start[0], start[1]);
    }
  }
}

function boxOf(edges: Float64Array): Float64Array {
  const box = Float64Array.of(Infinity, -Infinity, Infinity, -Infinity);
  for (let k = 0; k < edges.length; k += 2) {
    box[0] = Math.min(box[0], edges[k]);
    box[1] = Math.max(box[1], edges[k]);
    box[2] = Math.min(box[2], edges[k + 1]);
    box[3] = Math.max(box[3], edges[k + 1]);
  }
  return box;
}

/** How often the curves go round a place: the number of parts the two outlines have in common there. slabs: of x. */
function windingIn(edges: Float64Array, slabs: Slabs, x: number, y: number): number {
  const { starts, list } = slabs;
  const slab = slabAt(slabs, x);
  let winding = 0;
  for (let i = starts[slab]; i < starts[slab + 1]; i++) {
    const k = list[i];
    const x0 = edges[k];
    const x1 = edges[k + 2];
    if (x0 <= x === x1 <= x) continue;
    const yThere = edges[k + 1] + ((x - x0) / (x1 - x0)) * (edges[k + 3] - edges[k + 1]);
    if (yThere > y) winding += x1 < x0 ? 1 : -1;
  }
  return winding;
}

/** Stretches with forbidden shifts on one side only. Edges that run backward are never among them. */
function rimOf(edges: Float64Array, forwardLength: number, box: Float64Array, slabs: Slabs): Float64Array {
  const beside = BESIDE_PART * (box[1] - box[0] + box[3] - box[2]);
  const rim: number[] = [];
  const parts: number[] = [];
  for (let k = 0; k < forwardLength; k += SIZE) {
    const [x, y] = [edges[k], edges[k + 1]];
    const [dx, dy] = [edges[k + 2] - x, edges[k + 3] - y];
    const length = Math.hypot(dx, dy);
    if (length <= beside) continue;
    const [normalX, normalY] = [(-dy / length) * beside, (dx / length) * beside];
    parts.length = 0;
    parts.push(0, 1);
    addCrossings(edges, k, beside, slabs, parts);
    parts.sort((a, b) => a - b);
    for (let i = 1; i < parts.length; i++) {
      const [from, to] = [parts[i - 1], parts[i]];
      if ((to - from) * length <= beside) continue;
      const [midX, midY] = [x + ((from + to) / 2) * dx, y + ((from + to) / 2) * dy];
      const outside = windingIn(edges, slabs, midX - normalX, midY - normalY);
      if (outside > 0 || windingIn(edges, slabs, midX + normalX, midY + normalY) <= 0) continue;
      const [wayX, wayY] = [(to - from) * dx, (to - from) * dy];
      rim.push(x + from * dx, y + from * dy, wayX, wayY, 1 / (wayX * wayX + wayY * wayY));
    }
  }
  return Float64Array.from(rim);
}

/** Parts (0 .. 1) of edge k at which other edges cross it, end on it, or lie along it. */
function addCrossings(edges: Float64Array, k: number, near: number, slabs: Slabs, parts: number[]): void {
  const [x, y] = [edges[k], edges[k + 1]];
  const [dx, dy] = [edges[k + 2] - x, edges[k + 3] - y];
  const square = dx * dx + dy * dy;
  const nearBy = near * Math.sqrt(square);
  const add = (part: number): void => {
    if (part > 0 && part < 1) parts.push(part);
  };
  const last = slabAt(slabs, Math.max(x, x + dx) + near);
  for (let i = slabs.starts[slabAt(slabs, Math.min(x, x + dx) - near)]; i < slabs.starts[last + 1]; i++) {
    const j = slabs.list[i];
    if (j === k) continue;
    const ax = edges[j] - x;
    const ay = edges[j + 1] - y;
    const bx = edges[j + 2] - x;
    const by = edges[j + 3] - y;
    const a = dx * ay - dy * ax;
    const b = dx * by - dy * bx;
    const isNearA = Math.abs(a) <= nearBy;
    const isNearB = Math.abs(b) <= nearBy;
    if (isNearA) add((ax * dx + ay * dy) / square);
    if (isNearB) add((bx * dx + by * dy) / square);
    if (isNearA || isNearB || a > 0 === b > 0) continue;
    const t = a / (a - b);
    const [px, py] = [ax + t * (bx - ax), ay + t * (by - ay)];
    add((px * dx + py * dy) / square);
  }
}

/** How far from leaving: distance of a forbidden shift from the rim, by the shortest way. */
export function depthAt({ rim }: NoFit, x: number, y: number): number {
  let least = Infinity;
  for (let k = 0; k < rim.length; k += RIM_SIZE) {
    const ax = x - rim[k];
    const ay = y - rim[k + 1];
    const dx = rim[k + 2];
    const dy = rim[k + 3];
    let part = (ax * dx + ay * dy) * rim[k + 4];
    part = part < 0 ? 0 : part > 1 ? 1 : part;
    const offX = ax - part * dx;
    const offY = ay - part * dy;
    const square = offX * offX + offY * offY;
    if (square < least) least = square;
  }
  return Math.sqrt(least);
}

/** As deep as rounding: outlines that touch. */
const TOUCH_MM = 5e-7;

/** How deep a shift is forbidden: 0 where it is allowed or touches. */
export function overlapAt(noFit: NoFit, x: number, y: number): number {
  const { edges, box, slabs } = noFit;
  if (x <= box[0] || x >= box[1] || y <= box[2] || y >= box[3]) return 0;
  const winding = windingIn(edges, slabs[0], x, y);
  if (winding <= 0) return 0;
  const depth = depthAt(noFit, x, y);
  return depth <= TOUCH_MM ? 0 : depth;
}
