import { Matrix, solve } from 'ml-matrix';
import { linearFromByte } from '../colour/srgb.js';
import { median } from '../math/robust.js';
import type { Straightened } from './straighten.js';
import type { StripeFrame } from './stripe-frame.js';

/** The picture is looked at in so many strips along the stripes, each of a few rows at least, and in so many zones across. */
const STRIPS = 12;
const LEAST_ROWS = 3;
const ZONES = 8;
/** A strip shows a column where this part of its rows is cloth. */
const LEAST_SEEN = 0.5;

/** How stripes lean somewhere in a straight picture. */
interface Lean {
  /** Straight px. */
  readonly u: number;
  readonly v: number;
  /** du/dv. */
  readonly slope: number;
  readonly weight: number;
}

/** Stripes that lean no more than this over the height, columns, are straight enough. */
const STRAIGHT = 0.4;
/** A change leaves less than this part of what it sets right. */
const LEFT = 0.2;
const ROUNDS = 4;

/**
 * The frame put right until stripes lean no more in the picture made along it. A direction taken from pixels' slopes is off by
 * up to some tenths of a degree, which over a whole photo smears a fine stripe over its neighbours.
 */
export function followStripes(
  found: StripeFrame,
  straightened: (frame: StripeFrame) => Straightened,
): StripeFrame {
  let frame = found;
  let change = frameFollowing(straightened(frame), frame);
  for (let round = 0; round < ROUNDS && change !== null && change.columns > STRAIGHT; round++) {
    if (LEFT * change.columns <= STRAIGHT) return change.frame;
    const next = change.frame;
    const left = frameFollowing(straightened(next), next);
    if (left === null || left.columns > change.columns) break;
    frame = next;
    change = left;
  }
  return frame;
}

/**
 * How stripes lean that a frame should have made straight, as changes to the frame's own terms. `columns`: what the lean comes
 * to over the picture's height where it is greatest. Null where nothing tells it.
 */
export interface FrameChange {
  readonly frame: StripeFrame;
  readonly columns: number;
}

/**
 * The frame along which the stripes of a straight picture truly run. Edges of the stripes are followed from strip to strip of its
 * height by their slope across, which is the same whatever crosses there: where two directions of a check cross, each adds its
 * own light. The shift between two strips is that of Lucas and Kanade (1981); what a shift everywhere, growing with u, with v and
 * with both, adds to the angle, the vanishing point, the bow and the lens is fitted by least squares.
 */
export function frameFollowing(straight: Straightened, frame: StripeFrame): FrameChange | null {
  const leans = leansOf(straight);
  if (leans.length < 8) return null;
  const { width, height } = straight.cloth.picture;
  const halfU = (width * straight.pxPerColumn) / 2;
  const halfV = (height * straight.pxPerRow) / 2;
  const termsAt = (u: number, v: number): number[] => [1, u / halfU, v / halfV, (u / halfU) * (v / halfV)];
  let weights = leans.map(({ weight }) => weight);
  let found = [0, 0, 0, 0];
  for (let round = 0; round < 3; round++) {
    found = fitted(leans, weights, termsAt);
    const off = leans.map(({ u, v, slope }) => Math.abs(slope - dot(found, termsAt(u, v))));
    const usual = Math.max(1e-6, 1.5 * median(off));
    // A stray (motif, hand) counts little.
    weights = leans.map(({ weight }, i) => weight / (1 + (off[i] / (2 * usual)) ** 2));
  }
  const [level, withU, withV, withBoth] = found;
  const steepest = Math.max(...leans.map(({ u, v }) => Math.abs(dot(found, termsAt(u, v)))));
  return {
    frame: {
      ...frame,
      angle: frame.angle - Math.atan(level),
      converge: frame.converge - withU / halfU,
      bow: frame.bow + withV / halfV,
      lens: frame.lens + withBoth / (halfU * halfV),
    },
    columns: (steepest * 2 * halfV) / straight.pxPerColumn,
  };
}

const dot = (p: readonly number[], q: readonly number[]): number => p.reduce((s, v, k) => s + v * q[k], 0);

