import type { Point } from '../../math/matrix3.js';
import type { Outline } from '../../pieces/geometry/outline.js';
import type { Transform } from '../../place/answer/placement.js';
import type { ClothLength } from '../../place/plan/plan.js';
import type { Bin, Choice, FitProblem, FitShape, Place } from '../fit/fit-problem.js';
import type { ClothMotions } from './cloth-motions.js';
import { clothFromLength } from './length-frame.js';
import { composed, halfTurnAbout, inverseOf } from './motion.js';
import type { ShapeStore } from './shape-store.js';

/** What pieces are laid on: lengths of one cloth. */
export interface ClothInHand {
  readonly lengths: readonly ClothLength[];
  readonly marginMm: number;
  /** u of the start of the first band listed; null on plain cloth. */
  readonly firstBandStartMm: number | null;
  readonly motions: ClothMotions;
  readonly store: ShapeStore;
}

/** What is laid: a copy, or a part of one. */
export interface LaidItem {
  readonly copy: string;
  /** Id of its piece. */
  readonly piece: string;
  /** Cutting line, piece frame. */
  readonly cutting: Outline;
  /** It is but a part of the piece. */
  readonly isPart: boolean;
  /** Piece frame to cloth frame, as placed. */
  readonly transform: Transform;
}

/** A placement's answer on lengths of cloth as a problem of fitting, and the way back from its places. */
export interface LaidProblem {
  readonly problem: FitProblem;
  /** Piece frame to length frame of item `item` at a place; with it whether the copy was turned half round. */
  readonly lengthFromPiece: (
    item: number,
    place: Place,
  ) => { readonly transform: Transform; readonly halfTurned: boolean };
}

/** A copy's own transform in a length, with or without half a turn; and how it may be shifted. */
interface Laid {
  readonly transform: Transform;
  readonly halfTurned: boolean;
}

/**
 * Items are those given, bins the lengths, in their orders. Where stripes run crosswise the steps are along the length: there the bin's `across` is
 * y of the length frame and its `slide` is x.
 */
export function laidProblem(items: readonly LaidItem[], cloth: ClothInHand): LaidProblem {
  const shapes: FitShape[] = [];
  const shapeOf = shapesOf(shapes, cloth.store);
  const swapsOf = cloth.lengths.map(
    ({ stripes }) => stripes === 'crosswise' && cloth.motions.acrossStepMm !== null,
  );
  const laid: Laid[][][] = items.map((item) =>
    cloth.lengths.map((length) => laidWays(item.transform, length, cloth)),
  );
  return {
    problem: {
      shapes,
      noFitOf: cloth.store.noFitOf,
      bins: cloth.lengths.map((length, k) => binOf(length, cloth, swapsOf[k])),
      items: items.map(({ cutting }, item) => ({
        choices: cloth.lengths.map((_, k) =>
          laid[item][k].map(({ transform }) =>
            choiceOf(shapeOf(cutting, transform, swapsOf[k]), transform, cloth.motions, swapsOf[k]),
          ),
        ),
      })),
    },
    lengthFromPiece: (item, { bin, choice, across, slide }) => {
      const {
        transform: [a, b, c, d],
        halfTurned,
      } = laid[item][bin][choice];
      const [x, y] = swapsOf[bin] ? [slide, across] : [across, slide];
      return { transform: [a, b, c, d, x, y], halfTurned };
    },
  };
}

/** Adds the shapes that are asked for, each once, and gives their places. */
function shapesOf(
  shapes: FitShape[],
  store: ShapeStore,
): (cutting: Outline, transform: Transform, swaps: boolean) => number {
  const known = new Map<FitShape, number>();
  return (cutting, transform, swaps) => {
    const shape = store.shapeOf(cutting, transform, swaps);
    const found = known.get(shape);
    if (found !== undefined) return found;
    known.set(shape, shapes.push(shape) - 1);
    return shapes.length - 1;
  };
}

function laidWays(clothFromPiece: Transform, length: ClothLength, cloth: ClothInHand): Laid[] {
  const lengthFromCloth = inverseOf(clothFromLength(length, cloth.firstBandStartMm ?? 0));
  const ways = [{ transform: composed(lengthFromCloth, clothFromPiece), halfTurned: false }];
  const { halfTurnAbout: centre } = cloth.motions;
  if (centre !== null) {
    const turned = composed(halfTurnAbout(centre), clothFromPiece);
    ways.push({ transform: composed(lengthFromCloth, turned), halfTurned: true });
  }
  return ways;
}

function choiceOf(shape: number, transform: Transform, motions: ClothMotions, swaps: boolean): Choice {
  const [x, y] = [transform[4], transform[5]];
  const { acrossStepMm, alongStepMm, dropMm } = motions;
  const [acrossAt, slideAt] = swaps ? [y, x] : [x, y];
  return {
    shape,
    columns: acrossStepMm === null ? null : { atMm: acrossAt, stepMm: acrossStepMm },
    // Crosswise, y falls as u grows: a step up in y is one down in u, and takes the drop away.
    slides:
      alongStepMm === null ? null : { atMm: slideAt, stepMm: alongStepMm, dropMm: swaps ? -dropMm : dropMm },
  };
}

function binOf(
  { widthMm, lengthMm, flaws }: ClothLength,
  { marginMm, store }: ClothInHand,
  swaps: boolean,
): Bin {
  const width = [marginMm, widthMm - marginMm] as const;
  const length = [marginMm, lengthMm - marginMm] as const;
  const [across, slide] = swaps ? [length, width] : [width, length];
  return {
    room: [...across, ...slide],
    along: swaps ? 'across' : 'slide',
    blocks: flaws.map((flaw) => store.blockOf(flawOutline(flaw, swaps))),
  };
}

/** A flaw without a width is a line or a point: a hair is given it, so that it has a rim. */
const HAIR_MM = 1e-3;

function flawOutline([x, y, w, h]: ClothLength['flaws'][number], swaps: boolean): Point[] {
  const [dx, dy] = [Math.max(w, HAIR_MM), Math.max(h, HAIR_MM)];
  const box: Point[] = [
    [x, y],
    [x + dx, y],
    [x + dx, y + dy],
    [x, y + dy],
  ];
  return swaps ? box.map(([p, q]): Point => [q, p]) : box;
}
