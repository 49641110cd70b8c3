import { type CameraPlane, clothFromUndistorted, undistortionScale } from './camera-plane.js';
import type { EdgePlace } from './plane-request.js';

/** What the plane is fitted to, thinned, in the order of the residuals. */
export interface PlaneData {
  /** Seen edge points, picture px, and the edge each is of. */
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly edge: Int32Array;
  readonly edges: number;
  readonly places: readonly (EdgePlace | null)[] | null;
  readonly marks: MarkLists;
  readonly sideMarks: SideMarkLists;
  /** Rough scale of the picture at its centre. */
  readonly pxPerMm: number;
}

/** Points of the reference, picture px and mm in its own plane. */
export interface MarkLists {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly planeX: Float64Array;
  readonly planeY: Float64Array;
}

/** Points of which only the place along the reference is known, picture px and mm. */
export interface SideMarkLists {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly alongMm: Float64Array;
}

/** Standard deviations the residuals are divided by, mm; of edges in mm of a picture of the rough scale. */
export interface PlaneScatter {
  readonly side: number;
  readonly edge: number;
  readonly repeat: number;
  readonly mark: number;
  /** Of marks on one line: sideways of it. */
  readonly level: number;
}

/** What follows from a camera by least squares of its own. */
export interface PlaneScale {
  /** Cloth mm over the camera's own: its distance must be multiplied by this for the marks to keep theirs. 1 without marks. */
  readonly factor: number;
  /** Length of the repeat, mm; null where none is in view. */
  readonly periodMm: number | null;
  /** Cloth mm across the stripes for each mm of a picture of the rough scale, at its centre: what edges' residuals in mm are divided by. */
  readonly stretch: number;
}

/** Where each kind of residual stands in the list. */
export function residualRanges({ x, edges, places, marks, sideMarks }: PlaneData) {
  const between = x.length;
  const onMarks = between + (places ? edges : 0);
  const onSag = onMarks + (marks.x.length >= 2 ? 2 * marks.x.length : 0);
  const sides = marks.x.length >= 2 ? sideMarks.x.length : 0;
  // What bends and what leans has one place each.
  const onSides = onSag + (isLine(marks) ? 1 : 0) + (sides > 0 ? 1 : 0);
  const priors = onSides + sides;
  return { between, onMarks, onSag, onSides, priors };
}

/** Marks of a ruler: enough of them to tell whether it is straight, all on one line. */
export const isLine = (marks: PlaneData['marks']): boolean =>
  marks.x.length >= 8 && marks.planeY.every((y) => y === 0);

/**
 * A ruler is straight, and then shows how the lens bends lines; or it is a tape and lies as it will. A sag of so many times its own standard
 * deviation is half-way between the two, and pulls hardest.
 */
const STRAIGHT = 12;
/** Height of the arc that the marks of a good rule may lie in, over its length; standard deviation (supposed). */
const RULE_SAG = 1e-4;
/** How ticks of a bent tape turn is known only so well, as a part of the turn: their level tells it, and all of them share the error. */
const TURN_SD = 2;
/**
 * All ticks of a rule lean by one angle where they are not quite square to it, or light from one side darkens one of their flanks: standard
 * deviation, radians (0.05 degrees, supposed).
 */
const SQUARE_SD = 0.05 * (Math.PI / 180);
/** A side mark this many standard deviations off is a stray, and draws the lean no further. */
const MOST_MISSED = 4;
const straightOrTape = (r: number): number => r / Math.sqrt(1 + (r / STRAIGHT) ** 2);

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
  const factor = data.marks.x.length >= 2 ? markResiduals(data, camera, H, sd, out, onMarks) : 1;
  const { widthPx, heightPx } = camera;
  const stretch = factor * stretchAcross(H, widthPx / 2, heightPx / 2, data.pxPerMm);
  const periodMm = edgeResiduals(data, camera, H, factor, bowPerMm, sd, out);
  return { factor, periodMm, stretch };
}

/**
 * How fast u grows at an undistorted place of the picture, by a rough scale. Edges scatter in the picture by so many px whatever the plane; were their
 * residuals told in mm, a plane that squeezes the cloth across its stripes would fit better than the true one, and no rule that lies
 * along them could say otherwise.
 */
function stretchAcross(H: readonly number[], x: number, y: number, pxPerMm: number): number {
  const w = H[6] * x + H[7] * y + H[8];
  const u = (H[0] * x + H[1] * y + H[2]) / w;
  return (Math.hypot(H[0] - u * H[6], H[1] - u * H[7]) / Math.abs(w)) * pxPerMm;
}

