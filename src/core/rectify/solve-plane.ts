import { inverse, Matrix } from 'ml-matrix';
import { leastSquares } from '../math/levenberg-marquardt.js';
import type { Point } from '../math/matrix3.js';
import { robustSd } from '../math/robust.js';
import type { CameraPlane } from './camera-plane.js';
import type { PlaneMark, PlaneRequest } from './plane-request.js';
import {
  fillPlaneResiduals,
  isLine,
  type MarkLists,
  type PlaneData,
  type PlaneScale,
  type PlaneScatter,
  residualRanges,
  unsquashed,
} from './plane-residuals.js';

export interface PlaneSolution {
  readonly camera: CameraPlane;
  /** Stripes lie along u = U + bowPerMm * v^2. */
  readonly bowPerMm: number;
  /** Standard deviations, degrees. */
  readonly tiltSdDeg: number;
  /** Relative standard deviation of the scale at the picture's centre that the fit leaves. */
  readonly scaleSd: number;
  /** Relative standard deviation of the length of the repeat that plane and scale leave; null without one. */
  readonly repeatScaleSd: number | null;
  /** What of repeatScaleSd (of scaleSd without a repeat) a known focal length would take away, as the square root of a difference of squares. */
  readonly focalSd: number;
  /** Scatter of edge points about their straight edges, mm. */
  readonly edgeSdMm: number;
  /** Scatter of edges about an even repeat, mm; null without one. */
  readonly repeatSdMm: number | null;
  /** Root mean square of the reference's marks about their places, mm. */
  readonly markRmsMm: number;
}

/**
 * Places in the list of what is searched for. What a photo shows first is the fan of its lines, tilt / focal length: held as such it
 * stays put when the focal length, of which a photo shows little, is changed.
 */
const FAN_X = 0;
const FAN_Y = 1;
const SPIN = 2;
const LENS = 3;
const BOW = 4;
const LOG_FOCAL = 5;
const PARAMETERS = 6;

/** A hand-held photo from above (10 degrees), a phone's lens (1.5 %), cloth laid straight (1.5 % bow). */
const TILT_SD = 0.18;
const LENS_SD = 0.015;
const BOW_SD = 0.015 * 4;
const PRIORS = 5;

/**
 * One least-squares problem for the plane of the cloth: points of one edge share one u (bow aside), edges of one band lie
 * a whole number of repeats apart, and the reference's marks keep their distances. Lens curvature changes sign across the
 * picture's centre and bow does not, which tells them apart. Scatter is estimated from the residuals and the fit repeated
 * with it, so that unevenness of the cloth weighs as what it is.
 */
