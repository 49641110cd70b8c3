type Place = readonly [number, number];

/** Signed distances to a closed line, positive inside; beyond `reachMm` they are told as that. Or distances to open lines, always positive. */
export type DistanceTo = (x: number, y: number) => number;

const CELL_MM = 4;

/** Buckets of segments near each cell of a grid, so that a distance costs what lies near. */
class SegmentGrid {
  private readonly x0: number;
  private readonly y0: number;
  private readonly columns: number;
  private readonly rows: number;
  private readonly cells: (number[] | undefined)[];

  constructor(
    private readonly segments: readonly (readonly [number, number, number, number])[],
    readonly reachMm: number,
  ) {
    const xs = segments.length === 0 ? [0] : segments.flatMap((s) => [s[0], s[2]]);
    const ys = segments.length === 0 ? [0] : segments.flatMap((s) => [s[1], s[3]]);
    const least = (list: number[]) => list.reduce((a, b) => Math.min(a, b), Infinity);
    const most = (list: number[]) => list.reduce((a, b) => Math.max(a, b), -Infinity);
    this.x0 = least(xs) - reachMm;
    this.y0 = least(ys) - reachMm;
    this.columns = Math.ceil((most(xs) + reachMm - this.x0) / CELL_MM) + 1;
    this.rows = Math.ceil((most(ys) + reachMm - this.y0) / CELL_MM) + 1;
    this.cells = new Array(this.columns * this.rows);
    segments.forEach(([ax, ay, bx, by], k) => {
      const iFrom = Math.max(0, Math.floor((Math.min(ax, bx) - reachMm - this.x0) / CELL_MM));
      const iTo = Math.min(this.columns - 1, Math.floor((Math.max(ax, bx) + reachMm - this.x0) / CELL_MM));
      const jFrom = Math.max(0, Math.floor((Math.min(ay, by) - reachMm - this.y0) / CELL_MM));
      const jTo = Math.min(this.rows - 1, Math.floor((Math.max(ay, by) + reachMm - this.y0) / CELL_MM));
      for (let j = jFrom; j <= jTo; j++) {
        for (let i = iFrom; i <= iTo; i++) {
          this.cells[j * this.columns + i] ??= [];
          this.cells[j * this.columns + i]?.push(k);
        }
      }
    });
  }

  /** Segments near a place; undefined where there is none. */
  cellAt(x: number, y: number): readonly number[] | undefined {
    const i = Math.floor((x - this.x0) / CELL_MM);
    const j = Math.floor((y - this.y0) / CELL_MM);
    return i < 0 || j < 0 || i >= this.columns || j >= this.rows
      ? undefined
      : this.cells[j * this.columns + i];
  }

  /** Squared distance to one segment. */
  square(k: number, x: number, y: number): number {
    const [ax, ay, bx, by] = this.segments[k];
    const dx = bx - ax;
    const dy = by - ay;
    const t = Math.max(0, Math.min(1, ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy || 1)));
    return (x - ax - t * dx) ** 2 + (y - ay - t * dy) ** 2;
  }

  /** Squared distance to the nearest segment, or that of the reach. */
  nearest(x: number, y: number): number {
    let best = this.reachMm ** 2;
    for (const k of this.cellAt(x, y) ?? []) best = Math.min(best, this.square(k, x, y));
    return best;
  }
}

const segmentsOf = (points: readonly Place[], closed: boolean): [number, number, number, number][] =>
  points.slice(closed ? 0 : 1).map((_, k) => {
    const a = points[k];
    const b = points[(k + 1) % points.length];
    return [a[0], a[1], b[0], b[1]];
  });

export function signedDistanceTo(polygon: readonly Place[], reachMm: number): DistanceTo {
  const grid = new SegmentGrid(segmentsOf(polygon, true), reachMm);
  const inside = insideByRows(polygon);
  return (x, y) => {
    const distance = Math.sqrt(grid.nearest(x, y));
    return inside(x, y) ? distance : -distance;
  };
}

/** Calls back for every stroke within the reach of a place; nothing is made for the many places without one. */
export function nearStrokes(
  strokes: readonly { readonly points: readonly Place[]; readonly closed?: boolean }[],
  reachMm: number,
): (x: number, y: number, each: (stroke: number, distanceMm: number) => void) => void {
  const segments: [number, number, number, number][] = [];
  const owner: number[] = [];
  strokes.forEach(({ points, closed }, stroke) => {
    for (const segment of segmentsOf(points, closed === true)) {
      segments.push(segment);
      owner.push(stroke);
    }
  });
  const grid = new SegmentGrid(segments, reachMm);
  const best = new Float64Array(strokes.length);
  return (x, y, each) => {
    const near = grid.cellAt(x, y);
    if (near === undefined) return;
    best.fill(reachMm ** 2);
    for (const k of near) best[owner[k]] = Math.min(best[owner[k]], grid.square(k, x, y));
    for (let s = 0; s < best.length; s++) if (best[s] < reachMm ** 2) each(s, Math.sqrt(best[s]));
  };
}

/** Points of a closed line about so far apart: for what need not be exact. */
export function thinned(polygon: readonly Place[], stepMm: number): Place[] {
  const out: Place[] = [];
  for (const p of polygon) {
    const last = out[out.length - 1];
    if (last === undefined || Math.hypot(p[0] - last[0], p[1] - last[1]) >= stepMm) out.push(p);
  }
  return out;
}

/** Even-odd test by edges sorted into rows. */
function insideByRows(polygon: readonly Place[]): (x: number, y: number) => boolean {
  const ys = polygon.map((p) => p[1]);
  const low = ys.reduce((a, b) => Math.min(a, b), Infinity);
  const high = ys.reduce((a, b) => Math.max(a, b), -Infinity);
  const rowMm = 1;
  const rows: number[][] = Array.from({ length: Math.ceil((high - low) / rowMm) + 1 }, () => []);
  polygon.forEach((p, k) => {
    const q = polygon[(k + 1) % polygon.length];
    const from = Math.floor((Math.min(p[1], q[1]) - low) / rowMm);
    const to = Math.floor((Math.max(p[1], q[1]) - low) / rowMm);
    for (let r = from; r <= to; r++) rows[r].push(k);
  });
  return (x, y) => {
    if (y < low || y > high) return false;
    let inside = false;
    for (const k of rows[Math.floor((y - low) / rowMm)]) {
      const [ax, ay] = polygon[k];
      const [bx, by] = polygon[(k + 1) % polygon.length];
      if (ay <= y !== by <= y && x < ax + ((y - ay) * (bx - ax)) / (by - ay)) inside = !inside;
    }
    return inside;
  };
}

/** Signed distance however far, from few points of the line: good to a few tenths of a mm. */
export function depthWithin(polygon: readonly Place[]): DistanceTo {
  const few = thinned(polygon, 4);
  const inside = insideByRows(polygon);
  return (x, y) => {
    let best = Number.POSITIVE_INFINITY;
    few.forEach(([ax, ay], k) => {
      const [bx, by] = few[(k + 1) % few.length];
      const dx = bx - ax;
      const dy = by - ay;
      const t = Math.max(0, Math.min(1, ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy || 1)));
      best = Math.min(best, (x - ax - t * dx) ** 2 + (y - ay - t * dy) ** 2);
    });
    return inside(x, y) ? Math.sqrt(best) : -Math.sqrt(best);
  };
}
