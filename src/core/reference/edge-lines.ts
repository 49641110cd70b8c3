import type { Point } from '../math/matrix3.js';
import type { ColourEdges } from './colour-edges.js';

/**
 * A straight line on which edges lie: the points (x, y) with nx x + ny y = rho, where n is the line's direction turned
 * 90 degrees clockwise as seen.
 */
export interface EdgeLine {
  readonly angleDeg: number;
  readonly dx: number;
  readonly dy: number;
  readonly nx: number;
  readonly ny: number;
  readonly rho: number;
  /** How much of the line, from its start at `fromT` on, carries edges: running count, one entry a px. */
  readonly covered: Int32Array;
  readonly fromT: number;
}

/** Edge pixels this far off a line, and turned this much, still belong to it. */
const reachPx = 1.6;
const reachDeg = 9;
/** An edge's own direction is this uncertain: stripes that end at a sheet's side turn it. */
const voteDeg = 6;
/** At most so many lines in each ten degrees, and in all: what comes after is fine stripes and texture. */
const mostInTenDegrees = 40;
const mostLines = 160;
/** A line with edges over more than this share of its way through the picture is a stripe before it is a sheet's side. */
const stripeShare = 0.8;

/** Lines with at least `leastPx` of edge on them, by a Hough transform that uses each edge's own direction. */
export function edgeLines(edges: ColourEdges, leastPx: number): EdgeLine[] {
  const { width, height, direction, offset } = edges;
  const reach = Math.ceil(Math.hypot(width, height)) + 2;
  const stride = 2 * reach + 1;
  const votes = new Uint16Array(180 * stride);
  const cos = Float64Array.from({ length: 180 }, (_, a) => Math.cos((a * Math.PI) / 180));
  const sin = Float64Array.from({ length: 180 }, (_, a) => Math.sin((a * Math.PI) / 180));
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0; x < width; x++, i++) {
      if (direction[i] === 0) continue;
      const own = direction[i] - 1;
      // Right of the direction (cos a, sin a) is (-sin a, cos a) where y points down.
      const px = x + 0.5 - offset[i] * sin[own];
      const py = y + 0.5 + offset[i] * cos[own];
      for (let turn = -voteDeg; turn <= voteDeg; turn++) {
        const a = (own + turn + 180) % 180;
        votes[a * stride + Math.round(-sin[a] * px + cos[a] * py) + reach]++;
      }
    }
  }
  const peaks: { a: number; r: number; count: number }[] = [];
  for (let a = 0; a < 180; a++) {
    for (let r = 2; r < stride - 2; r++) {
      const count = votes[a * stride + r];
      if (count >= leastPx && isPeak(votes, stride, a, r)) peaks.push({ a, r: r - reach, count });
    }
  }
  peaks.sort((p, q) => q.count - p.count);
  const taken = new Array<number>(18).fill(0);
  const lines: EdgeLine[] = [];
  const stripes: EdgeLine[] = [];
  for (const { a, r } of peaks) {
    const bucket = Math.floor(a / 10);
    if (taken[bucket] >= mostInTenDegrees || lines.length >= mostLines) continue;
    const line = followed(edges, a, r);
    if ([...lines, ...stripes].some((other) => sameLine(line, other, edges))) continue;
    if (stripes.length < mostLines && shareOfChord(line, edges) > stripeShare) {
      stripes.push(line);
      continue;
    }
    taken[bucket]++;
    lines.push(line);
  }
  return [...lines, ...stripes].slice(0, mostLines);
}

/** The edges that lie on none of the lines that run on through the picture: a short edge that crosses a stripe's at a few degrees is followed into it. */
export function edgesBesideStripes(edges: ColourEdges, lines: readonly EdgeLine[]): ColourEdges {
  const direction = edges.direction.slice();
  for (const line of lines) {
    if (shareOfChord(line, edges) <= stripeShare) continue;
    eachEdgeOn(edges, line, (_t, _d, i) => {
      direction[i] = 0;
    });
  }
  return { ...edges, direction };
}

