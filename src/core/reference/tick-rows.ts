import { halfTurn } from '../math/wrap.js';
import type { ThinLine } from './thin-lines.js';

/** A straight row of short parallel lines whose ends are level: perhaps the ticks of a ruler. */
export interface TickRow {
  /** A point on the level line, and the unit vector along it. */
  readonly x: number;
  readonly y: number;
  readonly alongX: number;
  readonly alongY: number;
  /** Unit vector along the ticks, pointing from the level line into them. */
  readonly tickX: number;
  readonly tickY: number;
  /** Extent of the members along the row from (x, y), px. */
  readonly fromPx: number;
  readonly toPx: number;
  /** Median length of the members. */
  readonly lengthPx: number;
  readonly members: readonly ThinLine[];
}

const DEG = Math.PI / 180;
/** A row of fewer lines is none. */
const FEWEST = 12;

/**
 * Rows by a Hough vote: lines of one direction are taken together, and each of their two ends votes for the
 * level lines that pass through it. The row with most members first, and no row sought before it is asked for: no row
 * of a direction has more members than lines are left there.
 */
export function* findTickRows(lines: readonly ThinLine[], most = 8): Generator<TickRow> {
  const searches = commonDirections(lines).map((angle): RowSearch => {
    const like = lines.filter((l) => Math.abs(halfTurn(Math.atan2(l.dirY, l.dirX) - angle)) < 7 * DEG);
    return { angle, free: endsOf(like, angle), row: null };
  });
  const bound = ({ row, free }: RowSearch): number => row?.members.length ?? free.length / 2;
  for (let given = 0; given < most && searches.length > 0; ) {
    const next = searches.reduce((a, b) => (bound(b) > bound(a) ? b : a));
    if (bound(next) < FEWEST) return;
    if (next.row === null) {
      next.row = nextRow(next);
      if (next.row === null) next.free = [];
      continue;
    }
    const taken = new Set(next.row.members);
    yield next.row;
    given++;
    next.free = next.free.filter((e) => !taken.has(e.line));
    next.row = null;
  }
}

/** Where the search along one direction of ticks stands. */
interface RowSearch {
  readonly angle: number;
  /** Ends of the lines that no row has taken. */
  free: End[];
  /** Found, but not given away yet. */
  row: TickRow | null;
}

function commonDirections(lines: readonly ThinLine[]): number[] {
  const bins = 90;
  const votes = new Float64Array(bins);
  for (const l of lines) {
    const a = halfTurn(Math.atan2(l.dirY, l.dirX));
    votes[Math.floor(((a + Math.PI / 2) / Math.PI) * bins + bins) % bins]++;
  }
  const smooth = votes.map((_, i) => {
    let sum = 0;
    for (let d = -2; d <= 2; d++) sum += votes[(i + d + bins) % bins];
    return sum;
  });
  const peaks: number[] = [];
  for (let i = 0; i < bins; i++) {
    const left = smooth[(i + bins - 1) % bins];
    const right = smooth[(i + 1) % bins];
    if (smooth[i] >= 8 && smooth[i] >= left && smooth[i] > right) peaks.push(i);
  }
  peaks.sort((a, b) => smooth[b] - smooth[a]);
  return peaks.slice(0, 10).map((i) => ((i + 0.5) / bins) * Math.PI - Math.PI / 2);
}

/** Both ends of lines of one direction (angle: along the ticks). */
function endsOf(lines: readonly ThinLine[], angle: number): End[] {
  const tx = Math.cos(angle);
  const ty = Math.sin(angle);
  const ends: End[] = [];
  for (const line of lines) {
    // s runs across the ticks, t along them.
    const s = tx * line.y - ty * line.x;
    const t = tx * line.x + ty * line.y;
    const along = line.dirX * tx + line.dirY * ty;
    const flip = along < 0 ? -0.5 : 0.5;
    const ds = flip * line.lengthPx * (tx * line.dirY - ty * line.dirX);
    const dt = flip * line.lengthPx * along;
    ends.push({ line, side: -1, s: s - ds, t: t - dt }, { line, side: 1, s: s + ds, t: t + dt });
  }
  return ends;
}

function nextRow({ free, angle }: RowSearch): TickRow | null {
  const level = bestLevel(free);
  return level && rowFromLevel(free, level, Math.cos(angle), Math.sin(angle));
}

