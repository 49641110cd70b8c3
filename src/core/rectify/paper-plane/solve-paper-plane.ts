import { inverse, Matrix } from 'ml-matrix';
import { leastSquares } from '../../math/levenberg-marquardt.js';
import type { Point } from '../../math/matrix3.js';
import { type CameraPlane, clothFromUndistorted, undistorted } from '../camera-plane.js';
import type { PlaneMark } from '../plane-request.js';
import { isLine, markResiduals, type PlaneData, type PlaneScatter } from '../plane-residuals.js';

/** One sheet, card, ruler or pair of points that lies in the plane. Picture px, and mm in its own frame. */
export interface MarkGroup {
  readonly marks: readonly PlaneMark[];
  readonly markSdPx: number;
  readonly levelSdPx: number;
  readonly sideMarks: readonly { readonly picture: Point; readonly alongMm: number }[];
  /** Of its lengths, as made: two rulers need not agree better than this. */
  readonly relativeSd: number;
}

export interface PaperPlaneRequest {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly focalPx: number;
  /** Standard deviation of the focal length's logarithm; 0 = known. */
  readonly focalLogSd: number;
  readonly pxPerMm: number;
  readonly groups: readonly MarkGroup[];
  /** Places along edges that are straight, or nearly, picture px: they show how the lens bends lines. */
  readonly straights: readonly StraightEdge[];
  /** How far from level people hold a camera, radians, standard deviation. */
  readonly tiltSd: number;
}

export interface StraightEdge {
  readonly points: readonly Point[];
  /** Made straight, as a sheet is; else it may be a flat curve. */
  readonly sure: boolean;
}

export interface PaperPlane {
  readonly camera: CameraPlane;
  readonly tiltSdDeg: number;
  /** Relative standard deviation of the scale at the reference. */
  readonly markRmsMm: number;
  /** Cameras one standard deviation away along each way in which the fit leaves the plane open. */
  readonly others: readonly CameraPlane[];
}

/** A phone's lens as it leaves the camera: 1 %. */
const LENS_SD = 0.01;
/** Slots: tilt over focal length either way, as in solvePlane; lens; logarithm of the focal length over what is known of it. */
const SLOTS = 4;
/** A traced edge's bend is known this well, px of its sag. */
const SAG_SD_PX = 0.25;
/** An edge that may be a flat curve pulls no harder than so many standard deviations. */
const MOST_PULL = 3;

/** The plane that references and straight edges show, by least squares: tilt, lens and, where it is not known, focal length. */
export function solvePaperPlane(request: PaperPlaneRequest): PaperPlane {
  const { widthPx, heightPx, focalPx, focalLogSd, pxPerMm, groups, straights, tiltSd } = request;
  const cameraOf = (p: readonly number[], factor = 1): CameraPlane => {
    const zoom = focalLogSd > 0 ? Math.exp(p[3] * focalLogSd) : 1;
    return {
      widthPx,
      heightPx,
      focalPx: focalPx * zoom,
      tiltX: p[0] * zoom,
      tiltY: p[1] * zoom,
      spin: Math.PI / 2,
      distanceMm: ((focalPx * zoom) / pxPerMm) * factor,
      k1: p[2],
    };
  };
  const data = groups.map((group) => dataOf(group, request));
  const scatter = groups.map(({ markSdPx, levelSdPx }): PlaneScatter => {
    const mm = (px: number): number => Math.max(0.05, px) / pxPerMm;
    return { side: 0.1 / pxPerMm, edge: 1, repeat: 1, mark: mm(markSdPx), level: mm(levelSdPx) };
  });
  const sizes = data.map(({ marks, sideMarks }) => {
    const sides = sideMarks.x.length;
    return 2 * marks.x.length + (isLine(marks) ? 1 : 0) + (sides > 0 ? 1 : 0) + sides;
  });
  const marksEnd = sizes.reduce((sum, size) => sum + size, 0);
  const count = marksEnd + groups.length + straights.length + SLOTS;
  const sags = straights.map(({ points }) => thinned(points, 40));
  let factor = 1;
  const evaluate = (p: readonly number[], out: Float64Array): void => {
    const camera = cameraOf(p);
    const H = clothFromUndistorted(camera);
    let first = 0;
    const factors = data.map((own, g) => {
      const f = markResiduals(own, camera, H, scatter[g], out, first);
      first += sizes[g];
      return f;
    });
    factor = meanFactor(factors, groups);
    let o = marksEnd;
    groups.forEach(({ relativeSd }, g) => {
      out[o++] = groups.length > 1 ? Math.log(factors[g] / factor) / relativeSd : 0;
    });
    straights.forEach(({ sure }, k) => {
      const r = sagPx(sags[k], camera) / SAG_SD_PX;
      out[o++] = sure ? r : r / Math.sqrt(1 + (r / MOST_PULL) ** 2);
    });
    out[o++] = camera.tiltX / tiltSd;
    out[o++] = camera.tiltY / tiltSd;
    out[o++] = camera.k1 / LENS_SD;
    out[o++] = p[3];
  };
  // A known focal length stays where it is: its own prior is then all that speaks of the last slot.
  const fit = leastSquares([0, 0, 0, 0], count, evaluate, { steps: [1e-6, 1e-6, 1e-6, 1e-4], rounds: 60 });
  const out = new Float64Array(count);
  evaluate(fit.parameters, out);
  const found = factor;
  const ways = openWays(fit.normal);
  return {
    camera: cameraOf(fit.parameters, found),
    tiltSdDeg: (Math.hypot(...ways.map(([x, y]) => Math.hypot(x, y))) * 180) / Math.PI / Math.SQRT2,
    markRmsMm: Math.max(...data.map((own, g) => markRms(own, out, sizes, g, scatter[g].mark))),
    others: ways.map((way) => {
      const moved = fit.parameters.map((v, k) => v + way[k]);
      evaluate(moved, out);
      return cameraOf(moved, factor);
    }),
  };
}

