import type { Point } from '../../math/matrix3.js';
import { flipped } from '../miss/area-misses.js';
import type { AskedCloth, AskedStripes } from '../miss/asked-cloth.js';
import type { MotifBoxes } from '../miss/near-motifs.js';
import { type SideOfJoin, shownSide, unlikeOn } from '../miss/seam-misses.js';
import { stripsOver } from '../miss/shown-area.js';
import type { FoundJoin } from '../plan/plan-terms.js';
import { areaProfile } from '../shape/area-profile.js';
import type { LaidCopy } from '../shape/copy-shape.js';
import { placeOn } from '../shape/path.js';

/** A strip of cloth over a copy, in the copy's own coordinate, with the index of its colour. */
export interface StripOnCopy {
  readonly fromMm: number;
  readonly toMm: number;
  readonly colour: number;
}

/** The stripes that a copy shows when it lies so, in one direction. */
export function stripsOnCopy(
  outline: readonly Point[],
  stripes: AskedStripes,
  lay: LaidCopy,
  axis: 'across' | 'along',
): StripOnCopy[] {
  const profile = areaProfile([axis === 'across' ? outline : flipped(outline)]);
  const { endMm, index } = stripsOver(profile, stripes.line, lay[axis]);
  return Array.from(endMm, (toMm, k) => ({
    fromMm: k === 0 ? profile.fromMm[0] : endMm[k - 1],
    toMm,
    colour: stripes.line.colour[index[k]],
  }));
}

/** The boxes of the print that touch a copy's extent when it lies so, in its own frame, each with the number of its motif in the list. */
export function motifsOnCopy(
  { acrossMm, alongMm, dropMm, boxes }: MotifBoxes,
  outline: readonly Point[],
  { across, along }: LaidCopy,
): { readonly at: Point; readonly halfP: number; readonly halfQ: number; readonly motif: number }[] {
  const us = outline.map(([p]) => across.sign * p + across.offsetMm);
  const vs = outline.map(([, q]) => along.sign * q + along.offsetMm);
  const [lowU, highU, lowV, highV] = [Math.min(...us), Math.max(...us), Math.min(...vs), Math.max(...vs)];
  return boxes.flatMap(({ u, v, halfU, halfV }, motif) => {
    const found: { at: Point; halfP: number; halfQ: number; motif: number }[] = [];
    for (let k = Math.ceil((lowU - halfU - u) / acrossMm); u + k * acrossMm - halfU <= highU; k++) {
      const first = v + k * dropMm;
      for (let j = Math.ceil((lowV - halfV - first) / alongMm); first + j * alongMm - halfV <= highV; j++)
        found.push({
          at: [
            across.sign * (u + k * acrossMm - across.offsetMm),
            along.sign * (first + j * alongMm - along.offsetMm),
          ],
          halfP: halfU,
          halfQ: halfV,
          motif,
        });
    }
    return found;
  });
}

/** The parts of a copy's seams along which its mates show other colours, as lines in its stripe frame. */
export function unlikeLines(
  cloth: AskedCloth,
  joins: readonly FoundJoin[],
  lays: readonly LaidCopy[],
  copy: number,
): Point[][] {
  return joins.flatMap((join) => {
    const sides = [join.left, join.right].filter((side) => side.copy === copy);
    if (sides.length === 0) return [];
    const unlike = unlikeOn(
      cloth,
      [shownSide(cloth, join.left), shownSide(cloth, join.right)],
      [lays[join.left.copy], lays[join.right.copy]],
    );
    return sides.flatMap((side) => unlike.map(([from, to]) => partOf(side, from, to)));
  });
}

/** A stretch of a seam, from and to as parts of its length. */
function partOf({ path }: SideOfJoin, from: number, to: number): Point[] {
  const [start, end] = [from * path.lengthMm, to * path.lengthMm];
  const line: Point[] = [placeOn(path, start)];
  path.passedMm.forEach((passed, k) => {
    if (passed > start && passed < end) line.push([path.pMm[k], path.qMm[k]]);
  });
  line.push(placeOn(path, end));
  return line;
}
