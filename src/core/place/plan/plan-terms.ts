import type { Point } from '../../math/matrix3.js';
import { partsNearLine } from '../../pieces/geometry/polygons.js';
import type { StripesOfCloth } from '../cloth/placing-cloth.js';
import { alikeMeasure, showsMeasure } from '../miss/area-misses.js';
import type { AskedCloth, AskedStripes } from '../miss/asked-cloth.js';
import { landsMiss } from '../miss/lands.js';
import type { Measure } from '../miss/measure.js';
import {
  agreesMeasure,
  clearMeasure,
  coordinateOf,
  meetsMeasure,
  type SideOfJoin,
  sideOfJoin,
  staysMeasure,
} from '../miss/seam-misses.js';
import type { Term } from '../search/problem.js';
import type { NamedPath } from '../shape/copy-shape.js';
import { reversedPath } from '../shape/path.js';
import { named, UnknownName } from './names.js';
import { type Direction, type Half, type Join, type JoinedSeam, missesByShare, type Wish } from './plan.js';

/** A share counts as so many mm. */
export const MM_OF_A_SHARE = 100;

/** A join with its sides found. */
export interface FoundJoin {
  readonly id: string;
  readonly left: SideOfJoin;
  readonly right: SideOfJoin;
}

/** What the names of a plan stand for. Null cloth: plain. */
export interface PlanNames {
  readonly cloth: AskedCloth | null;
  readonly copies: ReadonlyMap<string, number>;
  readonly shapes: AskedCloth['copies'];
  /** Piece of each copy. */
  readonly joins: ReadonlyMap<string, FoundJoin>;
}

export function findJoins(
  joins: readonly Join[],
  copies: ReadonlyMap<string, number>,
  shapes: AskedCloth['copies'],
): Map<string, FoundJoin> {
  const found = new Map<string, FoundJoin>();
  for (const { id, left, right } of joins) {
    if (found.has(id)) throw new UnknownName(`Two joins have the id "${id}": give each its own`);
    const where = `The join "${id}"`;
    const side = (of: JoinedSeam): SideOfJoin => {
      const copy = named(copies, of.copy, 'copy', where);
      const { path } = seamOn(shapes, copy, of, where);
      return sideOfJoin(copy, of.reversed ? reversedPath(path) : path);
    };
    found.set(id, { id, left: side(left), right: side(right) });
  }
  return found;
}

/** Joins as they are where the two axes have changed places. */
export const findJoinsSwapped = (joins: ReadonlyMap<string, FoundJoin>): Map<string, FoundJoin> => {
  const over = ({ copy, path, cross }: SideOfJoin): SideOfJoin => ({ copy, path: cross, cross: path });
  return new Map(
    [...joins].map(([id, join]) => [id, { id, left: over(join.left), right: over(join.right) }]),
  );
};

function seamOn(
  shapes: AskedCloth['copies'],
  copy: number,
  { seam, half }: { readonly seam: string; readonly half: Half },
  where: string,
): NamedPath {
  const { id, seams, piece } = shapes[copy];
  named(seams.given, seam, `seam of copy "${id}",`, where);
  return onHalf(
    seams,
    half,
    seam,
    `${where} speaks of the mirrored half of "${id}", but the piece "${piece}" has no fold`,
  );
}

/** What is known of a name on one half; it is known to be on the given one. */
function onHalf<T>(
  of: Readonly<Record<Half, ReadonlyMap<string, T>>>,
  half: Half,
  id: string,
  complaint: string,
): T {
  const found = of[half].get(id);
  if (found === undefined) throw new UnknownName(complaint);
  return found;
}

/** The wishes as terms of the search, in the plan's order. Throws UnknownName. */
export const planTerms = (wishes: readonly Wish[], names: PlanNames): Term[] =>
  wishes.map((wish) => ({
    measure: measureOf(wish, names),
    weight: wish.weight * (missesByShare(wish.kind) ? MM_OF_A_SHARE : 1),
    must: wish.must,
    within: wish.within,
  }));

/** Nothing to miss: what plain cloth makes of a wish that two places be alike. */
const never = (copies: readonly number[]): Measure => ({
  copies,
  miss: () => 0,
  asksAlong: false,
  asksAcross: false,
});

