import type { PaperTruth, PieceTruth } from '../../../test/support/paper-painter/paper-truth.js';

type Place = readonly [number, number];

/** What a trace gave of one piece, mm in its own frame. */
export interface TracedForScore {
  readonly outline: readonly Place[];
  readonly corners: readonly Place[];
  readonly notches: readonly Place[];
  readonly grain: {
    readonly foot: Place;
    readonly head: Place;
    readonly found: boolean;
    readonly heads: number;
  };
  readonly outlineSdMm: number;
}

export interface PieceScore {
  readonly meanMm: number;
  readonly worstMm: number;
  readonly extentMm: number;
  readonly areaPercent: number;
  readonly cornersFound: number;
  readonly cornersMissed: number;
  readonly cornersExtra: number;
  readonly cornerWorstMm: number;
  readonly notchesFound: number;
  readonly notchesMissed: number;
  readonly notchesExtra: number;
  /** Null where none is drawn and none was found. */
  readonly grainDeg: number | null;
  readonly grain: 'right' | 'missed' | 'false' | 'none' | 'turned' | 'heads';
  readonly sdMm: number;
}

/** The traced piece laid on the true one by the best rigid motion, which origin and turn leave free, and compared. */
export function scorePiece(truth: PieceTruth, traced: TracedForScore): PieceScore {
  const motion = bestMotion(even(truth.outline, 3), even(traced.outline, 3), truth.outline);
  const moved = traced.outline.map(motion);
  const misses = [
    ...even(moved, 1.5).map((p) => distanceToLine(truth.outline, p)),
    ...even(truth.outline, 1.5).map((p) => distanceToLine(moved, p)),
  ];
  const corners = traced.corners.map(motion);
  const must = truth.corners.filter(({ turn_deg }) => Math.abs(turn_deg) >= 30);
  const paired = pairs(
    must.map(({ at }) => at),
    corners,
    6,
  );
  const may = truth.corners.map(({ at }) => at);
  const extra = corners.filter((p) => may.every((q) => Math.hypot(p[0] - q[0], p[1] - q[1]) > 6));
  const marks = pairs(
    truth.notches.map(({ at }) => at),
    traced.notches.map(motion),
    4,
  );
  const xs = truth.outline.map((p) => p[0]);
  const ys = truth.outline.map((p) => p[1]);
  return {
    meanMm: misses.reduce((a, b) => a + b, 0) / misses.length,
    worstMm: Math.max(...misses),
    extentMm: Math.hypot(Math.max(...xs) - Math.min(...xs), Math.max(...ys) - Math.min(...ys)),
    areaPercent: 100 * (areaOf(moved) / truth.area_mm2 - 1),
    cornersFound: paired.length,
    cornersMissed: must.length - paired.length,
    cornersExtra: extra.length,
    cornerWorstMm: Math.max(0, ...paired),
    notchesFound: marks.length,
    notchesMissed: truth.notches.length - marks.length,
    notchesExtra: traced.notches.length - marks.length,
    ...grainScore(truth, traced, motion),
    sdMm: traced.outlineSdMm,
  };
}

function grainScore(
  truth: PieceTruth,
  traced: TracedForScore,
  motion: (p: Place) => Place,
): Pick<PieceScore, 'grain' | 'grainDeg'> {
  if (truth.grain === null) return { grainDeg: null, grain: traced.grain.found ? 'false' : 'none' };
  if (!traced.grain.found) return { grainDeg: null, grain: 'missed' };
  const way = (foot: Place, head: Place): number => Math.atan2(head[1] - foot[1], head[0] - foot[0]);
  const off =
    way(motion(traced.grain.foot), motion(traced.grain.head)) - way(truth.grain.foot, truth.grain.head);
  const deg = (Math.atan2(Math.sin(off), Math.cos(off)) * 180) / Math.PI;
  if (Math.abs(deg) > 90) {
    const back = 180 - Math.abs(deg);
    return { grainDeg: back, grain: truth.grain.heads === 2 ? headsOf(truth, traced) : 'turned' };
  }
  return { grainDeg: Math.abs(deg), grain: headsOf(truth, traced) };
}

const headsOf = (truth: PieceTruth, traced: TracedForScore): 'right' | 'heads' =>
  truth.grain?.heads === traced.grain.heads ? 'right' : 'heads';

function pairs(a: readonly Place[], b: readonly Place[], within: number): number[] {
  const left = [...b];
  return a.flatMap((p) => {
    let best = -1;
    let least = within;
    left.forEach((q, k) => {
      const d = Math.hypot(p[0] - q[0], p[1] - q[1]);
      if (d < least) {
        least = d;
        best = k;
      }
    });
    if (best < 0) return [];
    left.splice(best, 1);
    return [least];
  });
}

