import type { LinearRgb } from '../colour/srgb.js';

export interface Mixture {
  /** Part of each colour, in the order given; sum 1, none negative. */
  readonly parts: readonly number[];
  /** The mixture, linear sRGB. */
  readonly mixed: LinearRgb;
  /** How far the mixture is from the colour seen, relative to it: root of the mean square over the channels. */
  readonly off: number;
}

/** Light at which a relative error starts to count less, so that the darkest dyes do not decide. */
const DARK = 0.03;
/** A third colour must take away this much of the misfit of two, and the misfit be more than this. */
const THIRD_TAKES = 0.5;
const WELL_FITTED = 0.04;

/**
 * Which colours, mixed in linear light as a lens and a pixel mix them, give the colour seen: the two that come nearest,
 * or three where two do not do. Nonnegative least squares over so few colours by trying each pair.
 */
export function unmix(seen: LinearRgb, colours: readonly LinearRgb[]): Mixture {
  const [w0, w1, w2] = seen.map((v) => 1 / (v + DARK));
  const n = colours.length;
  // Differences from the colour seen, scaled, three a colour.
  const d = new Float64Array(3 * n);
  colours.forEach((one, k) => {
    d[3 * k] = (one[0] - seen[0]) * w0;
    d[3 * k + 1] = (one[1] - seen[1]) * w1;
    d[3 * k + 2] = (one[2] - seen[2]) * w2;
  });
  const dot = (i: number, j: number): number =>
    d[3 * i] * d[3 * j] + d[3 * i + 1] * d[3 * j + 1] + d[3 * i + 2] * d[3 * j + 2];
  let least = dot(0, 0);
  let best: readonly (readonly [number, number])[] = [[0, 1]];
  for (let i = 0; i < n; i++) {
    for (let j = i + 1; j < n; j++) {
      const ii = dot(i, i);
      const ij = dot(i, j);
      const jj = dot(j, j);
      const size = ii + jj - 2 * ij;
      const t = size > 0 ? Math.max(0, Math.min(1, (ii - ij) / size)) : 0;
      const off = (1 - t) ** 2 * ii + 2 * t * (1 - t) * ij + t * t * jj;
      if (off >= least) continue;
      least = off;
      best = [
        [i, 1 - t],
        [j, t],
      ];
    }
  }
  if (least > 3 * WELL_FITTED ** 2) {
    let third = THIRD_TAKES ** 2 * least;
    for (let i = 0; i < n; i++) {
      for (let j = i + 1; j < n; j++) {
        for (let k = j + 1; k < n; k++) {
          // Normal equations of the differences from colour i.
          const ii = dot(i, i);
          const pp = dot(j, j) - 2 * dot(i, j) + ii;
          const qq = dot(k, k) - 2 * dot(i, k) + ii;
          const pq = dot(j, k) - dot(i, j) - dot(i, k) + ii;
          const sp = ii - dot(i, j);
          const sq = ii - dot(i, k);
          const det = pp * qq - pq * pq;
          if (!(det > 1e-6 * pp * qq)) continue;
          const a = (sp * qq - sq * pq) / det;
          const b = (sq * pp - sp * pq) / det;
          if (a < 0 || b < 0 || a + b > 1) continue;
          const off = ii - 2 * a * sp - 2 * b * sq + a * a * pp + b * b * qq + 2 * a * b * pq;
          if (off >= third) continue;
          third = off;
          least = off;
          best = [
            [i, 1 - a - b],
            [j, a],
            [k, b],
          ];
        }
      }
    }
  }
  const parts = new Array<number>(n).fill(0);
  const mixed: [number, number, number] = [0, 0, 0];
  for (const [k, part] of best) {
    parts[k] = part;
    for (let c = 0; c < 3; c++) mixed[c] += part * colours[k][c];
  }
  return { parts, mixed, off: Math.sqrt(Math.max(0, least) / 3) };
}