/** How fast the camera's plane grows across the line of the marks, at its middle, for each px along them. */
function besideMarks({ x, y, planeX }: MarkLists, H: readonly number[]): number {
  const last = x.length - 1;
  const [mx, my] = [meanOf(x), meanOf(y)];
  const w = H[6] * mx + H[7] * my + H[8];
  const u = (H[0] * mx + H[1] * my + H[2]) / w;
  const v = (H[3] * mx + H[4] * my + H[5]) / w;
  const area = (H[0] - u * H[6]) * (H[4] - v * H[7]) - (H[1] - u * H[7]) * (H[3] - v * H[6]);
  const pxPerMm = Math.hypot(x[last] - x[0], y[last] - y[0]) / Math.abs(planeX[last] - planeX[0]);
  return (Math.abs(area) / (w * w)) * pxPerMm * pxPerMm;
}

export function markResiduals(
  { marks, sideMarks }: PlaneData,
  camera: CameraPlane,
  H: readonly number[],
  sd: PlaneScatter,
  out: Float64Array,
  first: number,
): number {
  const { planeX, planeY } = marks;
  const n = planeX.length;
  const x = new Float64Array(n);
  const y = new Float64Array(n);
  placeOnPlane(marks.x, marks.y, camera, H, x, y);
  const zx = meanOf(x);
  const zy = meanOf(y);
  const px = meanOf(planeX);
  const py = meanOf(planeY);
  // Turn and size of the reference as the camera has it, as one complex number: least squares of its places on the exact ones.
  let re = 0;
  let im = 0;
  let square = 0;
  for (let k = 0; k < n; k++) {
    const dx = planeX[k] - px;
    const dy = planeY[k] - py;
    const ex = x[k] - zx;
    const ey = y[k] - zy;
    re += dx * ex + dy * ey;
    im += dx * ey - dy * ex;
    square += dx * dx + dy * dy;
  }
  re /= square;
  im /= square;
  const size = Math.hypot(re, im);
  const factor = 1 / size;
  let bendPerMm = 0;
  let o = first + 2 * n;
  if (isLine(marks)) {
    // Along the line marks are read far better than sideways of it, which only the ends of ticks tell.
    const [cos, sin] = [re / size, im / size];
    // In px of the picture, too: see stretchAcross.
    const levelSd = sd.level * factor * factor * besideMarks(marks, H);
    for (let k = 0; k < n; k++) {
      const dx = planeX[k] - px;
      const ex = x[k] - zx - re * dx;
      const ey = y[k] - zy - im * dx;
      out[first + 2 * k] = (factor * (cos * ex + sin * ey)) / sd.mark;
      out[first + 2 * k + 1] = (factor * (cos * ey - sin * ex)) / levelSd;
    }
    const sag = takeSag(planeX, px, out, first);
    bendPerMm = sag.perSquare * levelSd;
    const spanMm = planeX[n - 1] - planeX[0];
    const sagSd = Math.hypot(levelSd / sag.lever, (4 * RULE_SAG) / spanMm);
    out[o++] = straightOrTape(bendPerMm / sagSd);
  } else {
    for (let k = 0; k < n; k++) {
      const dx = planeX[k] - px;
      const dy = planeY[k] - py;
      out[first + 2 * k] = (factor * (x[k] - zx - re * dx + im * dy)) / sd.mark;
      out[first + 2 * k + 1] = (factor * (y[k] - zy - im * dx - re * dy)) / sd.mark;
    }
  }
  const sides = sideMarks.x.length;
  const sideX = new Float64Array(sides);
  const sideY = new Float64Array(sides);
  placeOnPlane(sideMarks.x, sideMarks.y, camera, H, sideX, sideY);
  const missed = new Float64Array(sides);
  const levers = new Float64Array(sides);
  let top = 0;
  let low = 1 / SQUARE_SD ** 2;
  for (let k = 0; k < sides; k++) {
    const along = px + ((sideX[k] - zx) * re + (sideY[k] - zy) * im) / (size * size);
    const aside = ((sideY[k] - zy) * re - (sideX[k] - zx) * im) / (size * size);
    // Ticks stand square on a line that bends, too: aside of where it runs there.
    const dx = sideMarks.alongMm[k] - px;
    const turned = -2 * bendPerMm * dx * (aside - bendPerMm * (dx * dx - square / n));
    const sideSd = Math.hypot(sd.side, TURN_SD * turned);
    missed[k] = (along - sideMarks.alongMm[k] - turned) / sideSd;
    levers[k] = aside / sideSd;
    top += Math.max(-MOST_MISSED, Math.min(MOST_MISSED, missed[k])) * levers[k];
    low += levers[k] ** 2;
  }
  const lean = top / low;
  if (sides > 0) out[o++] = lean / SQUARE_SD;
  for (let k = 0; k < sides; k++) out[o++] = squash(missed[k] - lean * levers[k]);
  return factor;
}

