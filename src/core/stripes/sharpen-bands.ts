import { Matrix, solve } from 'ml-matrix';
import { labFromLinear } from '../colour/lab.js';
import { normalCdf } from '../math/folded-normal.js';
import type { Segment } from './segment.js';

const ROUNDS = 6;
/** No edge is moved further than this from where the partition put it, columns. */
const FURTHEST = 2.5;
/** A band that shows less than this share of its own colour anywhere is not told from its blur. */
const LEAST_SHARE = 0.3;
/** Up to this many sigmas and a column wide, a band's width and its contrast look alike and are solved for together. */
const NARROW = 4;
/** Share of each value's own weight that holds it back, so that noise in what hardly shows is not followed. */
const DAMPING = 0.01;

/**
 * Edges and colours of a run of bands by least squares on the blurred profile: band k shows with the weight
 * Phi((x - e_k) / sigma) - Phi((x - e_k+1) / sigma), so a line of three columns gets the colour it has and not what its blur
 * leaves of it, and both its edges their places. Colours and edges are improved in turn (Gauss-Seidel, Gauss-Newton).
 *
 * @param linear Profile, 3 values a column, linear light. @param starts Edges between the bands, columns.
 */
export function sharpenBands(
  linear: ArrayLike<number>,
  from: number,
  to: number,
  starts: readonly number[],
  sigma: number,
): Segment[] {
  const edges = Float64Array.from(starts);
  const bands = edges.length + 1;
  const colours = new Float64Array(3 * bands);
  for (let k = 0; k < bands; k++) takeInnerMean(linear, from, to, edges, k, colours);
  const model = new Float64Array(3 * (to - from));
  for (let round = 0; round < ROUNDS; round++) {
    renderBands(model, from, edges, colours, sigma);
    for (let k = 0; k < bands; k++) improveColour(linear, model, from, to, edges, k, sigma, colours);
    for (let e = 0; e < edges.length; e++) {
      improveEdge(linear, model, from, to, edges, starts, e, sigma, colours);
    }
    renderBands(model, from, edges, colours, sigma);
    // Every other band in a round: neighbours share an edge, which the model must not have lost.
    for (let k = 1 + (round % 2); k + 1 < bands; k += 2) {
      if (edges[k] - edges[k - 1] > NARROW * sigma + 1) continue;
      improveLine(linear, model, from, to, edges, starts, k, sigma, colours);
    }
  }
  return Array.from({ length: bands }, (_, k) => {
    const own: [number, number, number] = [colours[3 * k], colours[3 * k + 1], colours[3 * k + 2]];
    return {
      from: k === 0 ? from : edges[k - 1],
      to: k === bands - 1 ? to : edges[k],
      linear: own,
      lab: labFromLinear(own),
    };
  });
}

/** The profile that the bands would give under their blur: 3 values a column, from the first one's start to the last one's end. */
export function blurredProfile(bands: readonly Segment[], sigma: number): Float64Array {
  const from = bands[0].from;
  const model = new Float64Array(3 * Math.round(bands[bands.length - 1].to - from));
  const edges = Float64Array.from(bands.slice(1), (b) => b.from);
  renderBands(model, from, edges, Float64Array.from(bands.flatMap((b) => b.linear)), sigma);
  return model;
}

function takeInnerMean(
  linear: ArrayLike<number>,
  from: number,
  to: number,
  edges: Float64Array,
  k: number,
  colours: Float64Array,
): void {
  const a = k === 0 ? from : edges[k - 1];
  const b = k === edges.length ? to : edges[k];
  const margin = Math.min(2, (b - a - 1) / 2);
  const first = Math.max(from, Math.min(to - 1, Math.round(a + margin)));
  const last = Math.max(first + 1, Math.min(to, Math.round(b - margin)));
  for (let c = 0; c < 3; c++) {
    let sum = 0;
    for (let x = first; x < last; x++) sum += linear[3 * x + c];
    colours[3 * k + c] = sum / (last - first);
  }
}

/** The profile that the bands would give. */
function renderBands(
  model: Float64Array,
  from: number,
  edges: Float64Array,
  colours: Float64Array,
  sigma: number,
): void {
  const columns = model.length / 3;
  let band = 0;
  for (let x = 0; x < columns; x++) {
    while (band < edges.length && edges[band] <= from + x + 0.5) band++;
    for (let c = 0; c < 3; c++) model[3 * x + c] = colours[3 * band + c];
  }
  for (let e = 0; e < edges.length; e++) {
    const first = Math.max(0, Math.floor(edges[e] - 4 * sigma - from));
    const last = Math.min(columns, Math.ceil(edges[e] + 4 * sigma - from));
    for (let x = first; x < last; x++) {
      const q = (from + x + 0.5 - edges[e]) / sigma;
      const share = normalCdf(q) - (q >= 0 ? 1 : 0);
      for (let c = 0; c < 3; c++) model[3 * x + c] += share * (colours[3 * e + 3 + c] - colours[3 * e + c]);
    }
  }
}