export function areaOf(polygon: readonly Place[]): number {
  return Math.abs(
    polygon.reduce((sum, [x, y], k) => {
      const [nx, ny] = polygon[(k + 1) % polygon.length];
      return sum + x * ny - y * nx;
    }, 0) / 2,
  );
}

/** Points along a closed line so far apart, however finely it was drawn. */
export function even(polygon: readonly Place[], step: number): Place[] {
  const out: Place[] = [];
  let left = 0;
  polygon.forEach((a, k) => {
    const b = polygon[(k + 1) % polygon.length];
    const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
    for (; left < length; left += step) {
      const t = left / length;
      out.push([a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])]);
    }
    left -= length;
  });
  return out;
}

function nearestOnLine(polygon: readonly Place[], [x, y]: Place): Place {
  let best = Number.POSITIVE_INFINITY;
  let at: Place = polygon[0];
  for (let k = 0; k < polygon.length; k++) {
    const [ax, ay] = polygon[k];
    const [bx, by] = polygon[(k + 1) % polygon.length];
    const dx = bx - ax;
    const dy = by - ay;
    const t = Math.max(0, Math.min(1, ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy || 1)));
    const d = (x - ax - t * dx) ** 2 + (y - ay - t * dy) ** 2;
    if (d < best) {
      best = d;
      at = [ax + t * dx, ay + t * dy];
    }
  }
  return at;
}

const distanceToLine = (polygon: readonly Place[], p: Place): number => {
  const q = nearestOnLine(polygon, p);
  return Math.hypot(p[0] - q[0], p[1] - q[1]);
};

/** Rigid motion that lays b on a: the best of many turns about the middles, then by nearest places (Besl and McKay 1992, doi 10.1109/34.121791). */
function bestMotion(a: readonly Place[], b: readonly Place[], line: readonly Place[]): (p: Place) => Place {
  const middle = (list: readonly Place[]): Place => [
    list.reduce((s, p) => s + p[0], 0) / list.length,
    list.reduce((s, p) => s + p[1], 0) / list.length,
  ];
  const ma = middle(a);
  const mb = middle(b);
  const turned = (angle: number, to: Place): ((p: Place) => Place) => {
    const [c, s] = [Math.cos(angle), Math.sin(angle)];
    return ([x, y]) => [to[0] + c * (x - mb[0]) - s * (y - mb[1]), to[1] + s * (x - mb[0]) + c * (y - mb[1])];
  };
  const few = b.filter((_, k) => k % Math.ceil(b.length / 60) === 0);
  const cost = (angle: number): number => {
    const move = turned(angle, ma);
    return few.reduce((sum, p) => sum + distanceToLine(line, move(p)) ** 2, 0);
  };
  let angle = 0;
  let least = Number.POSITIVE_INFINITY;
  for (let k = 0; k < 72; k++) {
    const v = cost((k * Math.PI) / 36);
    if (v < least) {
      least = v;
      angle = (k * Math.PI) / 36;
    }
  }
  let to = ma;
  const many = b.filter((_, k) => k % Math.ceil(b.length / 300) === 0);
  for (let round = 0; round < 25; round++) {
    const move = turned(angle, to);
    const now = many.map(move);
    const near = now.map((p) => nearestOnLine(line, p));
    const mn = middle(now);
    const mq = middle(near);
    let re = 0;
    let im = 0;
    now.forEach((p, i) => {
      const [dx, dy, ex, ey] = [p[0] - mn[0], p[1] - mn[1], near[i][0] - mq[0], near[i][1] - mq[1]];
      re += dx * ex + dy * ey;
      im += dx * ey - dy * ex;
    });
    const by = Math.atan2(im, re);
    const [c, s] = [Math.cos(by), Math.sin(by)];
    angle += by;
    to = [
      mq[0] + c * (to[0] - mn[0]) - s * (to[1] - mn[1]),
      mq[1] + s * (to[0] - mn[0]) + c * (to[1] - mn[1]),
    ];
  }
  return turned(angle, to);
}

/** Which true piece each traced one is: by where their middles lie in the photo. */
export const pieceOf = (truth: PaperTruth, middlePx: Place, photoFromTable: (p: Place) => Place): number => {
  let best = -1;
  let least = Number.POSITIVE_INFINITY;
  truth.pieces.forEach((piece, k) => {
    const ring = even(piece.outline, 20).map(photoFromTable);
    const cx = ring.reduce((s, p) => s + p[0], 0) / ring.length;
    const cy = ring.reduce((s, p) => s + p[1], 0) / ring.length;
    const d = Math.hypot(cx - middlePx[0], cy - middlePx[1]);
    if (d < least) {
      least = d;
      best = k;
    }
  });
  return best;
};
