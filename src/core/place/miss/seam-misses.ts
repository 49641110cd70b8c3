import { bandIndexAt } from '../cloth/band-line.js';
import type { AxisLay, LaidCopy } from '../shape/copy-shape.js';
import { type Path, placeOn, reversedPath } from '../shape/path.js';
import type { AskedCloth, AskedStripes } from './asked-cloth.js';
import { type BothStretches, eitherUnlike, eitherUnlikePart } from './either-unlike.js';
import { distanceToShown } from './lands.js';
import { type Measure, once } from './measure.js';
import { nearMotifsMm } from './near-motifs.js';
import { type Stretches, stretchesOf, unlikePart, unlikeStretches } from './stretches.js';

/** A seam of a copy: the copy's index, and its line across the stripes and along them (p and q changed over). */
export interface SideOfJoin {
  readonly copy: number;
  readonly path: Path;
  readonly cross: Path;
}

export const sideOfJoin = (copy: number, path: Path): SideOfJoin => ({
  copy,
  path,
  cross: { ...path, pMm: path.qMm, qMm: path.pMm },
});

/** Indices of the copies of a join, each once, and where each side stands among them. */
export function copiesOf(left: SideOfJoin, right: SideOfJoin): { copies: number[]; of: [number, number] } {
  return left.copy === right.copy
    ? { copies: [left.copy], of: [0, 0] }
    : { copies: [left.copy, right.copy], of: [0, 1] };
}

/** What a side shows along it, in either direction of the cloth. */
export interface ShownSide {
  readonly across: (lay: LaidCopy) => Stretches;
  readonly along: ((lay: LaidCopy) => Stretches) | null;
}

export function shownSide(cloth: AskedCloth, side: SideOfJoin): ShownSide {
  const { along } = cloth;
  return {
    across: once((lay) => stretchesOf(side.path, cloth.across.line, lay.across)),
    along: along === null ? null : once((lay) => stretchesOf(side.cross, along.line, lay.along)),
  };
}

/** mm of the seam, the left side's length, along which its two sides show different colours. */
export function meetsMeasure(cloth: AskedCloth, left: SideOfJoin, right: SideOfJoin): Measure {
  const { copies, of } = copiesOf(left, right);
  const [l, r] = [shownSide(cloth, left), shownSide(cloth, right)];
  const show = cloth.across.line.colour;
  const { lengthMm } = left.path;
  const bothOf = showsBoth(cloth, [l, r]);
  const miss =
    bothOf === null
      ? (lays: readonly LaidCopy[]): number =>
          lengthMm * unlikePart(l.across(lays[of[0]]), r.across(lays[of[1]]), show)
      : (lays: readonly LaidCopy[]): number =>
          lengthMm * eitherUnlikePart(bothOf.left(lays[of[0]]), bothOf.right(lays[of[1]]), bothOf.show);
  const asksAlong = bothOf !== null;
  return { copies, miss, asksAlong, asksAcross: true, together: partsOf(left.path, right.path) };
}

/** An edge that moves along a seam moves across the stripes by the seam's own slant: of both sides, the one that slants less by the smaller part. */
function partsOf(left: Path, right: Path): readonly number[] {
  const [l, r] = [left, right].map(({ pMm }) => Math.abs(pMm[pMm.length - 1] - pMm[0]));
  const most = Math.max(l, r);
  return most > 0 ? [l / most, r / most] : [1, 1];
}

/** What both sides of a join show on a check, and by what they are told apart; null on stripes. */
function showsBoth(cloth: AskedCloth, [left, right]: readonly [ShownSide, ShownSide]) {
  if (cloth.along === null || left.along === null || right.along === null) return null;
  const both = (
    across: ShownSide['across'],
    along: ShownSide['across'],
  ): ((lay: LaidCopy) => BothStretches) => once((lay) => ({ across: across(lay), along: along(lay) }));
  return {
    left: both(left.across, left.along),
    right: both(right.across, right.along),
    show: { across: cloth.across.line.colour, along: cloth.along.line.colour },
  };
}

/** The stretches of a join, parts of its length, over which the sides differ. */
export function unlikeOn(
  cloth: AskedCloth,
  sides: readonly [ShownSide, ShownSide],
  [leftLay, rightLay]: readonly [LaidCopy, LaidCopy],
): [number, number][] {
  const bothOf = showsBoth(cloth, sides);
  return bothOf === null
    ? unlikeStretches(sides[0].across(leftLay), sides[1].across(rightLay), cloth.across.line.colour)
    : eitherUnlike(bothOf.left(leftLay), bothOf.right(rightLay), bothOf.show);
}

/** mm across the stripes on the right copy from that place of the seam to the nearest one that shows what the left shows there. */
export function agreesMeasure(
  stripes: AskedStripes,
  direction: 'across' | 'along',
  [left, right]: readonly [SideOfJoin, SideOfJoin],
  at: number,
  by: 'band' | 'colour',
): Measure {
  const { copies, of } = copiesOf(left, right);
  const show = by === 'band' ? stripes.line.band : stripes.line.colour;
  const coordinate = ({ path }: SideOfJoin): number =>
    placeOn(path, at * path.lengthMm)[direction === 'across' ? 0 : 1];
  const [p, q] = [coordinate(left), coordinate(right)];
  return {
    copies,
    miss: (lays) => {
      const leftLay = lays[of[0]][direction];
      const rightLay = lays[of[1]][direction];
      const wanted = show[bandIndexAt(stripes.line, leftLay.sign * p + leftLay.offsetMm)];
      return distanceToShown(stripes.line, (k) => show[k] === wanted, rightLay.sign * q + rightLay.offsetMm);
    },
    asksAlong: direction === 'along',
    asksAcross: direction === 'across',
  };
}

/** How far the band's first showing, counted along the seam from one of its ends, lies outside the limits: mm. */
export function staysMeasure(
  stripes: AskedStripes,
  direction: 'across' | 'along',
  side: SideOfJoin,
  isFromEnd: boolean,
  asked: { readonly band: number; readonly leastMm: number; readonly mostMm: number | null },
): Measure {
  const along = direction === 'across' ? side.path : side.cross;
  const path = isFromEnd ? reversedPath(along) : along;
  const shown = once((lay) => stretchesOf(path, stripes.line, lay[direction]));
  return {
    copies: [side.copy],
    miss: ([lay]) => {
      const distanceMm = firstShowing(shown(lay), stripes.line.band, asked.band) * path.lengthMm;
      return Math.max(0, asked.leastMm - distanceMm, asked.mostMm === null ? 0 : distanceMm - asked.mostMm);
    },
    asksAlong: direction === 'along',
    asksAcross: direction === 'across',
  };
}

/** Part of the seam passed before the band shows; 1 where it does not. */
function firstShowing({ count, endPart, index }: Stretches, bandOf: Int32Array, band: number): number {
  for (let k = 0; k < count; k++) if (bandOf[index[k]] === band) return k === 0 ? 0 : endPart[k - 1];
  return 1;
}

/** mm of the seam nearer to a motif than the margin. */
export function clearMeasure(cloth: AskedCloth, side: SideOfJoin, marginMm: number): Measure {
  const { motifs } = cloth;
  return {
    copies: [side.copy],
    miss: ([lay]) => (motifs === null ? 0 : nearMotifsMm(motifs, side.path, lay, marginMm)),
    asksAlong: true,
    asksAcross: true,
  };
}

/** The coordinate of a point where a copy lies so. */
export const coordinateOf = ({ sign, offsetMm }: AxisLay, at: number): number => sign * at + offsetMm;
