import { type BandLine, bandIndexAt } from '../cloth/band-line.js';
import type { AxisLay } from '../shape/copy-shape.js';
import type { Path } from '../shape/path.js';

/**
 * What a seam shows, stretch after stretch: stretch k ends at the part endPart[k] of the seam's length (0 start, 1 end) and shows
 * the chain's band index[k].
 */
export interface Stretches {
  readonly count: number;
  readonly endPart: Float64Array;
  readonly index: Int32Array;
}

/** What the path shows when its copy is laid so. Stretches of no length are left out. */
export function stretchesOf(path: Path, line: BandLine, { sign, offsetMm }: AxisLay): Stretches {
  const { pMm, passedMm, lengthMm } = path;
  const { edgesMm } = line;
  const endPart: number[] = [];
  const index: number[] = [];
  let k = bandIndexAt(line, sign * pMm[0] + offsetMm);
  let reached = 0;
  const end = (part: number): void => {
    if (part > reached) {
      endPart.push(part);
      index.push(k);
      reached = part;
    }
  };
  for (let i = 1; i < pMm.length; i++) {
    const u0 = sign * pMm[i - 1] + offsetMm;
    const u1 = sign * pMm[i] + offsetMm;
    const from = passedMm[i - 1];
    const perU = (passedMm[i] - from) / (u1 - u0);
    if (u1 > u0) {
      while (k + 1 < edgesMm.length - 1 && edgesMm[k + 1] <= u1) {
        end((from + (edgesMm[k + 1] - u0) * perU) / lengthMm);
        k++;
      }
    } else if (u1 < u0) {
      while (k > 0 && edgesMm[k] > u1) {
        end((from + (edgesMm[k] - u0) * perU) / lengthMm);
        k--;
      }
    }
  }
  end(1);
  return { count: endPart.length, endPart: Float64Array.from(endPart), index: Int32Array.from(index) };
}

/** Part of the seam over which `show` of the two sides differs; show: one entry for each band of the chain. */
export function unlikePart(left: Stretches, right: Stretches, show: Int32Array): number {
  let unlike = 0;
  let at = 0;
  let i = 0;
  let j = 0;
  while (i < left.count && j < right.count) {
    const l = left.endPart[i];
    const r = right.endPart[j];
    const next = l < r ? l : r;
    if (show[left.index[i]] !== show[right.index[j]]) unlike += next - at;
    at = next;
    if (l <= next) i++;
    if (r <= next) j++;
  }
  return unlike;
}

/** The stretches over which the two sides differ, neighbours joined: [from, to] as parts of the seam. */
export function unlikeStretches(left: Stretches, right: Stretches, show: Int32Array): [number, number][] {
  const found: [number, number][] = [];
  let at = 0;
  let i = 0;
  let j = 0;
  while (i < left.count && j < right.count) {
    const next = Math.min(left.endPart[i], right.endPart[j]);
    if (show[left.index[i]] !== show[right.index[j]]) {
      const last = found[found.length - 1];
      if (last !== undefined && last[1] >= at - 1e-12) last[1] = next;
      else found.push([at, next]);
    }
    at = next;
    if (left.endPart[i] <= next) i++;
    if (right.endPart[j] <= next) j++;
  }
  return found;
}
