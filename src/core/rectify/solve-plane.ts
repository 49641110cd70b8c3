import { inverse, type Matrix } from 'ml-matrix';
import { leastSquares } from '../math/levenberg-marquardt.js';
import type { Point } from '../math/matrix3.js';
import { robustSd } from '../math/robust.js';
import { type CameraPlane, clothFromUndistorted, undistorted, undistortionScale } from './camera-plane.js';
import type { EdgePoints } from './trace-edges.js';

/** Which band an edge begins, and in which repeat. */
export interface EdgePlace {
  readonly band: number;
  readonly repeat: number;
}

/** A point of the reference: picture px, and mm in the reference's own plane. */
export interface PlaneMark {
  readonly picture: Point;
  readonly planeMm: Point;
}

export interface PlaneRequest {
  readonly widthPx: number;
  readonly heightPx: number;
  /** Focal length in px and how far it may be off (standard deviation of its logarithm; 0 = known). */
  readonly focalPx: number;
  readonly focalLogSd: number;
  /** Rough direction of the stripes (radians, as in StripeFrame) and scale. */
  readonly angle: number;
  readonly pxPerMm: number;
  readonly edges: EdgePoints;
  /** Band (edge class) and repeat number of each edge, or null when no repeat is in view. */
  readonly places: readonly (EdgePlace | null)[] | null;
  /** Reference points, picture px and mm in the reference's own plane. */
  readonly marks: readonly PlaneMark[];
  readonly markSdPx: number;
  /** Points off the marks' line of which only the place along it is known. */
  readonly sideMarks: readonly { readonly picture: Point; readonly alongMm: number }[];
  /** True for a scan: no tilt, no lens. */
  readonly flat: boolean;
}

export interface PlaneSolution {
  readonly camera: CameraPlane;
  /** Stripes lie along u = U + bowPerMm * v^2. */
  readonly bowPerMm: number;
  /** Standard deviations, degrees. */
  readonly tiltSdDeg: number;
  /** Relative standard deviation of the scale at the centre that the fit itself leaves. */
  readonly scaleSd: number;
  /** Scatter of edge points about their straight edges, mm. */
  readonly edgeSdMm: number;
  /** Scatter of edges about an even repeat, mm; null without one. */
  readonly repeatSdMm: number | null;
  /** Root mean square of the reference's marks about their places, mm. */
  readonly markRmsMm: number;
}

/**
 * One least-squares problem for the plane of the cloth: points of one edge share one u (bow aside), edges of one band lie
 * a whole number of repeats apart, and the reference's marks keep their distances. Lens curvature changes sign across the
 * picture's centre and bow does not, which tells them apart. Nuisance values (each edge's u, the repeat and the
 * offsets of its bands) are solved for inside (variable projection). Scatter is estimated from the residuals and the fit
 * repeated with it, so that unevenness of the cloth weighs as what it is.
 */
