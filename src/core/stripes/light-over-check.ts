import { Matrix, solve } from 'ml-matrix';
import type { StraightCloth } from '../rectify/straight-cloth.js';
import { type LightField, logLuminance, NODES_ACROSS, NODES_ALONG } from './light-field.js';

/** What falls off along the stripes, and how that differs across: powers of x and y, each -1 to 1 over the picture. */
const TERMS: readonly (readonly [number, number])[] = [
  [0, 1],
  [0, 2],
  [1, 1],
  [2, 1],
  [1, 2],
];

/**
 * Light over a check. Here a column changes colour along its length, so departures from its median are mostly cloth; cells of a
 * fixed size would beat with the bands. A low polynomial does not follow bands: least squares on log luminance with
 * every column's own mean taken out. The part constant along the stripes is left to the repeat.
 */
export function lightOverCheck(cloth: StraightCloth): LightField {
  const { width, height, data } = cloth.picture;
  const columnStep = Math.max(1, Math.floor(width / 400));
  const n = TERMS.length;
  const normal = Matrix.eye(n, n, 1e-3);
  const right = Matrix.zeros(n, 1);
  const basis = (x: number, y: number): number[] => TERMS.map(([p, q]) => x ** p * y ** q);
  for (let x = 0; x < width; x += columnStep) {
    const rows: { y: number; terms: number[] }[] = [];
    for (let y = 0; y < height; y++) {
      const i = y * width + x;
      if (!cloth.cloth[i]) continue;
      rows.push({ y: logLuminance(data, 3 * i), terms: basis((2 * x) / width - 1, (2 * y) / height - 1) });
    }
    if (rows.length < height / 4) continue;
    const meanY = rows.reduce((s, r) => s + r.y, 0) / rows.length;
    const mean = TERMS.map((_, k) => rows.reduce((s, r) => s + r.terms[k], 0) / rows.length);
    for (const r of rows) {
      for (let p = 0; p < n; p++) {
        const own = r.terms[p] - mean[p];
        right.set(p, 0, right.get(p, 0) + own * (r.y - meanY));
        for (let q = p; q < n; q++) normal.set(p, q, normal.get(p, q) + own * (r.terms[q] - mean[q]));
      }
    }
  }
  for (let p = 0; p < n; p++) for (let q = 0; q < p; q++) normal.set(p, q, normal.get(q, p));
  const weights = solve(normal, right).to1DArray();
  const logGain = Float64Array.from({ length: NODES_ACROSS * NODES_ALONG }, (_, i) => {
    const x = (2 * ((i % NODES_ACROSS) + 0.5)) / NODES_ACROSS - 1;
    const y = (2 * (Math.floor(i / NODES_ACROSS) + 0.5)) / NODES_ALONG - 1;
    return basis(x, y).reduce((s, term, k) => s + term * weights[k], 0);
  });
  const mean = logGain.reduce((s, g) => s + g, 0) / logGain.length;
  return { columns: NODES_ACROSS, rows: NODES_ALONG, logGain: logGain.map((g) => g - mean), width, height };
}
