import { linearFromByte } from '../colour/srgb.js';
import type { Raster } from '../raster/raster.js';
import { isBareRow, type LinearColour, meanColour, offLine, strangeness } from './bare-edge.js';
import { fitStep, type NextStep, type StepFit } from './fit-step.js';
import { encodedPart, type LumaStep, lumaStep, mixInEncoded, sharesByLuma } from './luma-step.js';
import { CLEAR_OF_BLUR, gapsSeen, stepsBeside } from './steps-beside.js';
import { pictureFromStraight, type StripeFrame } from './stripe-frame.js';

/** Edge points window by window: entry e * windows + w. Picture px; NaN where the edge was not seen. */
export interface EdgePoints {
  readonly edges: number;
  readonly windows: number;
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** Across the edge, px, from the fit's residuals. */
  readonly sdPx: Float64Array;
  /** Typical blur of an edge (Gaussian sigma), px. */
  readonly blurPx: number;
}

export interface TraceRequest {
  /** Straight px of the edges, ascending. */
  readonly edgesU: readonly number[];
  /** Straight px of the window middles. */
  readonly windowsV: readonly number[];
  readonly windowPx: number;
  /** Linear RGB of the bands on either side, one pair an edge: at smaller u, at larger u. */
  readonly sides: readonly (readonly [LinearColour, LinearColour])[];
  /** 1 = not cloth; same size as the picture shrunk by hiddenShrink. */
  readonly hidden: Uint8Array;
  readonly hiddenShrink: number;
  readonly hiddenWidth: number;
}

/** With how luma tells the colours on either side of each edge apart. */
interface Tracing extends TraceRequest {
  readonly lumas: readonly (LumaStep | null)[];
}

const STEP_PX = 0.5;
const REACH_PX = 26;
/** Height of a step that is the edge's own, as a part of the step between the two bands. */
const STEP_RANGE = [0.45, 1.8] as const;
/** A step may leave the line between the two bands' colours by this part of itself. */
const OFF_LINE = 0.5;
/** Sides of a step further from the bands than this part of the step between them: a motif may lie on them. */
const MOST_STRANGE = 0.12;
/** So many windows of an edge without a doubt make doubtful ones needless. */
const ENOUGH_CLEAR = 8;
/** Times that narrow bands are traced again with the width that was seen. */
const NARROW_ROUNDS = 2;
/** Rows without a motif that make a profile. */
const FEWEST_BARE = 2;

/** Blur happens in linear light, so edges are fitted there. */
const LINEAR = linearFromByte;

/**
 * Goes back to the full picture for every edge: in each window along the stripe a profile across the edge is averaged
 * along it and a blurred step is fitted. A window is dropped where the step has not the height and the direction in colour space
 * that the two bands give it: a motif, the ruler or a shadow's rim stands there. Light scales the height with the
 * brightness of the place; the crossing stripes of a check change the brightness and leave the height: either will do.
 */