export function solvePlane(request: PlaneRequest): PlaneSolution {
  const { widthPx, heightPx, marks, flat } = request;
  const points = collectPoints(request);
  const freeFocal = request.focalLogSd > 0 && !flat;
  const hasMarks = marks.length >= 2;
  const used = withHandedness(request, thinned(marks, 120));
  const start = startParameters(request, used);
  const free = freeParameters(flat, hasMarks, freeFocal);
  const cameraOf = (p: readonly number[]): CameraPlane => ({
    widthPx,
    heightPx,
    focalPx: request.focalPx * Math.exp(p[9]),
    tiltX: p[0],
    tiltY: p[1],
    spin: p[2],
    distanceMm: Math.exp(p[3]),
    k1: p[4],
  });
  const diagonalMm = Math.hypot(widthPx, heightPx) / request.pxPerMm;
  let sd = {
    side: 0.1 / request.pxPerMm,
    edge: 2 / request.pxPerMm,
    repeat: 4 / request.pxPerMm,
    mark: Math.max(0.05, request.markSdPx) / request.pxPerMm,
  };
  let parameters = [...start];
  let solution: PlaneSolution | null = null;
  const pointCount = points.x.length;
  const edgeCount = request.places ? request.edges.edges : 0;
  const sides = hasMarks ? request.sideMarks : [];
  const count = pointCount + edgeCount + (hasMarks ? 2 * used.length : 0) + sides.length + 5;
  for (let pass = 0; pass < 4; pass++) {
    const full = (p: readonly number[]): number[] => {
      const all = [...parameters];
      free.forEach((slot, j) => {
        all[slot] = p[j];
      });
      return all;
    };
    const evaluate = (p: readonly number[], out: Float64Array): void => {
      const all = full(p);
      const camera = cameraOf(all);
      fillResiduals(request, points, camera, all, used, sd, diagonalMm, out);
    };
    const fit = leastSquares(
      free.map((slot) => parameters[slot]),
      count,
      evaluate,
      {
        steps: free.map((slot) => (slot === 5 ? 1e-5 / diagonalMm : slot === 6 || slot === 7 ? 1e-3 : 1e-6)),
      },
    );
    parameters = full(fit.parameters);
    const out = new Float64Array(count);
    evaluate(fit.parameters, out);
    const within = out.subarray(0, pointCount);
    const between = out.subarray(pointCount, pointCount + edgeCount);
    const onMarks = out.subarray(
      pointCount + edgeCount,
      pointCount + edgeCount + (hasMarks ? 2 * used.length : 0),
    );
    const onSides = out.subarray(count - 5 - sides.length, count - 5);
    const edgeSdMm = pointCount > 8 ? sd.edge * robustSd(unsquashed(within)) : sd.edge;
    const repeatSdMm = edgeCount > 4 ? sd.repeat * Math.max(robustSd(between), 0.5 * rms(between)) : null;
    const markRmsMm = sd.mark * rms(onMarks);
    const covariance = covarianceOf(fit.normal);
    const tiltVar = covariance ? Math.max(covariance[0], covariance[1]) : 1;
    solution = {
      camera: cameraOf(parameters),
      bowPerMm: parameters[5],
      tiltSdDeg: flat ? 0 : (Math.sqrt(tiltVar) * 180) / Math.PI,
      scaleSd: covariance ? Math.sqrt(covariance[free.indexOf(3)] ?? 0) : 1,
      edgeSdMm,
      repeatSdMm,
      markRmsMm,
    };
    sd = {
      side: Math.max(
        0.03 / request.pxPerMm,
        sides.length > 8 ? sd.side * robustSd(unsquashed(onSides)) : sd.side,
      ),
      edge: Math.max(0.05 / request.pxPerMm, edgeSdMm),
      repeat: Math.max(0.03 / request.pxPerMm, repeatSdMm ?? sd.repeat),
      mark: Math.max(
        0.03 / request.pxPerMm,
        Math.min(4 * sd.mark, hasMarks && used.length > 4 ? markRmsMm : sd.mark),
      ),
    };
  }
  return solution as PlaneSolution;
}

interface Points {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly edge: Int32Array;
}

/** All seen edge points; a very fine cloth has far more than the fit needs, so windows are thinned evenly. */
function collectPoints({ edges }: PlaneRequest): Points {
  const total = edges.edges * edges.windows;
  const step = Math.max(1, Math.round(total / 4000));
  const x: number[] = [];
  const y: number[] = [];
  const edge: number[] = [];
  for (let e = 0; e < edges.edges; e++) {
    for (let w = (e * 7) % step; w < edges.windows; w += step) {
      const i = e * edges.windows + w;
      if (Number.isNaN(edges.x[i])) continue;
      x.push(edges.x[i]);
      y.push(edges.y[i]);
      edge.push(e);
    }
  }
  return { x: Float64Array.from(x), y: Float64Array.from(y), edge: Int32Array.from(edge) };
}

function thinned<T>(list: readonly T[], most: number): T[] {
  const step = Math.max(1, Math.ceil(list.length / most));
  return list.filter((_, i) => i % step === 0 || i === list.length - 1);
}

function startParameters(request: PlaneRequest, marks: readonly PlaneMark[]): number[] {
  const distance = request.focalPx / request.pxPerMm;
  const start = [0, 0, request.angle, Math.log(distance), 0, 0, 0, 0, 0, 0];
  if (marks.length < 2) return start;
  const { widthPx, heightPx, pxPerMm, angle } = request;
  const place = ({ picture }: PlaneMark): Point => roughCloth(picture, widthPx, heightPx, angle, pxPerMm);
  const a = place(marks[0]);
  const b = place(marks[marks.length - 1]);
  const p = marks[0].planeMm;
  const q = marks[marks.length - 1].planeMm;
  start[8] = Math.atan2(b[1] - a[1], b[0] - a[0]) - Math.atan2(q[1] - p[1], q[0] - p[0]);
  const c = Math.cos(start[8]);
  const s = Math.sin(start[8]);
  start[6] = a[0] - (c * p[0] - s * p[1]);
  start[7] = a[1] - (s * p[0] + c * p[1]);
  return start;
}