/** How much of a line's way through the picture carries edges. */
function shareOfChord(line: EdgeLine, { width, height }: ColourEdges): number {
  // Places along the line where it passes the picture's left and right, top and bottom sides.
  const along = (at: number, direction: number, normal: number): number =>
    (at - normal * line.rho) / direction;
  const [x0, x1] = [along(0, line.dx, line.nx), along(width, line.dx, line.nx)].sort((p, q) => p - q);
  const [y0, y1] = [along(0, line.dy, line.ny), along(height, line.dy, line.ny)].sort((p, q) => p - q);
  return supportOf(line, Math.max(x0, y0), Math.min(x1, y1));
}

/** Whether two lines are one to the eye: peaks a few degrees apart often settle on the same edge. */
function sameLine(p: EdgeLine, q: EdgeLine, { width, height }: ColourEdges): boolean {
  if (angleBetween(p, q) > 1) return false;
  // Distances from the middle of the picture, on the same side.
  const sameSense = p.nx * q.nx + p.ny * q.ny > 0 ? 1 : -1;
  const from = (line: EdgeLine): number => line.rho - (line.nx * width + line.ny * height) / 2;
  return Math.abs(from(p) - sameSense * from(q)) < 1.5;
}

function isPeak(votes: Uint16Array, stride: number, a: number, r: number): boolean {
  const own = votes[a * stride + r];
  for (let da = -1; da <= 1; da++) {
    // Half a turn on, a line's rho has the other sign.
    const turned = a + da < 0 || a + da > 179;
    const row = ((a + da + 180) % 180) * stride;
    const middle = turned ? stride - 1 - r : r;
    for (let dr = -1; dr <= 1; dr++) {
      const k = middle + dr;
      if (k < 0 || k >= stride || (da === 0 && dr === 0)) continue;
      const other = votes[row + k];
      if (other > own || (other === own && (da < 0 || (da === 0 && dr < 0)))) return false;
    }
  }
  return true;
}

/**
 * The line laid through the edge pixels of its longest run, twice, and what of it carries edges. Beyond the run, stripes that
 * cross at a small angle would draw the line towards them.
 */
function followed(edges: ColourEdges, a: number, rho: number): EdgeLine {
  const fromT = -Math.ceil(Math.hypot(edges.width, edges.height));
  const seen = new Uint8Array(-2 * fromT + 2);
  let line = lineOf((a * Math.PI) / 180, rho);
  const mark = (): void => {
    seen.fill(0);
    eachEdgeOn(edges, line, (t) => {
      const k = Math.round(t) - fromT;
      // A slanting edge has fewer pixels than it is long.
      seen[k - 1] = seen[k] = seen[k + 1] = 1;
    });
  };
  mark();
  for (let pass = 0; pass < 2; pass++) {
    const [first, last] = longestRun(seen);
    line = laidThrough(edges, line, first + fromT, last + fromT);
    mark();
  }
  const covered = new Int32Array(seen.length + 1);
  for (let k = 0; k < seen.length; k++) covered[k + 1] = covered[k] + seen[k];
  return { ...line, covered, fromT };
}

/** The stretch in which marked places outnumber the others by most; first and last place. */
function longestRun(seen: Uint8Array): [number, number] {
  let best = 0;
  let run: [number, number] = [0, seen.length - 1];
  let sum = 0;
  let start = 0;
  for (let k = 0; k < seen.length; k++) {
    if (sum <= 0) {
      sum = 0;
      start = k;
    }
    sum += seen[k] === 1 ? 1 : -1;
    if (sum > best) {
      best = sum;
      run = [start, k];
    }
  }
  return run;
}