function meanFactor(factors: readonly number[], groups: readonly MarkGroup[]): number {
  let sum = 0;
  let weights = 0;
  groups.forEach(({ relativeSd }, g) => {
    const weight = 1 / relativeSd ** 2;
    sum += weight * Math.log(factors[g]);
    weights += weight;
  });
  return Math.exp(sum / weights);
}

function markRms(
  own: PlaneData,
  out: Float64Array,
  sizes: readonly number[],
  g: number,
  sdMm: number,
): number {
  const first = sizes.slice(0, g).reduce((sum, size) => sum + size, 0);
  const n = own.marks.x.length;
  const step = isLine(own.marks) ? 2 : 1;
  let sum = 0;
  for (let k = 0; k < 2 * n; k += step) sum += out[first + k] ** 2;
  return sdMm * Math.sqrt((step * sum) / (2 * n));
}

function dataOf({ marks, sideMarks }: MarkGroup, request: PaperPlaneRequest): PlaneData {
  const few = handed(thinned(marks, 120));
  return {
    x: new Float64Array(0),
    y: new Float64Array(0),
    edge: new Int32Array(0),
    edges: 0,
    places: null,
    marks: {
      x: Float64Array.from(few, (m) => m.picture[0]),
      y: Float64Array.from(few, (m) => m.picture[1]),
      planeX: Float64Array.from(few, (m) => m.planeMm[0]),
      planeY: Float64Array.from(few, (m) => m.planeMm[1]),
    },
    sideMarks: {
      x: Float64Array.from(sideMarks, (m) => m.picture[0]),
      y: Float64Array.from(sideMarks, (m) => m.picture[1]),
      alongMm: Float64Array.from(sideMarks, (m) => m.alongMm),
    },
    pxPerMm: request.pxPerMm,
  };
}

/** The plane's y runs up, the picture's down: marks told the other way round are turned over. */
function handed(marks: readonly PlaneMark[]): readonly PlaneMark[] {
  const area = (points: readonly Point[]): number =>
    points.reduce((sum, [x, y], k) => {
      const [nx, ny] = points[(k + 1) % points.length];
      return sum + x * ny - y * nx;
    }, 0);
  if (area(marks.map((m) => m.picture)) * area(marks.map((m) => m.planeMm)) <= 0) return marks;
  return marks.map(({ picture, planeMm }) => ({ picture, planeMm: [planeMm[0], -planeMm[1]] }));
}

function thinned<T>(list: readonly T[], most: number): readonly T[] {
  const step = Math.max(1, Math.ceil(list.length / most));
  return list.filter((_, i) => i % step === 0 || i === list.length - 1);
}

/** How far the middle of an edge lies off the chord of its ends, px, once the lens is undone: least squares of a parabola. */
function sagPx(points: readonly Point[], { widthPx, heightPx, k1 }: CameraPlane): number {
  const flat = points.map(([x, y]) => undistorted(x, y, widthPx, heightPx, k1));
  const a = flat[0];
  const b = flat[flat.length - 1];
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  const [cx, cy] = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
  const rows = flat.map(([x, y]) => {
    const t = (2 * ((x - a[0]) * cx + (y - a[1]) * cy)) / length - 1;
    return [t, -(x - a[0]) * cy + (y - a[1]) * cx];
  });
  // Offsets on 1, t and t squared, by their moments; t runs from -1 to 1.
  const m = [0, 1, 2, 3, 4].map((k) => rows.reduce((sum, [t]) => sum + t ** k, 0));
  const r = [0, 1, 2].map((k) => rows.reduce((sum, [t, o]) => sum + o * t ** k, 0));
  const det3 = (p: number[], q: number[], s: number[]): number =>
    p[0] * (q[1] * s[2] - q[2] * s[1]) -
    p[1] * (q[0] * s[2] - q[2] * s[0]) +
    p[2] * (q[0] * s[1] - q[1] * s[0]);
  const whole = det3([m[0], m[1], m[2]], [m[1], m[2], m[3]], [m[2], m[3], m[4]]);
  return det3([m[0], m[1], r[0]], [m[1], m[2], r[1]], [m[2], m[3], r[2]]) / whole;
}

/** Columns of a root of the parameters' covariance: what is not known, one way after another. */
function openWays(normal: Matrix): number[][] {
  const n = normal.rows;
  const unit = Array.from({ length: n }, (_, k) => Math.sqrt(Math.max(1e-300, normal.get(k, k))));
  const scaled = Matrix.zeros(n, n);
  for (let j = 0; j < n; j++)
    for (let k = 0; k < n; k++)
      scaled.set(j, k, normal.get(j, k) / (unit[j] * unit[k]) + (j === k ? 1e-12 : 0));
  const covariance = inverse(scaled);
  // Cholesky: column k of the lower factor.
  const lower = Matrix.zeros(n, n);
  for (let j = 0; j < n; j++) {
    for (let k = 0; k <= j; k++) {
      let v = covariance.get(j, k);
      for (let i = 0; i < k; i++) v -= lower.get(j, i) * lower.get(k, i);
      lower.set(j, k, j === k ? Math.sqrt(Math.max(0, v)) : lower.get(k, k) > 0 ? v / lower.get(k, k) : 0);
    }
  }
  return Array.from({ length: n }, (_, k) => Array.from({ length: n }, (__, j) => lower.get(j, k) / unit[j]));
}