export function solvePlane(request: PlaneRequest): PlaneSolution {
  const { widthPx, heightPx, pxPerMm, flat } = request;
  const data = dataOf(request);
  const { between, onMarks, onSag, onSides, priors } = residualRanges(data);
  const count = priors + PRIORS;
  const diagonalMm = Math.hypot(widthPx, heightPx) / pxPerMm;
  const freeFocal = request.focalLogSd > 0 && !flat;
  let free = flat ? [SPIN, BOW] : [FAN_X, FAN_Y, SPIN, LENS, BOW];
  let parameters = new Array<number>(PARAMETERS).fill(0);
  parameters[SPIN] = request.angle;
  const full = (p: readonly number[]): number[] => {
    const all = [...parameters];
    for (let j = 0; j < free.length; j++) all[free[j]] = p[j];
    return all;
  };
  const cameraOf = (p: readonly number[], factor = 1): CameraPlane => {
    const zoom = Math.exp(p[LOG_FOCAL]);
    return {
      widthPx,
      heightPx,
      focalPx: request.focalPx * zoom,
      tiltX: p[FAN_X] * zoom,
      tiltY: p[FAN_Y] * zoom,
      spin: p[SPIN],
      distanceMm: ((request.focalPx * zoom) / pxPerMm) * factor,
      k1: p[LENS],
    };
  };
  let sd: PlaneScatter = {
    side: 0.1 / pxPerMm,
    edge: 2 / pxPerMm,
    repeat: 4 / pxPerMm,
    mark: Math.max(0.05, request.markSdPx) / pxPerMm,
    level: Math.max(0.05, request.levelSdPx) / pxPerMm,
  };
  const onLine = isLine(data.marks);
  const evaluate = (p: readonly number[], out: Float64Array): PlaneScale => {
    const all = full(p);
    const camera = cameraOf(all);
    const scale = fillPlaneResiduals(data, camera, all[BOW], sd, out);
    out[priors] = camera.tiltX / TILT_SD;
    out[priors + 1] = camera.tiltY / TILT_SD;
    out[priors + 2] = camera.k1 / LENS_SD;
    out[priors + 3] = (all[BOW] * diagonalMm) / BOW_SD;
    out[priors + 4] = request.focalLogSd > 0 ? all[LOG_FOCAL] / request.focalLogSd : 0;
    return scale;
  };
  const out = new Float64Array(count);
  let solution: PlaneSolution | null = null;
  for (let pass = 0; pass < 4; pass++) {
    // While the scatter is still a guess, whatever it leaves unexplained would be laid on the focal length.
    if (pass === 1 && freeFocal) free = [...free, LOG_FOCAL];
    const fit = leastSquares(
      free.map((slot) => parameters[slot]),
      count,
      evaluate,
      { steps: free.map((slot) => (slot === BOW ? 1e-5 / diagonalMm : 1e-6)) },
    );
    const scale = evaluate(fit.parameters, out);
    parameters = full(fit.parameters);
    const within = unsquashed(out.subarray(0, between));
    const even = out.subarray(between, onMarks);
    const marks = out.subarray(onMarks, onSag).filter((_, i) => !onLine || i % 2 === 0);
    const sides = unsquashed(out.subarray(onSides, priors));
    const edgeSd = between > 8 ? sd.edge * robustSd(within) : sd.edge;
    const repeatSd = even.length > 4 ? sd.repeat * Math.max(robustSd(even), 0.5 * rms(even)) : null;
    const markRmsMm = sd.mark * rms(marks);
    solution = {
      camera: cameraOf(parameters, scale.factor),
      bowPerMm: parameters[BOW],
      ...uncertainty(fit.normal, (p) => evaluate(p, out), fit.parameters, free, data.marks, sd.mark),
      edgeSdMm: edgeSd * scale.stretch,
      repeatSdMm: repeatSd === null ? null : repeatSd * scale.stretch,
      markRmsMm,
    };
    sd = {
      side: Math.max(0.03 / pxPerMm, sides.length > 8 ? sd.side * robustSd(sides) : sd.side),
      edge: Math.max(0.05 / pxPerMm, edgeSd),
      repeat: Math.max(0.03 / pxPerMm, repeatSd ?? sd.repeat),
      mark: Math.max(0.03 / pxPerMm, Math.min(4 * sd.mark, marks.length > 8 ? markRmsMm : sd.mark)),
      level: sd.level,
    };
  }
  return solution as PlaneSolution;
}

