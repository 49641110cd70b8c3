import { inverse, Matrix } from 'ml-matrix';

/** Terms of the smooth light: 1, x, y, x^2, xy, y^2. */
const TERMS = 6;

/**
 * How lightness departs over a picture from what its surfaces would have under even light, as a smooth bump of second order, in units of L.
 * `residuals`: what each place's lightness is above its surface's own; NaN where unknown. Heavy departures count little.
 */
export function smoothLight(
  residuals: Float32Array,
  width: number,
  height: number,
  stride: number,
): (x: number, y: number) => number {
  let coefficients = new Float64Array(TERMS);
  const terms = new Float64Array(TERMS);
  const fill = (x: number, y: number): void => {
    const u = (2 * x) / width - 1;
    const v = (2 * y) / height - 1;
    terms[0] = 1;
    terms[1] = u;
    terms[2] = v;
    terms[3] = u * u;
    terms[4] = u * v;
    terms[5] = v * v;
  };
  const at = (x: number, y: number): number => {
    fill(x, y);
    let sum = 0;
    for (let k = 0; k < TERMS; k++) sum += coefficients[k] * terms[k];
    return sum;
  };
  for (let round = 0; round < 4; round++) {
    const normal = Matrix.zeros(TERMS, TERMS);
    const right = new Float64Array(TERMS);
    for (let y = 0; y < height; y += stride) {
      for (let x = 0; x < width; x += stride) {
        const r = residuals[y * width + x];
        if (Number.isNaN(r)) continue;
        const miss = round === 0 ? r / 4 : r - at(x, y);
        const weight = 1 / (1 + (miss / HEAVY) ** 2);
        fill(x, y);
        for (let a = 0; a < TERMS; a++) {
          right[a] += weight * terms[a] * r;
          for (let b = 0; b < TERMS; b++) normal.set(a, b, normal.get(a, b) + weight * terms[a] * terms[b]);
        }
      }
    }
    for (let k = 0; k < TERMS; k++) normal.set(k, k, normal.get(k, k) + 1e-3);
    const inv = inverse(normal);
    coefficients = new Float64Array(TERMS);
    for (let a = 0; a < TERMS; a++)
      for (let b = 0; b < TERMS; b++) coefficients[a] += inv.get(a, b) * right[b];
  }
  return at;
}

/** Departures beyond this are another surface's, units of L. */
const HEAVY = 4;