function freeParameters(flat: boolean, hasMarks: boolean, freeFocal: boolean): number[] {
  if (flat) return [2, 5];
  const free = [0, 1, 2, 3, 4, 5];
  if (!hasMarks) free.splice(3, 1);
  if (hasMarks) free.push(6, 7, 8);
  if (freeFocal) free.push(9);
  return free;
}

/**
 * The marks with their plane turned over where needed: a sheet's axes may be listed clockwise as seen, the cloth frame (v up) is
 * the other way round. Marks on one line have no side.
 */
function withHandedness(
  { widthPx, heightPx, angle, pxPerMm }: PlaneRequest,
  marks: readonly PlaneMark[],
): readonly PlaneMark[] {
  const area = (points: readonly Point[]): number => {
    let sum = 0;
    for (let i = 0; i < points.length; i++) {
      const [x0, y0] = points[i];
      const [x1, y1] = points[(i + 1) % points.length];
      sum += x0 * y1 - x1 * y0;
    }
    return sum;
  };
  const inCloth = marks.map((m) => roughCloth(m.picture, widthPx, heightPx, angle, pxPerMm));
  if (area(inCloth) * area(marks.map((m) => m.planeMm)) >= 0) return marks;
  return marks.map(({ picture, planeMm }) => ({ picture, planeMm: [planeMm[0], -planeMm[1]] }));
}

/** Cloth mm of a picture point as if there were no tilt: where the search starts. */
function roughCloth([x, y]: Point, widthPx: number, heightPx: number, angle: number, pxPerMm: number): Point {
  const dx = (x - widthPx / 2) / pxPerMm;
  const dy = (y - heightPx / 2) / pxPerMm;
  return [dx * Math.sin(angle) + dy * Math.cos(angle), dx * Math.cos(angle) - dy * Math.sin(angle)];
}

/** Pseudo-Huber: far points pull with bounded force (slope 1 near 0, growth like the root far out). */
const squash = (r: number): number => Math.sign(r) * Math.sqrt(2 * 4 * (Math.sqrt(1 + (r * r) / 4) - 1));
const unsquash = (s: number): number => Math.sign(s) * 2 * Math.sqrt(((s * s) / 8 + 1) ** 2 - 1);
const unsquashed = (values: Float64Array): Float64Array => values.map(unsquash);