/** Weighted least squares, held back a little so that what few places show stays small. */
function fitted(
  leans: readonly Lean[],
  weights: readonly number[],
  termsAt: (u: number, v: number) => number[],
): number[] {
  const total = weights.reduce((s, w) => s + w, 0);
  const normal = Matrix.eye(4, 4).mul(1e-3 * total);
  const right = Matrix.zeros(4, 1);
  leans.forEach(({ u, v, slope }, i) => {
    const terms = termsAt(u, v);
    for (let p = 0; p < 4; p++) {
      right.set(p, 0, right.get(p, 0) + weights[i] * terms[p] * slope);
      for (let q = 0; q < 4; q++) normal.set(p, q, normal.get(p, q) + weights[i] * terms[p] * terms[q]);
    }
  });
  return solve(normal, right).to1DArray();
}

function leansOf(straight: Straightened): Lean[] {
  const { cloth, uFromPx, vFromPx, pxPerColumn, pxPerRow } = straight;
  const { width, height } = cloth.picture;
  const count = Math.min(STRIPS, Math.floor(height / LEAST_ROWS));
  const rowsAStrip = height / count;
  const strips = Array.from({ length: count }, (_, k) =>
    stripSlopes(straight, Math.round(k * rowsAStrip), Math.round((k + 1) * rowsAStrip)),
  );
  const leans: Lean[] = [];
  for (let k = 0; k + 1 < count; k++) {
    for (let z = 0; z < ZONES; z++) {
      const from = Math.max(3, Math.round((z * width) / ZONES));
      const to = Math.min(width - 3, Math.round(((z + 1) * width) / ZONES));
      const shift = shiftBetween(strips[k], strips[k + 1], from, to);
      if (shift === null) continue;
      leans.push({
        u: uFromPx + ((from + to) / 2) * pxPerColumn,
        v: vFromPx - (k + 1) * rowsAStrip * pxPerRow,
        // The next strip lies lower, where v is less.
        slope: (-shift.columns * pxPerColumn) / (rowsAStrip * pxPerRow),
        weight: shift.weight,
      });
    }
  }
  return leans;
}

/** Mean slope across of the linear light of rows from..to, three values a column; NaN where too few rows are cloth. */
function stripSlopes({ cloth }: Straightened, from: number, to: number): Float32Array {
  const { width, data } = cloth.picture;
  const sums = new Float32Array(3 * width);
  const counts = new Uint16Array(width);
  for (let y = from; y < to; y++) {
    for (let x = 1; x + 1 < width; x++) {
      const i = y * width + x;
      if (!(cloth.cloth[i - 1] && cloth.cloth[i] && cloth.cloth[i + 1])) continue;
      counts[x]++;
      for (let c = 0; c < 3; c++)
        sums[3 * x + c] += linearFromByte[data[3 * i + 3 + c]] - linearFromByte[data[3 * i - 3 + c]];
    }
  }
  for (let x = 0; x < width; x++) {
    const seen = counts[x] >= LEAST_SEEN * (to - from);
    for (let c = 0; c < 3; c++) sums[3 * x + c] = seen ? sums[3 * x + c] / counts[x] : Number.NaN;
  }
  return sums;
}

/** By how many columns towards growing u `lower` is shifted against `upper`; null where nothing tells. */
function shiftBetween(
  upper: Float32Array,
  lower: Float32Array,
  from: number,
  to: number,
): { columns: number; weight: number } | null {
  let columns = 0;
  let weight = 0;
  // The forecast by slopes falls short of a shift as wide as an edge: ask again from where it led.
  for (let round = 0; round < 3; round++) {
    const whole = Math.round(columns);
    let top = 0;
    let low = 0;
    for (let x = Math.max(from, 2 - whole, 2 + whole); x < to && x + whole + 2 < upper.length / 3; x++) {
      for (let c = 0; c < 3; c++) {
        const p = 3 * x + c;
        const q = p + 3 * whole;
        const bend = (upper[p + 3] - upper[p - 3] + lower[q + 3] - lower[q - 3]) / 4;
        const off = lower[q] - upper[p];
        if (Number.isNaN(bend) || Number.isNaN(off)) continue;
        top -= bend * off;
        low += bend * bend;
      }
    }
    if (!(low > 0)) return null;
    weight = low;
    const next = whole + Math.max(-2, Math.min(2, top / low));
    if (Math.round(next) === whole) return { columns: next, weight };
    columns = next;
  }
  return { columns, weight };
}
