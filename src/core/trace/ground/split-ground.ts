import type { Raster } from '../../raster/raster.js';
import { fitMixture, logDensity, type Mixture, posteriors } from './colour-mixture.js';
import { smoothLight } from './even-light.js';
import { FEATURES, featuresOf, tollsOf } from './features.js';
import { shortestBorder } from './shortest-border.js';

/** How many colours a picture, its ground (boards, seams, lines of a mat) and its paper are taken to have. */
const PARTS = { all: 8, ground: 6, paper: 4 } as const;
/** Width of the rim, as a part of the picture's short side: what paper lies wholly in the picture leaves to the ground. */
const RIM = 0.06;
/** The same where paper is known to lie inside it. */
const NARROW_RIM = 0.025;
/** What counts as the picture's frame, px of the small copy. */
export const FRAME = 2;
/** Nobody is surer than this: log odds. */
const SUREST = 4;
/** Toll of a border, in units of log odds: patches of fewer than a few px that differ a little are no surface. */
const TOLL = 3;
/** Rounds in which the border settles, from nothing and from one that is nearly right. */
const ROUNDS = 100;
const MORE_ROUNDS = 40;

export type GroundSought = 'framed' | 'rim' | 'round';

export interface GroundSplit {
  readonly width: number;
  readonly height: number;
  /** 0 ground to 1 paper. */
  readonly paper: Float32Array;
}

/**
 * Tells paper from what it lies on, on a small copy of the picture. First by where colours are found: a colour that the picture has more of
 * than its rim has is the paper's. Then each side's own colours are learnt, the light evened between, and the border drawn anew, until both
 * agree.
 *
 * @param small a few hundred px wide; `finer` is four times its size either way
 * @param hidden 1 where rulers and the like lie, size of `small`
 * @param ground what is taken for the ground: all that lies on the picture's frame (`framed`: boards of several tones are one ground, and
 *   paper that runs out of the picture is none), what the rim has more of than the picture (`rim`), or of that only what shows on half of
 *   the rim at least (`round`)
 */
export function splitGround(
  small: Raster<Uint8Array>,
  finer: Raster<Uint8Array>,
  hidden: Uint8Array,
  ground: GroundSought = 'rim',
): GroundSplit {
  const framed = ground === 'framed';
  const { width, height } = small;
  const n = width * height;
  const features = featuresOf(small, finer);
  const tolls = tollsOf(features, FEATURES, width, height, TOLL);
  const rim = rimOf(width, height, framed ? NARROW_RIM : RIM);
  const votes = firstVotes(features, rim, hidden, width, ground);
  if (framed) outsideIn(votes, width, height);
  let paper = shortestBorder(width, height, votes, tolls, ROUNDS);
  for (let round = 0; round < 3; round++) {
    const table = fitMixture(
      picked(features, hidden, (i) => paper[i] < 0.5),
      FEATURES,
      PARTS.ground,
    );
    const sheet = picked(features, hidden, (i) => paper[i] > 0.5);
    if (sheet.length < 40 * FEATURES) break;
    const own = fitMixture(sheet, FEATURES, PARTS.paper);
    if (round < 2) evenLight(features, paper, hidden, table, own, width, height);
    for (let i = 0; i < n; i++) {
      votes[i] = hidden[i]
        ? 0
        : limited(logDensity(table, features, FEATURES * i) - logDensity(own, features, FEATURES * i));
    }
    if (framed) outsideIn(votes, width, height);
    paper = shortestBorder(width, height, votes, tolls, MORE_ROUNDS, paper);
  }
  return { width, height, paper };
}

/** The frame itself is ground, whatever its colour. */
function outsideIn(votes: Float32Array, width: number, height: number): void {
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      if (x < FRAME || y < FRAME || x >= width - FRAME || y >= height - FRAME)
        votes[y * width + x] = 2 * SUREST;
    }
  }
}

const limited = (v: number): number => (v > SUREST ? SUREST : v < -SUREST ? -SUREST : v);

function rimOf(width: number, height: number, part: number): Uint8Array {
  const deep = Math.max(3, Math.round(part * Math.min(width, height)));
  const rim = new Uint8Array(width * height);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      if (x < deep || y < deep || x >= width - deep || y >= height - deep) rim[y * width + x] = 1;
    }
  }
  return rim;
}

/** Enough for some ten colours of which the least is a hundredth. */
const SAMPLES = 2500;

/** Samples of the places asked for, some thousands at most. */
function picked(features: Float32Array, hidden: Uint8Array, wanted: (i: number) => boolean): Float32Array {
  const places: number[] = [];
  for (let i = 0; i < hidden.length; i++) if (hidden[i] === 0 && wanted(i)) places.push(i);
  const step = Math.max(1, Math.floor(places.length / SAMPLES));
  const kept = places.filter((_, k) => k % step === 0);
  const out = new Float32Array(kept.length * FEATURES);
  kept.forEach((i, k) => {
    out.set(features.subarray(FEATURES * i, FEATURES * (i + 1)), FEATURES * k);
  });
  return out;
}