export function traceEdges(picture: Raster<Uint8Array>, frame: StripeFrame, asked: TraceRequest): EdgePoints {
  const request: Tracing = { ...asked, lumas: asked.sides.map(lumaStep) };
  const { edgesU, windowsV } = request;
  const edges = edgesU.length;
  const windows = windowsV.length;
  const x = new Float64Array(edges * windows).fill(Number.NaN);
  const y = new Float64Array(edges * windows).fill(Number.NaN);
  const sdPx = new Float64Array(edges * windows).fill(Number.NaN);
  const profile = newProfile();
  const expected = edgesU.slice(1).map((u, e) => u - edgesU[e]);
  const { blurPx, farthestPx } = typicalEdge(picture, frame, request, expected, profile);
  profile.encodedPart = encodedPart(blurPx, request.lumas);
  // No further than edges lie from where they are expected, and what a fit takes in besides.
  const most = Math.min(REACH_PX, 1.25 * farthestPx + fitHalf(blurPx) + 2);
  const placesU = new Float64Array(edges * windows).fill(Number.NaN);
  const trace = (e: number, beside: readonly NextStep[]): void => {
    const reach = reachOf(edgesU, e, most);
    const doubtful: number[] = [];
    let clear = 0;
    for (let w = 0; w < windows; w++) {
      const i = e * windows + w;
      x[i] = y[i] = sdPx[i] = placesU[i] = Number.NaN;
      const u = edgesU[e];
      const v = windowsV[w];
      const n = edgeProfile(picture, frame, request, e, v, reach, profile, false);
      if (n === 0) continue;
      let found = stepIn(profile, n, request.sides[e], blurPx, beside);
      // A motif covers a part of the window: the rows beside it show the bands on both sides.
      if (found === null || found.strange > MOST_STRANGE) {
        if (edgeProfile(picture, frame, request, e, v, reach, profile, true) > 0) {
          found = stepIn(profile, n, request.sides[e], blurPx, beside);
        }
      }
      if (found === null) continue;
      const { fit } = found;
      const offset = (fit.at - (n - 1) / 2) * STEP_PX;
      if (Math.abs(offset) > reach - 1) continue;
      placesU[i] = u + offset;
      const p = pictureFromStraight(frame, u + offset, v);
      x[i] = p[0];
      y[i] = p[1];
      sdPx[i] = Math.max(0.02, fit.sd * STEP_PX);
      if (found.strange > MOST_STRANGE) doubtful.push(i);
      else clear++;
    }
    if (clear < ENOUGH_CLEAR) return;
    for (const i of doubtful) x[i] = y[i] = sdPx[i] = placesU[i] = Number.NaN;
  };
  const reachPx = fitHalf(blurPx) + CLEAR_OF_BLUR * blurPx;
  const besideAll = (gapsPx: ArrayLike<number>): NextStep[][] =>
    edgesU.map((_, e) => stepsBeside(request, gapsPx, e, reachPx, STEP_PX));
  besideAll(expected).forEach((beside, e) => {
    trace(e, beside);
  });
  // How wide a narrow band is, on which where its edges are seen to lie depends, is known better now.
  for (let round = 0; round < NARROW_ROUNDS; round++) {
    besideAll(gapsSeen(edgesU, placesU, windows)).forEach((beside, e) => {
      if (beside.length > 0) trace(e, beside);
    });
  }
  return { edges, windows, x, y, sdPx, blurPx };
}

/** So far to either side a step is fitted, px. */
const fitHalf = (blurPx: number): number => Math.max(3, Math.min(12, 4 * blurPx));

/** The edge's own step in a profile of n samples, and how unlike the bands its two sides are; null where it is not there. */
function stepIn(
  profile: Profile,
  n: number,
  sides: readonly [LinearColour, LinearColour],
  blurPx: number,
  beside: readonly NextStep[],
): { fit: StepFit; strange: number } | null {
  const { steps } = profile;
  const blurSamples = blurPx / STEP_PX;
  const start = steepest(steps, n, blurSamples);
  const half = fitHalf(blurPx) / STEP_PX;
  const from = Math.max(0, Math.floor(start - half));
  const to = Math.min(n, Math.ceil(start + half) + 1);
  const fit = fitStep(steps, from, to, start, blurSamples, beside);
  if (fit === null || !isOwnStep(fit, profile.gain)) return null;
  const left = Math.max(from + 1, Math.floor(fit.at - 1.5 * blurSamples));
  const right = Math.min(to - 1, Math.ceil(fit.at + 1.5 * blurSamples));
  const low = meanColour(profile.channels, from, left, profile.low);
  const high = meanColour(profile.channels, right, to, profile.high);
  if (offLine(low, high, sides) > OFF_LINE) return null;
  return { fit, strange: strangeness(low, high, sides) };
}

/** Scratch for one window. */
interface Profile {
  /** Colour across the edge, linear light. */
  readonly channels: readonly [Float64Array, Float64Array, Float64Array];
  /** The same on the line between the two bands' colours: they stand one apart. */
  readonly steps: Float64Array;
  /** Brightness of the place over that of the two bands. */
  gain: number;
  /** Part of the blur's variance that JPEG gave colours as encoded. */
  encodedPart: number;
  /** One row of it. */
  readonly row: readonly [Float64Array, Float64Array, Float64Array];
  readonly low: Float64Array;
  readonly high: Float64Array;
}

function newProfile(): Profile {
  const n = 2 * Math.ceil(REACH_PX / STEP_PX) + 1;
  return {
    channels: [new Float64Array(n), new Float64Array(n), new Float64Array(n)],
    steps: new Float64Array(n),
    gain: 1,
    encodedPart: 0.5,
    row: [new Float64Array(n), new Float64Array(n), new Float64Array(n)],
    low: new Float64Array(3),
    high: new Float64Array(3),
  };
}

function isOwnStep({ low, high }: StepFit, gain: number): boolean {
  const height = high - low;
  const within = (h: number) => h > STEP_RANGE[0] && h < STEP_RANGE[1];
  return within(height) || within(height / gain);
}

