/** Plain geometry of closed outlines, written without a glance at the program's own. */
export type Corner = readonly [number, number];

export function pointToEdge([x, y]: Corner, [ax, ay]: Corner, [bx, by]: Corner): number {
  const [dx, dy] = [bx - ax, by - ay];
  const square = dx * dx + dy * dy;
  const part = square === 0 ? 0 : Math.min(1, Math.max(0, ((x - ax) * dx + (y - ay) * dy) / square));
  return Math.hypot(x - ax - part * dx, y - ay - part * dy);
}

const cross = (a: Corner, b: Corner, c: Corner): number =>
  (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);

const length = (a: Corner, b: Corner): number => Math.hypot(b[0] - a[0], b[1] - a[1]);

/** Each edge has both ends of the other clearly (more than so many mm) on its two sides. */
function cuts(a: Corner, b: Corner, c: Corner, d: Corner, clearMm: number): boolean {
  const [ab, cd] = [length(a, b), length(c, d)];
  if (ab === 0 || cd === 0) return false;
  const [c1, d1] = [cross(a, b, c) / ab, cross(a, b, d) / ab];
  const [a1, b1] = [cross(c, d, a) / cd, cross(c, d, b) / cd];
  const apart = (p: number, q: number): boolean =>
    (p > clearMm && q < -clearMm) || (p < -clearMm && q > clearMm);
  return apart(c1, d1) && apart(a1, b1);
}

export function isInside(at: Corner, outline: readonly Corner[]): boolean {
  let inside = false;
  outline.forEach((a, k) => {
    const b = outline[(k + 1) % outline.length];
    if (a[1] > at[1] !== b[1] > at[1] && at[0] < a[0] + ((at[1] - a[1]) / (b[1] - a[1])) * (b[0] - a[0]))
      inside = !inside;
  });
  return inside;
}

const distanceToRim = (at: Corner, outline: readonly Corner[]): number =>
  Math.min(...outline.map((a, k) => pointToEdge(at, a, outline[(k + 1) % outline.length])));

/** Corners and places between them, every so many mm. */
function rimPoints(outline: readonly Corner[], everyMm: number): Corner[] {
  return outline.flatMap((a, k) => {
    const b = outline[(k + 1) % outline.length];
    const parts = Math.max(1, Math.ceil(length(a, b) / everyMm));
    return Array.from(
      { length: parts },
      (_, i): Corner => [a[0] + (i / parts) * (b[0] - a[0]), a[1] + (i / parts) * (b[1] - a[1])],
    );
  });
}

/** Some place well inside. */
function innerPoint(outline: readonly Corner[]): Corner {
  const ys = outline.map(([, y]) => y);
  const [low, high] = [Math.min(...ys), Math.max(...ys)];
  let best: Corner = outline[0];
  let widest = 0;
  for (let i = 1; i < 16; i++) {
    const y = low + ((i + 0.37) / 17) * (high - low);
    const xs: number[] = [];
    outline.forEach((a, k) => {
      const b = outline[(k + 1) % outline.length];
      if (a[1] > y !== b[1] > y) xs.push(a[0] + ((y - a[1]) / (b[1] - a[1])) * (b[0] - a[0]));
    });
    xs.sort((p, q) => p - q);
    for (let k = 0; k + 1 < xs.length; k += 2)
      if (xs[k + 1] - xs[k] > widest) {
        widest = xs[k + 1] - xs[k];
        best = [(xs[k] + xs[k + 1]) / 2, y];
      }
  }
  return best;
}

/** How far two outlines lie apart; below 0 where they overlap by more than so many mm. */
export function apartMm(one: readonly Corner[], other: readonly Corner[], clearMm: number): number {
  let least = Infinity;
  for (let i = 0; i < one.length; i++) {
    const [a, b] = [one[i], one[(i + 1) % one.length]];
    for (let k = 0; k < other.length; k++) {
      const [c, d] = [other[k], other[(k + 1) % other.length]];
      if (cuts(a, b, c, d, clearMm)) return -1;
      least = Math.min(
        least,
        pointToEdge(a, c, d),
        pointToEdge(b, c, d),
        pointToEdge(c, a, b),
        pointToEdge(d, a, b),
      );
    }
  }
  const lies = (at: Corner, within: readonly Corner[]): boolean =>
    isInside(at, within) && distanceToRim(at, within) > clearMm;
  const size = Math.min(...[one, other].map((outline) => distanceToRim(innerPoint(outline), outline)));
  for (const [from, within] of [
    [one, other],
    [other, one],
  ]) {
    if (lies(innerPoint(from), within)) return -1;
    if (least <= clearMm && rimPoints(from, Math.max(1, size)).some((at) => lies(at, within))) return -1;
  }
  return least;
}
