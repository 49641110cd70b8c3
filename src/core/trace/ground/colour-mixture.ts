/**
 * A sum of normal densities over feature vectors, by expectation maximisation (Dempster, Laird and Rubin 1977,
 * doi 10.1111/j.2517-6161.1977.tb01600.x): what colours a surface shows, however many it has.
 */
export interface Mixture {
  readonly dimensions: number;
  readonly parts: number;
  /** parts x dimensions. */
  readonly means: Float64Array;
  /** Of each part the lower factor L of its inverse covariance's Cholesky inverse: whitened = L^-1 (x - mean). */
  readonly factors: Float64Array;
  /** Log of weight / sqrt(det(2 pi covariance)). */
  readonly logScales: Float64Array;
  readonly weights: Float64Array;
}

/** Rounds of expectation maximisation; the share each pixel has in a part is then settled to a percent or so. */
const ROUNDS = 12;
/** Variance that every part keeps, in the features' own units: 8-bit colours are rounded, and a flat surface would be a spike. */
const FLOOR = 0.6;

/**
 * @param samples n x dimensions, one after the other
 * @param weights of each sample, or null for all alike
 */
export function fitMixture(
  samples: Float32Array,
  dimensions: number,
  parts: number,
  weights: Float32Array | null = null,
): Mixture {
  const n = samples.length / dimensions;
  let shares = nearestShares(samples, dimensions, parts, farthestFirst(samples, dimensions, parts));
  let mixture = mixtureOf(samples, dimensions, parts, shares, weights);
  for (let round = 0; round < ROUNDS; round++) {
    shares = new Float32Array(n * parts);
    for (let i = 0; i < n; i++) posteriors(mixture, samples, i * dimensions, shares, i * parts);
    mixture = mixtureOf(samples, dimensions, parts, shares, weights);
  }
  return mixture;
}

/** Places that lie far from one another, the first at the mean's nearest; no chance in it. */
function farthestFirst(samples: Float32Array, d: number, parts: number): Float64Array {
  const n = samples.length / d;
  const centres = new Float64Array(parts * d);
  for (let i = 0; i < n; i++) for (let c = 0; c < d; c++) centres[c] += samples[i * d + c] / n;
  const away = new Float64Array(n).fill(Number.POSITIVE_INFINITY);
  for (let p = 1; p < parts; p++) {
    for (let i = 0; i < n; i++) {
      let square = 0;
      for (let c = 0; c < d; c++) square += (samples[i * d + c] - centres[(p - 1) * d + c]) ** 2;
      if (square < away[i]) away[i] = square;
    }
    // The very farthest is a speck; what few samples lie beyond is not.
    const order = Float64Array.from(away).sort();
    const limit = order[Math.floor(0.985 * (n - 1))];
    let pick = 0;
    for (let i = 0; i < n; i++) if (away[i] <= limit && away[i] > away[pick] - 1e-9) pick = i;
    if (away[pick] > limit) for (let i = 0; i < n; i++) if (away[i] === limit) pick = i;
    for (let c = 0; c < d; c++) centres[p * d + c] = samples[pick * d + c];
  }
  return centres;
}

function nearestShares(samples: Float32Array, d: number, parts: number, centres: Float64Array): Float32Array {
  const n = samples.length / d;
  const shares = new Float32Array(n * parts);
  for (let round = 0; round < 6; round++) {
    shares.fill(0);
    const sums = new Float64Array(parts * d);
    const counts = new Float64Array(parts);
    for (let i = 0; i < n; i++) {
      let best = 0;
      let least = Number.POSITIVE_INFINITY;
      for (let p = 0; p < parts; p++) {
        let square = 0;
        for (let c = 0; c < d; c++) square += (samples[i * d + c] - centres[p * d + c]) ** 2;
        if (square < least) {
          least = square;
          best = p;
        }
      }
      shares[i * parts + best] = 1;
      counts[best]++;
      for (let c = 0; c < d; c++) sums[best * d + c] += samples[i * d + c];
    }
    for (let p = 0; p < parts; p++) {
      if (counts[p] > 0) for (let c = 0; c < d; c++) centres[p * d + c] = sums[p * d + c] / counts[p];
    }
  }
  return shares;
}