function measureOf(wish: Wish, names: PlanNames): Measure {
  const where = `The wish "${wish.id}"`;
  const { cloth, copies, shapes, joins } = names;
  const copyOf = (id: string): number => named(copies, id, 'copy', where);
  if (wish.kind === 'meets') {
    const { left, right } = named(joins, wish.join, 'join', where);
    return cloth === null ? never([...new Set([left.copy, right.copy])]) : meetsMeasure(cloth, left, right);
  }
  if (wish.kind === 'alike') {
    const indices = [...new Set(wish.copies.map(copyOf))];
    const other = indices.find((copy) => shapes[copy].piece !== shapes[indices[0]].piece);
    if (other !== undefined)
      throw new UnknownName(`${where} asks copies of several pieces to be alike: name copies of one piece`);
    if (indices.length < 2) throw new UnknownName(`${where} names one copy: name two or more of one piece`);
    return cloth === null ? never(indices) : alikeMeasure(cloth, indices);
  }
  if (cloth === null)
    throw new UnknownName(
      `${where} asks for stripes, but the cloth of the plan is plain: leave it out, or give the cloth a model`,
    );
  switch (wish.kind) {
    case 'lands': {
      const copy = copyOf(wish.copy);
      const at = pointOn(names, copy, wish.point, wish.half, where)[wish.direction === 'across' ? 0 : 1];
      const stripes = stripesFor(cloth, wish.direction, where);
      const band = bandOf(stripes.stripes, wish.band, where);
      const { direction, side } = wish;
      return {
        copies: [copy],
        miss: ([lay]) => landsMiss(stripes.line, band, side, coordinateOf(lay[direction], at)),
        asksAlong: direction === 'along',
        asksAcross: direction === 'across',
      };
    }
    case 'stays': {
      const copy = copyOf(wish.copy);
      const found = seamOn(shapes, copy, wish, where);
      if (wish.from !== found.from && wish.from !== found.to)
        throw new UnknownName(
          `${where} counts from "${wish.from}", which is no end of the seam "${wish.seam}": its ends are ${found.from} and ${found.to}`,
        );
      const stripes = stripesFor(cloth, wish.direction, where);
      const asked = {
        band: bandOf(stripes.stripes, wish.band, where),
        leastMm: wish.leastMm,
        mostMm: wish.mostMm,
      };
      return staysMeasure(
        stripes,
        wish.direction,
        sideOfJoin(copy, found.path),
        wish.from !== found.from,
        asked,
      );
    }
    case 'agrees': {
      const { left, right } = named(joins, wish.join, 'join', where);
      return agreesMeasure(
        stripesFor(cloth, wish.direction, where),
        wish.direction,
        [left, right],
        wish.at,
        wish.by,
      );
    }
    case 'shows': {
      const copy = copyOf(wish.copy);
      const colour = named(namesOfColours(cloth.across.stripes), wish.colour, 'colour', where);
      return showsMeasure(cloth, copy, regionOf(wish, copy, names, where), colour, wish.want);
    }
    case 'clear':
      return clearMeasure(
        cloth,
        sideOfJoin(copyOf(wish.copy), seamOn(shapes, copyOf(wish.copy), wish, where).path),
        wish.marginMm,
      );
  }
}

function pointOn({ shapes }: PlanNames, copy: number, point: string, half: Half, where: string): Point {
  const { id, points, piece } = shapes[copy];
  named(points.given, point, `point of copy "${id}",`, where);
  return onHalf(
    points,
    half,
    point,
    `${where} speaks of the mirrored half of "${id}", but the piece "${piece}" has no fold`,
  );
}

function regionOf(
  wish: Extract<Wish, { kind: 'shows' }>,
  copy: number,
  { shapes }: PlanNames,
  where: string,
): readonly (readonly Point[])[] {
  const { outline } = shapes[copy];
  if (wish.near === null) return [outline];
  const { path } = seamOn(shapes, copy, wish.near, where);
  const line = Array.from(path.pMm, (p, k): Point => [p, path.qMm[k]]);
  const parts = partsNearLine(outline, line, wish.near.withinMm);
  if (parts.length === 0)
    throw new UnknownName(
      `${where} looks within ${wish.near.withinMm} mm of a seam: expected more than 0 mm`,
    );
  return parts;
}

function stripesFor(cloth: AskedCloth, direction: Direction, where: string): AskedStripes {
  if (direction === 'across') return cloth.across;
  if (cloth.along === null)
    throw new UnknownName(
      `${where} asks for the stripes along, but the cloth has one direction only: leave direction out`,
    );
  return cloth.along;
}

const bandOf = ({ bandIds }: StripesOfCloth, band: string, where: string): number =>
  named(new Map(bandIds.map((id, k) => [id, k])), band, 'band', where);

/** Colours by id, and by name where only one has it. */
function namesOfColours({ colourIds, colourNames }: StripesOfCloth): Map<string, number> {
  const names = new Map(
    colourNames.flatMap((name, k) =>
      colourNames.indexOf(name) === colourNames.lastIndexOf(name) ? [[name, k] as const] : [],
    ),
  );
  colourIds.forEach((id, k) => {
    names.set(id, k);
  });
  return names;
}
