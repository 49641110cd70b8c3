import type { Point } from '../math/matrix3.js';
import { type CameraPlane, clothFromUndistorted, undistorted, undistortionScale } from './camera-plane.js';
import type { EdgePlace, PlaneMark, PlaneRequest } from './plane-request.js';

/** What the plane is fitted to, thinned, in the order of the residuals. */
export interface PlaneData {
  /** Seen edge points, picture px, and the edge each is of. */
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly edge: Int32Array;
  readonly edges: number;
  readonly places: readonly (EdgePlace | null)[] | null;
  readonly marks: readonly PlaneMark[];
  readonly sideMarks: PlaneRequest['sideMarks'];
}

/** Standard deviations the residuals are divided by, mm. */
export interface PlaneScatter {
  readonly side: number;
  readonly edge: number;
  readonly repeat: number;
  readonly mark: number;
}

/** What follows from a camera by least squares of its own. */
export interface PlaneScale {
  /** Cloth mm over the camera's own: its distance must be multiplied by this for the marks to keep theirs. 1 without marks. */
  readonly factor: number;
  /** Length of the repeat, mm; null where none is in view. */
  readonly periodMm: number | null;
}

/** Where each kind of residual stands in the list. */
export function residualRanges({ x, edges, places, marks, sideMarks }: PlaneData) {
  const between = x.length;
  const onMarks = between + (places ? edges : 0);
  const onSides = onMarks + (marks.length >= 2 ? 2 * marks.length : 0);
  const priors = onSides + (marks.length >= 2 ? sideMarks.length : 0);
  return { between, onMarks, onSides, priors };
}

/** Pseudo-Huber: far points pull with bounded force (slope 1 near 0, growth like the root far out). */
const squash = (r: number): number => Math.sign(r) * Math.sqrt(8 * (Math.sqrt(1 + (r * r) / 4) - 1));
const unsquash = (s: number): number => Math.sign(s) * 2 * Math.sqrt(((s * s) / 8 + 1) ** 2 - 1);
export const unsquashed = (values: Float64Array): Float64Array => values.map(unsquash);

/**
 * Fills `out` with everything a camera and a bow leave unexplained, each over its standard deviation, up to the priors: points about
 * their edge, edges about an even repeat, marks about their places, side marks about theirs. The scale, where and how the reference
 * lies, each edge's u and the repeat are solved for here (variable projection, Golub and Pereyra 1973, doi 10.1137/0710036): the marks
 * are sharp, and a search that had to keep the scale in step with the tilt would creep along a bent valley.
 */
export function fillPlaneResiduals(
  data: PlaneData,
  camera: CameraPlane,
  bowPerMm: number,
  sd: PlaneScatter,
  out: Float64Array,
): PlaneScale {
  const { onMarks } = residualRanges(data);
  const H = clothFromUndistorted(camera);
  const factor = data.marks.length >= 2 ? markResiduals(data, camera, H, sd, out, onMarks) : 1;
  const periodMm = edgeResiduals(data, camera, H, factor, bowPerMm, sd, out);
  return { factor, periodMm };
}

function markResiduals(
  { marks, sideMarks }: PlaneData,
  { widthPx, heightPx, k1 }: CameraPlane,
  H: readonly number[],
  sd: PlaneScatter,
  out: Float64Array,
  first: number,
): number {
  const n = marks.length;
  const placed = (picture: Point): Point => {
    const [x, y] = undistorted(picture[0], picture[1], widthPx, heightPx, k1);
    const w = H[6] * x + H[7] * y + H[8];
    return [(H[0] * x + H[1] * y + H[2]) / w, (H[3] * x + H[4] * y + H[5]) / w];
  };
  const z = marks.map((mark) => placed(mark.picture));
  const meanOf = (values: readonly number[]) => values.reduce((s, v) => s + v, 0) / n;
  const zx = meanOf(z.map((p) => p[0]));
  const zy = meanOf(z.map((p) => p[1]));
  const px = meanOf(marks.map((m) => m.planeMm[0]));
  const py = meanOf(marks.map((m) => m.planeMm[1]));
  // Turn and size of the reference as the camera has it, as one complex number: least squares of z on the exact places.
  let re = 0;
  let im = 0;
  let square = 0;
  for (let k = 0; k < n; k++) {
    const dx = marks[k].planeMm[0] - px;
    const dy = marks[k].planeMm[1] - py;
    const ex = z[k][0] - zx;
    const ey = z[k][1] - zy;
    re += dx * ex + dy * ey;
    im += dx * ey - dy * ex;
    square += dx * dx + dy * dy;
  }
  re /= square;
  im /= square;
  const size = Math.hypot(re, im);
  const factor = 1 / size;
  let o = first;
  for (let k = 0; k < n; k++) {
    const dx = marks[k].planeMm[0] - px;
    const dy = marks[k].planeMm[1] - py;
    out[o++] = (factor * (z[k][0] - zx - re * dx + im * dy)) / sd.mark;
    out[o++] = (factor * (z[k][1] - zy - im * dx - re * dy)) / sd.mark;
  }
  for (const { picture, alongMm } of sideMarks) {
    const [x, y] = placed(picture);
    const along = px + ((x - zx) * re + (y - zy) * im) / (size * size);
    out[o++] = squash((along - alongMm) / sd.side);
  }
  return factor;
}