/** Where picture points lie in the camera's plane. */
function placeOnPlane(
  x: Float64Array,
  y: Float64Array,
  { widthPx, heightPx, k1 }: CameraPlane,
  H: readonly number[],
  planeX: Float64Array,
  planeY: Float64Array,
): void {
  const cx = widthPx / 2;
  const cy = heightPx / 2;
  const unit = k1 / (cx * cx + cy * cy);
  for (let k = 0; k < x.length; k++) {
    const dx = x[k] - cx;
    const dy = y[k] - cy;
    const scale = undistortionScale(unit * (dx * dx + dy * dy));
    const qx = cx + dx * scale;
    const qy = cy + dy * scale;
    const w = H[6] * qx + H[7] * qy + H[8];
    planeX[k] = (H[0] * qx + H[1] * qy + H[2]) / w;
    planeY[k] = (H[3] * qx + H[4] * qy + H[5]) / w;
  }
}

function meanOf(values: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < values.length; k++) sum += values[k];
  return sum / values.length;
}

/**
 * Takes from the marks' sideways residuals, every second one, the even bend of their line: least squares on the square of the distance along it.
 * @returns How far the line lies aside for each mm along it squared, in the residuals' unit and with a sign, and the root of the sum of
 *   squares that it is found by.
 */
function takeSag(
  planeX: Float64Array,
  middleMm: number,
  out: Float64Array,
  first: number,
): { perSquare: number; lever: number } {
  const n = planeX.length;
  const squares = planeX.map((x) => (x - middleMm) ** 2);
  const mean = meanOf(squares);
  let top = 0;
  let low = 0;
  for (let k = 0; k < n; k++) {
    const q = squares[k] - mean;
    top += q * out[first + 2 * k + 1];
    low += q * q;
  }
  const sag = top / low;
  for (let k = 0; k < n; k++) out[first + 2 * k + 1] -= sag * (squares[k] - mean);
  return { perSquare: sag, lever: Math.sqrt(low) };
}

function edgeResiduals(
  { x, y, edge, edges, places, pxPerMm }: PlaneData,
  camera: CameraPlane,
  H: readonly number[],
  factor: number,
  bowPerMm: number,
  sd: PlaneScatter,
  out: Float64Array,
): number | null {
  const n = x.length;
  const sums = new Float64Array(edges);
  const counts = new Float64Array(edges);
  const v = new Float64Array(n);
  placeOnPlane(x, y, camera, H, out, v);
  for (let i = 0; i < n; i++) {
    const along = factor * v[i];
    out[i] = factor * out[i] - bowPerMm * along * along;
    sums[edge[i]] += out[i];
    counts[edge[i]]++;
  }
  const means = new Float64Array(edges);
  const stretches = new Float64Array(n);
  const usual = new Float64Array(edges);
  for (let i = 0; i < n; i++) {
    stretches[i] = factor * stretchAcross(H, x[i], y[i], pxPerMm);
    usual[edge[i]] += stretches[i] / counts[edge[i]];
  }
  for (let e = 0; e < edges; e++) means[e] = sums[e] / counts[e];
  // A mean is drawn off by bad windows: one reweighting about the median-like centre keeps it honest.
  const pulls = new Float64Array(edges);
  const weights = new Float64Array(edges);
  for (let i = 0; i < n; i++) {
    const e = edge[i];
    const r = (out[i] - means[e]) / (2.5 * sd.edge * stretches[i]);
    const weight = 1 / (1 + r * r);
    pulls[e] += weight * out[i];
    weights[e] += weight;
  }
  for (let e = 0; e < edges; e++) means[e] = pulls[e] / weights[e];
  for (let i = 0; i < n; i++) out[i] = squash((out[i] - means[edge[i]]) / (sd.edge * stretches[i]));
  if (places === null) return null;
  const { misses, periodMm } = repeatMisses(means, counts, places);
  for (let e = 0; e < edges; e++) out[n + e] = usual[e] > 0 ? squash(misses[e] / (sd.repeat * usual[e])) : 0;
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