interface End {
  readonly line: ThinLine;
  readonly side: number;
  readonly s: number;
  readonly t: number;
}

interface Level {
  readonly slope: number;
  readonly t0: number;
  readonly side: number;
}

function bestLevel(ends: readonly End[]): Level | null {
  if (ends.length < 2 * FEWEST) return null;
  let tMin = Infinity;
  let tMax = -Infinity;
  let sMid = 0;
  for (const e of ends) {
    sMid += e.s / ends.length;
    tMin = Math.min(tMin, e.t);
    tMax = Math.max(tMax, e.t);
  }
  let furthest = 0;
  for (const e of ends) furthest = Math.max(furthest, Math.abs(e.s - sMid));
  const reach = furthest * Math.tan(8 * DEG);
  const binPx = 2.5;
  const slopes = 81;
  let best: Level | null = null;
  let bestVotes = FEWEST - 1;
  const votes = new Uint16Array(Math.ceil((tMax - tMin + 2 * reach) / binPx) + 4);
  const s = new Float64Array(ends.length);
  const t = new Float64Array(ends.length);
  const bins = new Int32Array(ends.length);
  for (const side of [-1, 1]) {
    let count = 0;
    for (const e of ends) {
      if (e.side !== side) continue;
      s[count] = e.s - sMid;
      t[count++] = (e.t - tMin + reach) / binPx + 1;
    }
    for (let k = 0; k < slopes; k++) {
      const slope = Math.tan(((k / (slopes - 1)) * 16 - 8) * DEG);
      let most = bestVotes;
      let at = -1;
      for (let i = 0; i < count; i++) {
        const bin = Math.floor(t[i] - (slope / binPx) * s[i]);
        bins[i] = bin;
        const own = ++votes[bin];
        // Two neighbouring bins together: votes on the line between them are not split.
        if (own + votes[bin - 1] > most) {
          most = own + votes[bin - 1];
          at = bin;
        }
        if (own + votes[bin + 1] > most) {
          most = own + votes[bin + 1];
          at = bin + 1;
        }
      }
      for (let i = 0; i < count; i++) votes[bins[i]] = 0;
      if (at < 0) continue;
      bestVotes = most;
      best = { slope, t0: tMin - reach + (at - 1) * binPx - slope * sMid, side };
    }
  }
  return best;
}

function rowFromLevel(ends: readonly End[], level: Level, tx: number, ty: number): TickRow | null {
  let { slope, t0 } = level;
  let inliers: End[] = [];
  for (const tolerance of [4, 3, 2.5]) {
    inliers = ends.filter((e) => e.side === level.side && Math.abs(e.t - t0 - slope * e.s) < tolerance);
    if (inliers.length < FEWEST) return null;
    const n = inliers.length;
    const ms = inliers.reduce((a, e) => a + e.s, 0) / n;
    const mt = inliers.reduce((a, e) => a + e.t, 0) / n;
    const sst = inliers.reduce((a, e) => a + (e.s - ms) * (e.t - mt), 0);
    const sss = inliers.reduce((a, e) => a + (e.s - ms) ** 2, 0);
    slope = sst / Math.max(1e-9, sss);
    t0 = mt - slope * ms;
  }
  const n = inliers.length;
  const sMid = inliers.reduce((a, e) => a + e.s, 0) / n;
  const norm = Math.hypot(1, slope);
  const alongX = (-ty + slope * tx) / norm;
  const alongY = (tx + slope * ty) / norm;
  const tMid = t0 + slope * sMid;
  // Mean direction of the members, pointed away from the level line.
  let dx = 0;
  let dy = 0;
  for (const { line } of inliers) {
    const sign = line.dirX * tx + line.dirY * ty < 0 ? 1 : -1;
    dx += sign * level.side * line.dirX;
    dy += sign * level.side * line.dirY;
  }
  const length = Math.hypot(dx, dy);
  const offsets = inliers.map((e) => (e.s - sMid) * norm);
  const lengths = inliers.map((e) => e.line.lengthPx).sort((a, b) => a - b);
  return {
    x: -ty * sMid + tx * tMid,
    y: tx * sMid + ty * tMid,
    alongX,
    alongY,
    tickX: dx / length,
    tickY: dy / length,
    fromPx: Math.min(...offsets),
    toPx: Math.max(...offsets),
    lengthPx: lengths[lengths.length >> 1],
    members: inliers.map((e) => e.line),
  };
}