function fillResiduals(
  request: PlaneRequest,
  points: Points,
  camera: CameraPlane,
  all: readonly number[],
  marks: readonly PlaneMark[],
  sd: { readonly side: number; readonly edge: number; readonly repeat: number; readonly mark: number },
  diagonalMm: number,
  out: Float64Array,
): void {
  const H = clothFromUndistorted(camera);
  const { widthPx, heightPx, k1 } = camera;
  const bow = all[5];
  const n = points.x.length;
  const edges = request.edges.edges;
  const sums = new Float64Array(edges);
  const counts = new Float64Array(edges);
  let o = 0;
  const cx = widthPx / 2;
  const cy = heightPx / 2;
  const unit = k1 / (cx * cx + cy * cy);
  for (let i = 0; i < n; i++) {
    const dx = points.x[i] - cx;
    const dy = points.y[i] - cy;
    const scale = undistortionScale(unit * (dx * dx + dy * dy));
    const x = cx + dx * scale;
    const y = cy + dy * scale;
    const w = H[6] * x + H[7] * y + H[8];
    const v = (H[3] * x + H[4] * y + H[5]) / w;
    const u = (H[0] * x + H[1] * y + H[2]) / w - bow * v * v;
    out[o++] = u;
    sums[points.edge[i]] += u;
    counts[points.edge[i]]++;
  }
  const means = sums.map((s, e) => s / counts[e]);
  // A mean is drawn off by bad windows: one reweighting about the median-like centre keeps it honest.
  const pulls = new Float64Array(edges);
  const weights = new Float64Array(edges);
  for (let i = 0; i < n; i++) {
    const e = points.edge[i];
    const r = (out[i] - means[e]) / (2.5 * sd.edge);
    const weight = 1 / (1 + r * r);
    pulls[e] += weight * out[i];
    weights[e] += weight;
  }
  for (let e = 0; e < edges; e++) means[e] = pulls[e] / weights[e];
  for (let i = 0; i < n; i++) out[i] = squash((out[i] - means[points.edge[i]]) / sd.edge);
  if (request.places) {
    const misses = repeatMisses(means, counts, request.places);
    for (let e = 0; e < edges; e++) out[o++] = squash(misses[e] / sd.repeat);
  }
  if (marks.length >= 2) {
    const c = Math.cos(all[8]);
    const s = Math.sin(all[8]);
    for (const { picture, planeMm } of marks) {
      const [x, y] = undistorted(picture[0], picture[1], widthPx, heightPx, k1);
      const w = H[6] * x + H[7] * y + H[8];
      const t = planeMm[1];
      out[o++] = ((H[0] * x + H[1] * y + H[2]) / w - all[6] - c * planeMm[0] + s * t) / sd.mark;
      out[o++] = ((H[3] * x + H[4] * y + H[5]) / w - all[7] - s * planeMm[0] - c * t) / sd.mark;
    }
    for (const { picture, alongMm } of request.sideMarks) {
      const [x, y] = undistorted(picture[0], picture[1], widthPx, heightPx, k1);
      const w = H[6] * x + H[7] * y + H[8];
      const du = (H[0] * x + H[1] * y + H[2]) / w - all[6];
      const dv = (H[3] * x + H[4] * y + H[5]) / w - all[7];
      out[o++] = squash((du * c + dv * s - alongMm) / sd.side);
    }
  }
  // Priors: a hand-held photo from above (10 degrees), a phone's lens (1.5 %), cloth laid straight (1.5 % bow).
  out[o++] = all[0] / 0.18;
  out[o++] = all[1] / 0.18;
  out[o++] = all[4] / 0.015;
  out[o++] = (all[5] * diagonalMm) / (0.015 * 4);
  out[o++] = request.focalLogSd > 0 ? all[9] / request.focalLogSd : 0;
}

/** How far each edge's mean lies from an even repeat: U = offset(band) + repeat * P, fitted with bad edges held down. */
export function repeatMisses(
  means: ArrayLike<number>,
  counts: ArrayLike<number>,
  places: readonly (EdgePlace | null)[],
): Float64Array {
  const n = places.length;
  const bands = Math.max(0, ...places.map((p) => (p ? p.band : 0))) + 1;
  const seen = (e: number) => places[e] !== null && counts[e] > 0 && Number.isFinite(means[e]);
  const kSum = new Float64Array(bands);
  const uSum = new Float64Array(bands);
  const wSum = new Float64Array(bands);
  for (let e = 0; e < n; e++) {
    if (!seen(e)) continue;
    const { band, repeat } = places[e] as EdgePlace;
    kSum[band] += repeat;
    uSum[band] += means[e];
    wSum[band]++;
  }
  let top = 0;
  let low = 0;
  for (let e = 0; e < n; e++) {
    if (!seen(e)) continue;
    const { band, repeat } = places[e] as EdgePlace;
    const dk = repeat - kSum[band] / wSum[band];
    top += dk * (means[e] - uSum[band] / wSum[band]);
    low += dk * dk;
  }
  const misses = new Float64Array(n);
  if (low === 0) return misses;
  const period = top / low;
  for (let e = 0; e < n; e++) {
    if (!seen(e)) continue;
    const { band, repeat } = places[e] as EdgePlace;
    misses[e] = means[e] - uSum[band] / wSum[band] - period * (repeat - kSum[band] / wSum[band]);
  }
  return misses;
}

const rms = (values: Float64Array): number => {
  let sum = 0;
  for (const v of values) sum += v * v;
  return values.length > 0 ? Math.sqrt(sum / values.length) : 0;
};

function covarianceOf(normal: Matrix): number[] | null {
  try {
    const m = normal.rows;
    // Scale to unit diagonal first: the parameters' units differ by many powers of ten.
    const d = Array.from({ length: m }, (_, i) => Math.sqrt(Math.max(1e-300, normal.get(i, i))));
    const scaled = normal.clone();
    for (let i = 0; i < m; i++)
      for (let j = 0; j < m; j++) scaled.set(i, j, normal.get(i, j) / (d[i] * d[j]));
    const inv = inverse(scaled);
    return d.map((di, i) => inv.get(i, i) / (di * di));
  } catch {
    return null;
  }
}
