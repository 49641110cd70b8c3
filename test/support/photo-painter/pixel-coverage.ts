/**
 * Share of a unit pixel in which value + gradX * x + gradY * y >= 0, x and y running over [-0.5, 0.5].
 * Exact for a straight edge: the sum of two uniform variables has a trapezoidal density, this is its integral.
 */
export function coverage(value: number, gradX: number, gradY: number): number {
  const a = Math.abs(gradX);
  const b = Math.abs(gradY);
  const reach = (a + b) / 2;
  if (value >= reach) return 1;
  if (value <= -reach) return 0;
  const long = a > b ? a : b;
  const short = a > b ? b : a;
  const depth = Math.abs(value);
  const inside =
    depth <= (long - short) / 2 ? 0.5 + depth / long : 1 - (reach - depth) ** 2 / (2 * long * short);
  return value >= 0 ? inside : 1 - inside;
}

/** Share of a pixel within half a width of a line, the signed distance to it being value. */
export function lineCoverage(value: number, halfWidth: number, gradX: number, gradY: number): number {
  return coverage(value + halfWidth, gradX, gradY) - coverage(value - halfWidth, gradX, gradY);
}

/** Smooth 0..1 step centred on 0, width about 2 * softness. */
export function softStep(value: number, softness: number): number {
  const t = value / softness;
  if (t <= -1) return 0;
  if (t >= 1) return 1;
  return 0.5 + 0.75 * t - 0.25 * t * t * t;
}