function improveColour(
  linear: ArrayLike<number>,
  model: Float64Array,
  from: number,
  to: number,
  edges: Float64Array,
  k: number,
  sigma: number,
  colours: Float64Array,
): void {
  const start = k === 0 ? Number.NEGATIVE_INFINITY : edges[k - 1];
  const end = k === edges.length ? Infinity : edges[k];
  const first = Math.max(from, Math.floor(start - 3 * sigma));
  const last = Math.min(to, Math.ceil(end + 3 * sigma));
  const weights = new Float64Array(Math.max(0, last - first));
  let square = 0;
  let most = 0;
  for (let x = first; x < last; x++) {
    const w = normalCdf((x + 0.5 - start) / sigma) - normalCdf((x + 0.5 - end) / sigma);
    weights[x - first] = w;
    square += w * w;
    most = Math.max(most, w);
  }
  if (most < LEAST_SHARE) return;
  for (let c = 0; c < 3; c++) {
    let sum = 0;
    for (let x = first; x < last; x++) {
      sum += weights[x - first] * (linear[3 * x + c] - model[3 * (x - from) + c]);
    }
    const change = sum / square;
    colours[3 * k + c] = Math.max(0, colours[3 * k + c] + change);
    for (let x = first; x < last; x++) model[3 * (x - from) + c] += weights[x - first] * change;
  }
}

function improveEdge(
  linear: ArrayLike<number>,
  model: Float64Array,
  from: number,
  to: number,
  edges: Float64Array,
  starts: readonly number[],
  e: number,
  sigma: number,
  colours: Float64Array,
): void {
  const reach = 2 * sigma + 1;
  const first = Math.max(from, Math.floor(edges[e] - reach));
  const last = Math.min(to, Math.ceil(edges[e] + reach));
  let top = 0;
  let low = 1e-12;
  for (let x = first; x < last; x++) {
    const slope = normalDensity((x + 0.5 - edges[e]) / sigma) / sigma;
    for (let c = 0; c < 3; c++) {
      // Moving the edge to the right shows more of the band on its left.
      const rate = slope * (colours[3 * e + c] - colours[3 * e + 3 + c]);
      top += rate * (linear[3 * x + c] - model[3 * (x - from) + c]);
      low += rate * rate;
    }
  }
  const before = e > 0 ? edges[e - 1] + 0.8 : from;
  const after = e + 1 < edges.length ? edges[e + 1] - 0.8 : to;
  const wanted = edges[e] + Math.max(-0.7, Math.min(0.7, top / low));
  const held = Math.max(starts[e] - FURTHEST, Math.min(starts[e] + FURTHEST, wanted));
  if (held > before && held < after) edges[e] = held;
}

/** A line's two edges and its colour in one step: five values, damped Gauss-Newton. */
function improveLine(
  linear: ArrayLike<number>,
  model: Float64Array,
  from: number,
  to: number,
  edges: Float64Array,
  starts: readonly number[],
  k: number,
  sigma: number,
  colours: Float64Array,
): void {
  const [start, end] = [edges[k - 1], edges[k]];
  const first = Math.max(from, Math.floor(start - 3 * sigma));
  const last = Math.min(to, Math.ceil(end + 3 * sigma));
  const normal = Matrix.zeros(5, 5);
  const right = Matrix.zeros(5, 1);
  for (let x = first; x < last; x++) {
    const p = (x + 0.5 - start) / sigma;
    const q = (x + 0.5 - end) / sigma;
    const share = normalCdf(p) - normalCdf(q);
    for (let c = 0; c < 3; c++) {
      const own = colours[3 * k + c];
      const rates = [
        (normalDensity(p) / sigma) * (colours[3 * k - 3 + c] - own),
        (normalDensity(q) / sigma) * (own - colours[3 * k + 3 + c]),
        share,
      ];
      const at = [0, 1, 2 + c];
      const miss = linear[3 * x + c] - model[3 * (x - from) + c];
      for (let i = 0; i < 3; i++) {
        right.set(at[i], 0, right.get(at[i], 0) + rates[i] * miss);
        for (let j = 0; j < 3; j++) {
          normal.set(at[i], at[j], normal.get(at[i], at[j]) + rates[i] * rates[j]);
        }
      }
    }
  }
  for (let i = 0; i < 5; i++) normal.set(i, i, normal.get(i, i) * (1 + DAMPING) + 1e-9);
  const change = solve(normal, right).to1DArray();
  // Half a column, a quarter of full white: further on, the straight-line forecast no longer holds.
  const limited = change.map((v, i) => Math.max(i < 2 ? -0.5 : -0.25, Math.min(i < 2 ? 0.5 : 0.25, v)));
  const [movedStart, movedEnd] = [start + limited[0], end + limited[1]];
  const held = Math.abs(movedStart - starts[k - 1]) <= FURTHEST && Math.abs(movedEnd - starts[k]) <= FURTHEST;
  const before = k > 1 ? edges[k - 2] + 0.8 : from;
  const after = k + 1 < edges.length ? edges[k + 1] - 0.8 : to;
  if (!held || movedStart <= before || movedEnd >= after || movedEnd - movedStart < 0.8) return;
  edges[k - 1] = movedStart;
  edges[k] = movedEnd;
  for (let c = 0; c < 3; c++)
    colours[3 * k + c] = Math.max(0, Math.min(1.2, colours[3 * k + c] + limited[2 + c]));
}

const normalDensity = (q: number): number => Math.exp(-0.5 * q * q) / Math.sqrt(2 * Math.PI);