/** No further than a little short of the middle of the narrower neighbour. */
function reachOf(edgesU: readonly number[], e: number, most: number): number {
  const left = e > 0 ? edgesU[e] - edgesU[e - 1] : Infinity;
  const right = e + 1 < edgesU.length ? edgesU[e + 1] - edgesU[e] : Infinity;
  return Math.max(3, Math.min(most, 0.6 * Math.min(left, right)));
}

/**
 * Fills the profile with the colour across the edge; returns its length, 0 where too little is seen.
 * @param bare from rows alone that show the two bands' colours at their ends
 */
function edgeProfile(
  picture: Raster<Uint8Array>,
  frame: StripeFrame,
  request: Tracing,
  e: number,
  v: number,
  reach: number,
  profile: Profile,
  bare: boolean,
): number {
  const { width, height } = picture;
  const u = request.edgesU[e];
  const n = 2 * Math.floor(reach / STEP_PX) + 1;
  const rows = Math.max(4, Math.min(14, Math.round(request.windowPx / 6)));
  const { hidden, hiddenShrink, hiddenWidth, lumas } = request;
  const [red, green, blue] = profile.channels;
  for (const channel of profile.channels) channel.fill(0, 0, n);
  let used = 0;
  let strange = 0;
  for (let r = 0; r < rows; r++) {
    const vr = v + ((r + 0.5) / rows - 0.5) * request.windowPx;
    const [ax, ay] = pictureFromStraight(frame, u - reach, vr);
    const [bx, by] = pictureFromStraight(frame, u + reach, vr);
    const margin = 2;
    if (
      Math.min(ax, bx, ay, by) < margin ||
      Math.max(ax, bx) > width - margin ||
      Math.max(ay, by) > height - margin
    ) {
      continue;
    }
    let covered = false;
    for (let t = 0; t <= 4; t++) {
      const hx = Math.floor((ax + ((bx - ax) * t) / 4) / hiddenShrink);
      const hy = Math.floor((ay + ((by - ay) * t) / 4) / hiddenShrink);
      if (hidden[hy * hiddenWidth + hx]) covered = true;
    }
    if (covered) continue;
    used++;
    const [r0, g0, b0] = bare ? profile.row : profile.channels;
    if (bare) for (const channel of profile.row) channel.fill(0, 0, n);
    // Samples stand STEP_PX apart about the middle; the first and last lie up to half a step within the reach.
    const first = (reach - ((n - 1) / 2) * STEP_PX) / (2 * reach);
    const step = STEP_PX / (2 * reach);
    const dx = bx - ax;
    const dy = by - ay;
    addSamples(picture, ax + dx * first - 0.5, ay + dy * first - 0.5, dx * step, dy * step, n, r0, g0, b0);
    if (!bare) continue;
    if (!isBareRow(profile.row, n, request.sides[e])) {
      strange++;
      continue;
    }
    for (let i = 0; i < n; i++) {
      red[i] += r0[i];
      green[i] += g0[i];
      blue[i] += b0[i];
    }
  }
  if (used < rows / 2) return 0;
  used -= strange;
  if (used < FEWEST_BARE) return 0;
  const [a, b] = request.sides[e];
  const axis = [b[0] - a[0], b[1] - a[1], b[2] - a[2]];
  const size = axis[0] ** 2 + axis[1] ** 2 + axis[2] ** 2;
  if (size < 1e-9) return 0;
  let local = 0;
  for (let i = 0; i < n; i++) {
    red[i] /= used;
    green[i] /= used;
    blue[i] /= used;
    local += red[i] + green[i] + blue[i];
    profile.steps[i] = (red[i] * axis[0] + green[i] * axis[1] + blue[i] * axis[2]) / size;
  }
  profile.gain = local / n / Math.max(1e-6, (a[0] + a[1] + a[2] + b[0] + b[1] + b[2]) / 2);
  const byLuma = lumas[e];
  if (byLuma) sharesByLuma(byLuma, profile.channels, n, profile.gain, profile.steps);
  else mixInEncoded([a, b], profile.channels, n, profile.gain, profile.encodedPart, profile.steps);
  return n;
}