/** By how much more of each colour the rim has than all of the picture. */
function firstVotes(
  features: Float32Array,
  rim: Uint8Array,
  hidden: Uint8Array,
  width: number,
  ground: GroundSought,
): Float32Array {
  const framed = ground === 'framed';
  const n = rim.length;
  const votes = new Float32Array(n);
  flattened(features, rim, hidden, width);
  const all = fitMixture(
    picked(features, hidden, () => true),
    FEATURES,
    PARTS.all,
  );
  const shares = new Float32Array(n * all.parts);
  const inRim = new Float64Array(all.parts).fill(1e-4);
  const inAll = new Float64Array(all.parts).fill(1e-4);
  const alongRim = new Float64Array(all.parts * RIM_CELLS);
  let rims = 0;
  let alls = 0;
  for (let i = 0; i < n; i++) {
    if (hidden[i]) continue;
    posteriors(all, features, FEATURES * i, shares, i * all.parts);
    alls++;
    rims += rim[i];
    for (let p = 0; p < all.parts; p++) {
      inAll[p] += shares[i * all.parts + p];
      if (rim[i] === 0) continue;
      inRim[p] += shares[i * all.parts + p];
      alongRim[p * RIM_CELLS + rimCell(i % width, Math.floor(i / width), width, n / width)] +=
        shares[i * all.parts + p];
    }
  }
  for (let p = 0; p < all.parts && !framed; p++)
    inRim[p] *= spreadAlong(alongRim, p, ground === 'round' ? RIM_CELLS / 2 : LEAST_SPREAD);
  for (let i = 0; i < n; i++) {
    if (hidden[i]) continue;
    let odds = 0;
    for (let p = 0; p < all.parts; p++) {
      odds += (shares[i * all.parts + p] * (inRim[p] / rims)) / (inAll[p] / alls);
    }
    votes[i] = limited(2 * Math.log(odds / (framed ? FRAMED_ODDS : RIM_ODDS) + 1e-3));
  }
  return votes;
}

/** The rim is told in so many parts by direction from the middle. */
const RIM_CELLS = 32;
/** A colour found in fewer of them than this, all told, is one thing at the rim: paper that runs out of the picture, say. */
const LEAST_SPREAD = 8;

const rimCell = (x: number, y: number, width: number, height: number): number => {
  const turn = Math.atan2(y / height - 0.5, x / width - 0.5) / (2 * Math.PI) + 0.5;
  return Math.min(RIM_CELLS - 1, Math.floor(turn * RIM_CELLS));
};

/** How much of a colour's presence at the rim counts: all where it is found all round, little where it is found in one place. */
function spreadAlong(alongRim: Float64Array, p: number, least: number): number {
  const own = alongRim.subarray(p * RIM_CELLS, (p + 1) * RIM_CELLS);
  const sum = own.reduce((a, b) => a + b, 0);
  const squares = own.reduce((a, b) => a + b * b, 0);
  // The number of cells that would hold it evenly.
  const cells = squares > 0 ? (sum * sum) / squares : 0;
  return Math.min(1, (cells / least) ** 2);
}

/** What the rim has this much of, for what the whole has, is as likely paper's as the ground's. */
const RIM_ODDS = 0.6;
/** Where paper is known to lie inside the rim: what shows there at all, but for what the mixture's parts blur. */
const FRAMED_ODDS = 0.2;

/** Takes off the lightness that the rim shows to run smoothly over the picture. */
function flattened(features: Float32Array, rim: Uint8Array, hidden: Uint8Array, width: number): void {
  const n = rim.length;
  const height = n / width;
  let sum = 0;
  let count = 0;
  for (let i = 0; i < n; i++) {
    if (rim[i] && !hidden[i]) {
      sum += features[FEATURES * i];
      count++;
    }
  }
  const residuals = new Float32Array(n).fill(Number.NaN);
  for (let i = 0; i < n; i++) if (rim[i] && !hidden[i]) residuals[i] = features[FEATURES * i] - sum / count;
  takeLight(features, smoothLight(residuals, width, height, 1), width, height);
}

function takeLight(
  features: Float32Array,
  light: (x: number, y: number) => number,
  width: number,
  height: number,
): void {
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0; x < width; x++, i += FEATURES) features[i] -= light(x, y);
  }
}

/** The same from ground and paper together, each against the mean of its own colour there. */
function evenLight(
  features: Float32Array,
  paper: Float32Array,
  hidden: Uint8Array,
  ground: Mixture,
  own: Mixture,
  width: number,
  height: number,
): void {
  const n = width * height;
  const residuals = new Float32Array(n).fill(Number.NaN);
  const shares = new Float32Array(Math.max(ground.parts, own.parts));
  for (let i = 0; i < n; i++) {
    if (hidden[i] || (paper[i] > 0.1 && paper[i] < 0.9)) continue;
    const side = paper[i] > 0.5 ? own : ground;
    // By chroma and texture as well as lightness: the part the place belongs to.
    posteriors(side, features, FEATURES * i, shares, 0);
    let mean = 0;
    for (let p = 0; p < side.parts; p++) mean += shares[p] * side.means[p * FEATURES];
    residuals[i] = features[FEATURES * i] - mean;
  }
  takeLight(features, smoothLight(residuals, width, height, 2), width, height);
}
