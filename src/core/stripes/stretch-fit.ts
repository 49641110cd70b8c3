/** Where the edges of a repeating cloth lie in a picture that perspective stretches smoothly. */
export interface StretchFit {
  /** Column where repeats begin, per count of repeats t: from + step * t + bend * t^2. */
  readonly from: number;
  readonly step: number;
  readonly bend: number;
}

/**
 * Least squares for start, repeat and stretch from edges: `counts` tells which band begins at each edge, counted through the cloth,
 * and may be null; `offsets` where each band begins in its repeat, as a share of the repeat. Null with fewer than three edges
 * or when all are of one place.
 */
export function fitStretch(
  columns: readonly number[],
  counts: readonly (number | null)[],
  offsets: readonly number[],
): StretchFit | null {
  const n = offsets.length;
  const used = columns.flatMap((x, i) => {
    const count = counts[i];
    if (count === null) return [];
    const repeat = Math.floor(count / n);
    return [{ x, t: repeat + offsets[count - n * repeat] }];
  });
  const ts = used.map((p) => p.t);
  const span = Math.max(...ts) - Math.min(...ts);
  if (used.length < 3 || !(span > 0)) return null;
  const middle = (Math.max(...ts) + Math.min(...ts)) / 2;
  // Sums of powers of s = (t - middle) / span; a stretch is only asked for when repeats to compare are in view.
  const bends = span >= 1.5 && used.length >= 5;
  const m = [0, 0, 0, 0, 0];
  const r = [0, 0, 0];
  for (const p of used) {
    const s = (p.t - middle) / span;
    let power = 1;
    for (let k = 0; k < 5; k++, power *= s) {
      m[k] += power;
      if (k < 3) r[k] += power * p.x;
    }
  }
  const [a, b, c] = bends ? solve3(m, r) : [...solve2(m, r), 0];
  const bend = c / (span * span);
  const step = b / span - 2 * bend * middle;
  return { from: a - (b / span) * middle + bend * middle * middle, step, bend };
}

/** Repeat at a column: how far one repeat is from there on, by the fit's own slope. */
export function repeatAt({ from, step, bend }: StretchFit, column: number): number {
  let t = (column - from) / step;
  for (let i = 0; i < 12; i++) t -= (from + step * t + bend * t * t - column) / (step + 2 * bend * t);
  return step + 2 * bend * t;
}

function solve2(m: readonly number[], r: readonly number[]): [number, number] {
  const det = m[0] * m[2] - m[1] * m[1];
  return [(r[0] * m[2] - r[1] * m[1]) / det, (m[0] * r[1] - m[1] * r[0]) / det];
}

/** Normal equations of a parabola; Cramer's rule is good enough for centred and scaled abscissae. */
function solve3(m: readonly number[], r: readonly number[]): [number, number, number] {
  const det3 = (p: readonly number[], q: readonly number[], s: readonly number[]): number =>
    p[0] * (q[1] * s[2] - q[2] * s[1]) -
    p[1] * (q[0] * s[2] - q[2] * s[0]) +
    p[2] * (q[0] * s[1] - q[1] * s[0]);
  const rows = [m.slice(0, 3), m.slice(1, 4), m.slice(2, 5)];
  const whole = det3(rows[0], rows[1], rows[2]);
  const part = (k: number): number => {
    const swapped = rows.map((row, i) => row.map((v, j) => (j === k ? r[i] : v)));
    return det3(swapped[0], swapped[1], swapped[2]) / whole;
  };
  return [part(0), part(1), part(2)];
}