/** What the fit leaves open: by its own covariance, and by how the scale and the repeat move with each parameter. */
function uncertainty(
  normal: Matrix,
  scaleAt: (p: readonly number[]) => PlaneScale,
  found: readonly number[],
  free: readonly number[],
  marks: MarkLists,
  markSdMm: number,
): Pick<PlaneSolution, 'tiltSdDeg' | 'scaleSd' | 'repeatScaleSd' | 'focalSd'> {
  const covariance = inverseOf(normal);
  if (covariance === null) return { tiltSdDeg: 90, scaleSd: 1, repeatScaleSd: 1, focalSd: 1 };
  const here = scaleAt(found);
  const slopes = found.map((value, j) => {
    const step = 0.01 * Math.sqrt(Math.max(1e-300, covariance.get(j, j)));
    const moved = scaleAt(found.map((v, k) => (k === j ? value + step : v)));
    return {
      scale: Math.log(moved.factor / here.factor) / step,
      repeat: Math.log((moved.periodMm ?? 1) / (here.periodMm ?? 1)) / step,
    };
  });
  const spread = (slope: readonly number[]): number => {
    const row = Matrix.rowVector(slope as number[]);
    return Math.max(0, row.mmul(covariance).mmul(row.transpose()).get(0, 0));
  };
  const ofMarks = markSdMm ** 2 / spreadOf(marks);
  const at = (slot: number) => free.indexOf(slot);
  const fan = Math.hypot(found[at(FAN_X)] ?? 0, found[at(FAN_Y)] ?? 0);
  const zoom = Math.exp(found[at(LOG_FOCAL)] ?? 0);
  const varianceOf = (slot: number) => (at(slot) < 0 ? 0 : covariance.get(at(slot), at(slot)));
  const covarianceOf = (j: number, k: number) => (k < 0 ? 0 : covariance.get(j, k));
  const fanVariance = Math.max(varianceOf(FAN_X), varianceOf(FAN_Y));
  const tilt = zoom * Math.sqrt(fanVariance + fan * fan * varianceOf(LOG_FOCAL));
  const length = slopes.map((s) => (here.periodMm === null ? s.scale : s.repeat));
  const withFocal = length.reduce((sum, slope, j) => sum + slope * covarianceOf(j, at(LOG_FOCAL)), 0);
  return {
    focalSd: at(LOG_FOCAL) < 0 ? 0 : Math.abs(withFocal) / Math.sqrt(varianceOf(LOG_FOCAL)),
    tiltSdDeg: (tilt * 180) / Math.PI,
    scaleSd: Math.sqrt(spread(slopes.map((s) => s.scale)) + ofMarks),
    repeatScaleSd: here.periodMm === null ? null : Math.sqrt(spread(slopes.map((s) => s.repeat)) + ofMarks),
  };
}

/** Sum of the squared distances of the marks from their middle, mm^2; infinite for a scale that needs none. */
function spreadOf({ planeX, planeY }: MarkLists): number {
  const n = planeX.length;
  if (n < 2) return Infinity;
  const squares = (values: Float64Array): number => {
    const middle = values.reduce((s, v) => s + v, 0) / n;
    return values.reduce((s, v) => s + (v - middle) ** 2, 0);
  };
  return squares(planeX) + squares(planeY);
}

/** All seen edge points; a very fine cloth has far more than the fit needs, so windows are thinned evenly. */
function dataOf(request: PlaneRequest): PlaneData {
  const { edges, places, sideMarks } = request;
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
  const marks = withHandedness(request, thinned(request.marks, 120));
  return {
    x: Float64Array.from(x),
    y: Float64Array.from(y),
    edge: Int32Array.from(edge),
    edges: edges.edges,
    places,
    marks: {
      x: Float64Array.from(marks, (m) => m.picture[0]),
      y: Float64Array.from(marks, (m) => m.picture[1]),
      planeX: Float64Array.from(marks, (m) => m.planeMm[0]),
      planeY: Float64Array.from(marks, (m) => m.planeMm[1]),
    },
    pxPerMm: request.pxPerMm,
    sideMarks: {
      x: Float64Array.from(sideMarks, (m) => m.picture[0]),
      y: Float64Array.from(sideMarks, (m) => m.picture[1]),
      alongMm: Float64Array.from(sideMarks, (m) => m.alongMm),
    },
  };
}

function thinned<T>(list: readonly T[], most: number): T[] {
  const step = Math.max(1, Math.ceil(list.length / most));
  return list.filter((_, i) => i % step === 0 || i === list.length - 1);
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

const rms = (values: Float64Array): number => {
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += values[i] * values[i];
  return values.length > 0 ? Math.sqrt(sum / values.length) : 0;
};

function inverseOf(normal: Matrix): Matrix | null {
  try {
    const m = normal.rows;
    // Scale to unit diagonal first: the parameters' units differ by many powers of ten.
    const d = Array.from({ length: m }, (_, i) => Math.sqrt(Math.max(1e-300, normal.get(i, i))));
    const scaled = normal.clone();
    for (let i = 0; i < m; i++)
      for (let j = 0; j < m; j++) scaled.set(i, j, normal.get(i, j) / (d[i] * d[j]));
    const inv = inverse(scaled);
    for (let i = 0; i < m; i++) for (let j = 0; j < m; j++) inv.set(i, j, inv.get(i, j) / (d[i] * d[j]));
    return inv;
  } catch {
    return null;
  }
}
