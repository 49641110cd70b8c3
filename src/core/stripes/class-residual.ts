/** One reading of a band instance: where it lies, and one value a repeat must reproduce (NaN: not known). */
export interface ClassReading {
  /** Place across the picture, about -1..1. */
  readonly x: number;
  readonly value: number;
  readonly band: number;
}

export interface ClassResidual {
  /** Sum of squares about the class means and the common drift. */
  readonly rss: number;
  readonly count: number;
  /** Class means and drift terms fitted. */
  readonly parameters: number;
}

/**
 * Least squares of one value on class means (a class for each band) and a smooth drift common to all classes, quadratic in x:
 * what perspective does to widths and light to colours. The means are eliminated by centring within classes
 * (Frisch and Waugh 1933, doi 10.2307/1907330), so the cost is linear in the readings. Null with no freedom left.
 */
export function classResidual(readings: readonly ClassReading[]): ClassResidual | null {
  const used = readings.filter((r) => !Number.isNaN(r.value));
  const sums = new Map<number, { n: number; x: number; q: number; y: number }>();
  for (const { band, x, value } of used) {
    const s = sums.get(band) ?? { n: 0, x: 0, q: 0, y: 0 };
    s.n++;
    s.x += x;
    s.q += x * x;
    s.y += value;
    sums.set(band, s);
  }
  let xx = 0;
  let xq = 0;
  let qq = 0;
  let xy = 0;
  let qy = 0;
  let yy = 0;
  for (const { band, x, value } of used) {
    const s = sums.get(band)!;
    const dx = x - s.x / s.n;
    const dq = x * x - s.q / s.n;
    const dy = value - s.y / s.n;
    xx += dx * dx;
    xq += dx * dq;
    qq += dq * dq;
    xy += dx * dy;
    qy += dq * dy;
    yy += dy * dy;
  }
  // Drift terms one after the other; one that the classes leave no room for is left out.
  let drift = 0;
  let rss = yy;
  if (xx > 1e-9) {
    drift++;
    rss -= (xy * xy) / xx;
    const restQq = qq - (xq * xq) / xx;
    const restQy = qy - (xq * xy) / xx;
    if (restQq > 1e-9 * (1 + qq)) {
      drift++;
      rss -= (restQy * restQy) / restQq;
    }
  }
  const parameters = sums.size + drift;
  return used.length > parameters ? { rss: Math.max(0, rss), count: used.length, parameters } : null;
}