function mixtureOf(
  samples: Float32Array,
  d: number,
  parts: number,
  shares: Float32Array,
  weights: Float32Array | null,
): Mixture {
  const n = samples.length / d;
  const means = new Float64Array(parts * d);
  const factors = new Float64Array(parts * d * d);
  const logScales = new Float64Array(parts);
  const partWeights = new Float64Array(parts);
  let total = 0;
  for (let i = 0; i < n; i++) total += weights ? weights[i] : 1;
  for (let p = 0; p < parts; p++) {
    let mass = 1e-9;
    for (let i = 0; i < n; i++) {
      const w = shares[i * parts + p] * (weights ? weights[i] : 1);
      mass += w;
      for (let c = 0; c < d; c++) means[p * d + c] += w * samples[i * d + c];
    }
    for (let c = 0; c < d; c++) means[p * d + c] /= mass;
    const covariance = new Float64Array(d * d);
    for (let i = 0; i < n; i++) {
      const w = shares[i * parts + p] * (weights ? weights[i] : 1);
      if (w === 0) continue;
      for (let a = 0; a < d; a++) {
        const da = samples[i * d + a] - means[p * d + a];
        for (let b = 0; b <= a; b++) {
          covariance[a * d + b] += (w * da * (samples[i * d + b] - means[p * d + b])) / mass;
        }
      }
    }
    for (let c = 0; c < d; c++) covariance[c * d + c] += FLOOR;
    const logRoot = choleskyInPlace(covariance, d);
    factors.set(covariance, p * d * d);
    partWeights[p] = mass / (total + parts * 1e-9);
    logScales[p] = Math.log(partWeights[p]) - logRoot - (d / 2) * Math.log(2 * Math.PI);
  }
  return { dimensions: d, parts, means, factors, logScales, weights: partWeights };
}

/** Lower triangle of the covariance to its Cholesky factor; gives the log of the factor's determinant. */
function choleskyInPlace(m: Float64Array, d: number): number {
  let logDet = 0;
  for (let j = 0; j < d; j++) {
    let pivot = m[j * d + j];
    for (let k = 0; k < j; k++) pivot -= m[j * d + k] ** 2;
    const root = Math.sqrt(Math.max(1e-9, pivot));
    m[j * d + j] = root;
    logDet += Math.log(root);
    for (let i = j + 1; i < d; i++) {
      let v = m[i * d + j];
      for (let k = 0; k < j; k++) v -= m[i * d + k] * m[j * d + k];
      m[i * d + j] = v / root;
    }
  }
  return logDet;
}

const MOST_DIMENSIONS = 8;
const whitened = new Float64Array(MOST_DIMENSIONS);

/** Log density of one part with its weight at the sample that begins at `at`. */
function logPart(
  { dimensions: d, means, factors, logScales }: Mixture,
  p: number,
  samples: Float32Array,
  at: number,
): number {
  let square = 0;
  for (let i = 0; i < d; i++) {
    let v = samples[at + i] - means[p * d + i];
    for (let k = 0; k < i; k++) v -= factors[(p * d + i) * d + k] * whitened[k];
    v /= factors[(p * d + i) * d + i];
    whitened[i] = v;
    square += v * v;
  }
  return logScales[p] - square / 2;
}

/** Fills shares with how much of the sample is each part's; gives the log density of all. */
export function posteriors(
  mixture: Mixture,
  samples: Float32Array,
  at: number,
  shares: Float32Array,
  to: number,
): number {
  let most = Number.NEGATIVE_INFINITY;
  const { parts } = mixture;
  for (let p = 0; p < parts; p++) {
    const log = logPart(mixture, p, samples, at);
    shares[to + p] = log;
    if (log > most) most = log;
  }
  let sum = 0;
  for (let p = 0; p < parts; p++) {
    const v = Math.exp(shares[to + p] - most);
    shares[to + p] = v;
    sum += v;
  }
  for (let p = 0; p < parts; p++) shares[to + p] /= sum;
  return most + Math.log(sum);
}

/** Log density at the sample that begins at `at`. */
export function logDensity(mixture: Mixture, samples: Float32Array, at: number): number {
  let most = Number.NEGATIVE_INFINITY;
  let sum = 0;
  for (let p = 0; p < mixture.parts; p++) {
    const log = logPart(mixture, p, samples, at);
    if (log > most) {
      sum = sum * Math.exp(most - log) + 1;
      most = log;
    } else sum += Math.exp(log - most);
  }
  return most + Math.log(sum);
}