/** Adds n samples in linear light at even steps along a line; x, y: the first, px from the first pixel's centre. */
function addSamples(
  { width, channels, data }: Raster<Uint8Array>,
  x: number,
  y: number,
  dx: number,
  dy: number,
  n: number,
  red: Float64Array,
  green: Float64Array,
  blue: Float64Array,
): void {
  const row = width * channels;
  for (let i = 0; i < n; i++) {
    const fx = x + i * dx;
    const fy = y + i * dy;
    const ix = fx | 0;
    const iy = fy | 0;
    const gx = fx - ix;
    const gy = fy - iy;
    const j = iy * row + ix * channels;
    const k = j + row;
    const w00 = (1 - gx) * (1 - gy);
    const w10 = gx * (1 - gy);
    const w01 = (1 - gx) * gy;
    const w11 = gx * gy;
    red[i] +=
      w00 * LINEAR[data[j]] +
      w10 * LINEAR[data[j + channels]] +
      w01 * LINEAR[data[k]] +
      w11 * LINEAR[data[k + channels]];
    green[i] +=
      w00 * LINEAR[data[j + 1]] +
      w10 * LINEAR[data[j + channels + 1]] +
      w01 * LINEAR[data[k + 1]] +
      w11 * LINEAR[data[k + channels + 1]];
    blue[i] +=
      w00 * LINEAR[data[j + 2]] +
      w10 * LINEAR[data[j + channels + 2]] +
      w01 * LINEAR[data[k + 2]] +
      w11 * LINEAR[data[k + channels + 2]];
  }
}

/** Sample at which the profile, smoothed over the blur, rises most: from the middle outwards the first good one wins ties. */
function steepest(profile: Float64Array, n: number, blurSamples: number): number {
  const half = Math.max(2, Math.round(1.5 * blurSamples));
  let best = (n - 1) / 2;
  let most = 0;
  for (let i = half; i < n - half; i++) {
    let rise = 0;
    for (let d = 1; d <= half; d++) rise += profile[i + d] - profile[i - d];
    // Nearer the expected place is likelier.
    const off = (i - (n - 1) / 2) / n;
    const score = rise * (1 - off * off);
    if (score > most) {
      most = score;
      best = i;
    }
  }
  return best;
}

/** Blurs that are tried, px, and half of a step from one to the next, as a factor. */
const BLURS = [0.5, 0.7, 1, 1.4, 2, 2.8, 4, 5.6];
const HALF_BLUR_STEP = 2 ** 0.25;

/**
 * The blur at which a sample of windows is fitted best, by its Gaussian sigma in px, and how far from their expected places edges lie
 * at most among those windows.
 */
function typicalEdge(
  picture: Raster<Uint8Array>,
  frame: StripeFrame,
  request: Tracing,
  gapsPx: ArrayLike<number>,
  profile: Profile,
): { blurPx: number; farthestPx: number } {
  const chosen: number[] = [];
  let farthestPx = 0;
  const { edgesU, windowsV } = request;
  const total = edgesU.length * windowsV.length;
  const stride = Math.max(1, Math.floor(total / 64));
  for (let i = 0; i < total; i += stride) {
    const e = Math.floor(i / windowsV.length);
    const w = i % windowsV.length;
    const reach = reachOf(edgesU, e, REACH_PX);
    const n = edgeProfile(picture, frame, request, e, windowsV[w], reach, profile, false);
    if (n === 0) continue;
    const start = steepest(profile.steps, n, 2);
    const beside = stepsBeside(request, gapsPx, e, 2 * REACH_PX, STEP_PX);
    const from = Math.max(0, start - 22);
    const to = Math.min(n, start + 23);
    let best = Number.NaN;
    let least = Infinity;
    let at = start;
    const attempt = (blur: number): void => {
      const fit = fitStep(profile.steps, from, to, start, blur / STEP_PX, beside);
      if (fit === null || !isOwnStep(fit, profile.gain) || fit.rss >= least) return;
      least = fit.rss;
      best = blur;
      at = fit.at;
    };
    for (const blur of BLURS) attempt(blur);
    if (Number.isNaN(best)) continue;
    // How wide a narrow band seems depends on its blur.
    if (beside.length > 0) for (const blur of [best / HALF_BLUR_STEP, best * HALF_BLUR_STEP]) attempt(blur);
    chosen.push(best);
    farthestPx = Math.max(farthestPx, Math.abs(at - (n - 1) / 2) * STEP_PX);
  }
  chosen.sort((a, b) => a - b);
  return chosen.length > 0
    ? { blurPx: chosen[chosen.length >> 1], farthestPx }
    : { blurPx: 1.4, farthestPx: REACH_PX };
}