/** The line by least squares through the edge pixels near it between two places along it. */
function laidThrough(edges: ColourEdges, line: BareLine, fromT: number, toT: number): BareLine {
  let n = 0;
  let st = 0;
  let sd = 0;
  let stt = 0;
  let std = 0;
  eachEdgeOn(edges, line, (t, d) => {
    if (t < fromT || t > toT) return;
    n++;
    st += t;
    sd += d;
    stt += t * t;
    std += t * d;
  });
  const spread = stt - (st * st) / n;
  if (!(n > 2 && spread > 0)) return line;
  const slope = (std - (st * sd) / n) / spread;
  const middleT = st / n;
  const middleD = sd / n;
  // Turn about the middle of the edges and move onto them; d grows along n, which turns with the line.
  const angle = Math.atan2(line.dy + slope * line.ny, line.dx + slope * line.nx);
  const x = line.dx * middleT + line.nx * (line.rho + middleD);
  const y = line.dy * middleT + line.ny * (line.rho + middleD);
  return lineOf(angle, -Math.sin(angle) * x + Math.cos(angle) * y);
}

type BareLine = Omit<EdgeLine, 'covered' | 'fromT'>;

function lineOf(angle: number, rho: number): BareLine {
  const dx = Math.cos(angle);
  const dy = Math.sin(angle);
  return { angleDeg: ((((angle * 180) / Math.PI) % 180) + 180) % 180, dx, dy, nx: -dy, ny: dx, rho };
}

/** Every edge pixel near the line: its place t along the line and d across it, px, and its index. */
function eachEdgeOn(
  edges: ColourEdges,
  line: BareLine,
  visit: (t: number, d: number, index: number) => void,
): void {
  const { width, height, direction, offset } = edges;
  const { dx, dy, nx, ny, rho, angleDeg } = line;
  const flat = Math.abs(dx) >= Math.abs(dy);
  const steps = flat ? width : height;
  // Walk along the longer axis; look a little to both sides across it.
  const span = Math.ceil(reachPx / Math.abs(flat ? ny : nx)) + 1;
  for (let k = 0; k < steps; k++) {
    const middle = Math.floor(flat ? (rho - nx * (k + 0.5)) / ny : (rho - ny * (k + 0.5)) / nx);
    for (let m = middle - span; m <= middle + span; m++) {
      const x = flat ? k : m;
      const y = flat ? m : k;
      if (x < 0 || y < 0 || x >= width || y >= height) continue;
      const i = y * width + x;
      if (direction[i] === 0) continue;
      const turn = Math.abs(direction[i] - 1 - angleDeg);
      if (Math.min(turn, 180 - turn) > reachDeg) continue;
      const own = ((direction[i] - 1) * Math.PI) / 180;
      const px = x + 0.5 - offset[i] * Math.sin(own);
      const py = y + 0.5 + offset[i] * Math.cos(own);
      const d = nx * px + ny * py - rho;
      if (Math.abs(d) <= reachPx) visit(dx * px + dy * py, d, i);
    }
  }
}

/** Share of the line between two places on it that carries edges, 0..1. */
export function supportOf({ covered, fromT }: EdgeLine, t0: number, t1: number): number {
  const last = covered.length - 1;
  const from = Math.min(Math.max(Math.round(Math.min(t0, t1) - fromT), 0), last);
  const to = Math.min(Math.max(Math.round(Math.max(t0, t1) - fromT), 0), last);
  return to > from ? (covered[to] - covered[from]) / (to - from) : 0;
}

/** Where two lines cross, or null when they are parallel. */
export function crossing(a: EdgeLine, b: EdgeLine): Point | null {
  const det = a.nx * b.ny - a.ny * b.nx;
  if (Math.abs(det) < 1e-6) return null;
  return [(a.rho * b.ny - b.rho * a.ny) / det, (a.nx * b.rho - b.nx * a.rho) / det];
}

/** Smaller angle between two lines, degrees 0..90. */
export function angleBetween(a: EdgeLine, b: EdgeLine): number {
  const turn = Math.abs(a.angleDeg - b.angleDeg);
  return Math.min(turn, 180 - turn);
}