function edgeResiduals(
  { x, y, edge, edges, places }: PlaneData,
  { widthPx, heightPx, k1 }: CameraPlane,
  H: readonly number[],
  factor: number,
  bowPerMm: number,
  sd: PlaneScatter,
  out: Float64Array,
): number | null {
  const n = x.length;
  const sums = new Float64Array(edges);
  const counts = new Float64Array(edges);
  const cx = widthPx / 2;
  const cy = heightPx / 2;
  const unit = k1 / (cx * cx + cy * cy);
  const [h0, h1, h2, h3, h4, h5, h6, h7, h8] = H;
  for (let i = 0; i < n; i++) {
    const dx = x[i] - cx;
    const dy = y[i] - cy;
    const scale = undistortionScale(unit * (dx * dx + dy * dy));
    const qx = cx + dx * scale;
    const qy = cy + dy * scale;
    const w = factor / (h6 * qx + h7 * qy + h8);
    const v = (h3 * qx + h4 * qy + h5) * w;
    const u = (h0 * qx + h1 * qy + h2) * w - bowPerMm * v * v;
    out[i] = u;
    sums[edge[i]] += u;
    counts[edge[i]]++;
  }
  const means = new Float64Array(edges);
  for (let e = 0; e < edges; e++) means[e] = sums[e] / counts[e];
  // A mean is drawn off by bad windows: one reweighting about the median-like centre keeps it honest.
  const pulls = new Float64Array(edges);
  const weights = new Float64Array(edges);
  for (let i = 0; i < n; i++) {
    const e = edge[i];
    const r = (out[i] - means[e]) / (2.5 * sd.edge);
    const weight = 1 / (1 + r * r);
    pulls[e] += weight * out[i];
    weights[e] += weight;
  }
  for (let e = 0; e < edges; e++) means[e] = pulls[e] / weights[e];
  for (let i = 0; i < n; i++) out[i] = squash((out[i] - means[edge[i]]) / sd.edge);
  if (places === null) return null;
  const { misses, periodMm } = repeatMisses(means, counts, places);
  for (let e = 0; e < edges; e++) out[n + e] = squash(misses[e] / sd.repeat);
  return periodMm;
}

/** How far each edge's mean lies from an even repeat: U = offset(band) + repeat * P, by least squares. */
function repeatMisses(
  means: Float64Array,
  counts: Float64Array,
  places: readonly (EdgePlace | null)[],
): { misses: Float64Array; periodMm: number | null } {
  const n = places.length;
  let bands = 1;
  for (const place of places) if (place) bands = Math.max(bands, place.band + 1);
  const kSum = new Float64Array(bands);
  const uSum = new Float64Array(bands);
  const wSum = new Float64Array(bands);
  for (let e = 0; e < n; e++) {
    const place = places[e];
    if (place === null || counts[e] === 0) continue;
    kSum[place.band] += place.repeat;
    uSum[place.band] += means[e];
    wSum[place.band]++;
  }
  let top = 0;
  let low = 0;
  for (let e = 0; e < n; e++) {
    const place = places[e];
    if (place === null || counts[e] === 0) continue;
    const dk = place.repeat - kSum[place.band] / wSum[place.band];
    top += dk * (means[e] - uSum[place.band] / wSum[place.band]);
    low += dk * dk;
  }
  const misses = new Float64Array(n);
  if (low === 0) return { misses, periodMm: null };
  const periodMm = top / low;
  for (let e = 0; e < n; e++) {
    const place = places[e];
    if (place === null || counts[e] === 0) continue;
    const { band, repeat } = place;
    misses[e] = means[e] - uSum[band] / wSum[band] - periodMm * (repeat - kSum[band] / wSum[band]);
  }
  return { misses, periodMm };
}
