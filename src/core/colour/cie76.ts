/** CIE76 colour difference: the distance in CIELAB. For thresholds and sums; CIEDE2000 says what an eye sees. */
export const cie76 = (p: ArrayLike<number>, q: ArrayLike<number>): number =>
  Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]);
