import type { LaidCopy } from '../shape/copy-shape.js';
import type { Path } from '../shape/path.js';

/** Motifs as boxes that come again on a lattice: (across, drop) and (0, along); mm, cloth frame. */
export interface MotifBoxes {
  readonly acrossMm: number;
  readonly alongMm: number;
  readonly dropMm: number;
  readonly boxes: readonly {
    readonly u: number;
    readonly v: number;
    readonly halfU: number;
    readonly halfV: number;
  }[];
}

/** mm of the path nearer than marginMm to a motif's box, or inside one, when the copy lies so. */
export function nearMotifsMm(motifs: MotifBoxes, path: Path, lay: LaidCopy, marginMm: number): number {
  const { pMm, qMm } = path;
  let near = 0;
  const found: [number, number][] = [];
  for (let i = 1; i < pMm.length; i++) {
    const u0 = lay.across.sign * pMm[i - 1] + lay.across.offsetMm;
    const v0 = lay.along.sign * qMm[i - 1] + lay.along.offsetMm;
    const du = lay.across.sign * (pMm[i] - pMm[i - 1]);
    const dv = lay.along.sign * (qMm[i] - qMm[i - 1]);
    const length = Math.hypot(du, dv);
    if (length === 0) continue;
    found.length = 0;
    stretchesNear(motifs, [u0, v0, du, dv], marginMm, found);
    near += length * covered(found);
  }
  return near;
}

/** Parts (0 .. 1) of one straight stretch that lie near a box, one for each box. */
function stretchesNear(
  { acrossMm, alongMm, dropMm, boxes }: MotifBoxes,
  line: readonly [number, number, number, number],
  marginMm: number,
  found: [number, number][],
): void {
  const [u0, v0, du, dv] = line;
  const lowU = Math.min(u0, u0 + du) - marginMm;
  const highU = Math.max(u0, u0 + du) + marginMm;
  const lowV = Math.min(v0, v0 + dv) - marginMm;
  const highV = Math.max(v0, v0 + dv) + marginMm;
  for (const { u, v, halfU, halfV } of boxes) {
    const first = Math.ceil((lowU - halfU - u) / acrossMm);
    const last = Math.floor((highU + halfU - u) / acrossMm);
    for (let k = first; k <= last; k++) {
      const middleV = v + k * dropMm;
      const from = Math.ceil((lowV - halfV - middleV) / alongMm);
      const to = Math.floor((highV + halfV - middleV) / alongMm);
      for (let j = from; j <= to; j++) {
        const part = partInRoundedBox(
          [u0 - u - k * acrossMm, v0 - middleV - j * alongMm, du, dv],
          halfU,
          halfV,
          marginMm,
        );
        if (part !== null) found.push(part);
      }
    }
  }
}

/**
 * Part of a stretch within marginMm of a box about the origin. All places so near form a convex shape, two crossed boxes and a disc at
 * each corner, so the part is one, from the earliest entry into any of them to the latest exit.
 */
function partInRoundedBox(
  [x, y, dx, dy]: readonly [number, number, number, number],
  halfX: number,
  halfY: number,
  marginMm: number,
): [number, number] | null {
  let enter = Number.POSITIVE_INFINITY;
  let leave = Number.NEGATIVE_INFINITY;
  const take = (from: number, to: number): void => {
    const a = Math.max(0, from);
    const b = Math.min(1, to);
    if (b <= a) return;
    if (a < enter) enter = a;
    if (b > leave) leave = b;
  };
  const inBox = (hx: number, hy: number): void => {
    let from = 0;
    let to = 1;
    for (const [at, step, half] of [
      [x, dx, hx],
      [y, dy, hy],
    ]) {
      if (step === 0) {
        if (Math.abs(at) >= half) return;
      } else {
        const one = (-half - at) / step;
        const other = (half - at) / step;
        from = Math.max(from, Math.min(one, other));
        to = Math.min(to, Math.max(one, other));
      }
    }
    take(from, to);
  };
  inBox(halfX + marginMm, halfY);
  inBox(halfX, halfY + marginMm);
  if (marginMm > 0) {
    const a = dx * dx + dy * dy;
    for (const cx of [-halfX, halfX])
      for (const cy of [-halfY, halfY]) {
        const b = (x - cx) * dx + (y - cy) * dy;
        const c = (x - cx) ** 2 + (y - cy) ** 2 - marginMm * marginMm;
        const root = b * b - a * c;
        if (root > 0) take((-b - Math.sqrt(root)) / a, (-b + Math.sqrt(root)) / a);
      }
  }
  return leave > enter ? [enter, leave] : null;
}

/** Total length of stretches, what lies in several of them counted once. */
function covered(stretches: [number, number][]): number {
  if (stretches.length === 0) return 0;
  stretches.sort((a, b) => a[0] - b[0]);
  let total = 0;
  let [from, to] = stretches[0];
  for (const [a, b] of stretches) {
    if (a > to) {
      total += to - from;
      [from, to] = [a, b];
    } else if (b > to) to = b;
  }
  return total + to - from;
}
