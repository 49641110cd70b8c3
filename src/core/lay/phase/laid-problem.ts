import { extentOf, type Outline, signedAreaMm2 } from '../../pieces/geometry/outline.js';
import { wholeCutting } from '../../pieces/geometry/whole-piece.js';
import type { Piece } from '../../pieces/piece/pieces-file.js';
import type { PlacementAnswer, Transform } from '../../place/answer/placement.js';
import type { ClothLength } from '../../place/plan/plan.js';
import type { Bin, Choice, FitProblem, FitShape, Place } from '../fit/fit-problem.js';
import { ringOf } from '../nofit/ring.js';
import type { ClothMotions } from './cloth-motions.js';
import { grownOutline } from './grown-outline.js';
import { clothFromLength } from './length-frame.js';
import { composed, halfTurnAbout, imageOf, inverseOf } from './motion.js';

/** What pieces are laid on: lengths of one cloth. */
export interface ClothInHand {
  readonly lengths: readonly ClothLength[];
  readonly marginMm: number;
  /** u of the start of the first band listed; null on plain cloth. */
  readonly firstBandStartMm: number | null;
  readonly motions: ClothMotions;
}

/** A placement's answer on lengths of cloth as a problem of fitting, and the way back from its places. */
export interface LaidProblem {
  readonly problem: FitProblem;
  /** Piece frame to length frame of copy `item` at a place; with it whether the copy was turned half round. */
  readonly lengthFromPiece: (
    item: number,
    place: Place,
  ) => { readonly transform: Transform; readonly halfTurned: boolean };
}

/** The cutting lines of pieces, by piece id. */
export const cuttingLines = (pieces: readonly Piece[]): ReadonlyMap<string, Outline> =>
  new Map(pieces.map((piece) => [piece.id, wholeCutting(piece)]));

/** A copy's own transform in a length, with or without half a turn; and how it may be shifted. */
interface Laid {
  readonly transform: Transform;
  readonly halfTurned: boolean;
}

/**
 * Items are the answer's copies, bins the lengths, in their orders. Where stripes run crosswise the steps are along the length: there the bin's `across` is
 * y of the length frame and its `slide` is x.
 */
export function laidProblem(
  { copies }: Pick<PlacementAnswer, 'copies'>,
  cutting: ReadonlyMap<string, Outline>,
  cloth: ClothInHand,
): LaidProblem {
  const shapes: FitShape[] = [];
  const known = new Map<string, number>();
  const shapeOf = (piece: string, [a, b, c, d]: Transform, swaps: boolean): number => {
    const key = `${piece} ${[a, b, c, d].map((part) => part.toFixed(9)).join(' ')} ${swaps}`;
    const found = known.get(key);
    if (found !== undefined) return found;
    const turned = (cutting.get(piece) as Outline).map((at) => {
      const [x, y] = imageOf([a, b, c, d, 0, 0], at);
      return swaps ? ([y, x] as const) : ([x, y] as const);
    });
    shapes.push({
      ring: ringOf(grownOutline(turned, cloth.marginMm)),
      extent: extentOf(turned),
      areaMm2: Math.abs(signedAreaMm2(turned)),
    });
    known.set(key, shapes.length - 1);
    return shapes.length - 1;
  };
  const swapsOf = cloth.lengths.map(
    ({ stripes }) => stripes === 'crosswise' && cloth.motions.acrossStepMm !== null,
  );
  const laid: Laid[][][] = copies.map((copy) =>
    cloth.lengths.map((length) => laidWays(copy.transform, length, cloth)),
  );
  return {
    problem: {
      shapes,
      bins: cloth.lengths.map((length, k) => binOf(length, cloth.marginMm, swapsOf[k])),
      items: copies.map(({ piece }, item) => ({
        choices: cloth.lengths.map((_, k) =>
          laid[item][k].map(({ transform }) =>
            choiceOf(shapeOf(piece, transform, swapsOf[k]), transform, cloth.motions, swapsOf[k]),
          ),
        ),
      })),
    },
    lengthFromPiece: (item, { bin, choice, across, slide }) => {
      const { transform, halfTurned } = laid[item][bin][choice];
      const [a, b, c, d] = transform;
      return {
        transform: [
          a,
          b,
          c,
          d,
          ...(swapsOf[bin] ? [slide, across] : [across, slide]),
        ] as unknown as Transform,
        halfTurned,
      };
    },
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

function binOf({ widthMm, lengthMm, flaws }: ClothLength, marginMm: number, swaps: boolean): Bin {
  const width = [marginMm, widthMm - marginMm] as const;
  const length = [marginMm, lengthMm - marginMm] as const;
  const [across, slide] = swaps ? [length, width] : [width, length];
  return {
    room: [...across, ...slide],
    along: swaps ? 'across' : 'slide',
    blocks: flaws.map((flaw) => flawRing(flaw, marginMm, swaps)),
  };
}

/** A flaw without a width is a line or a point: a hair is given it, so that it has a rim. */
const HAIR_MM = 1e-3;

function flawRing([x, y, w, h]: ClothLength['flaws'][number], marginMm: number, swaps: boolean) {
  const [dx, dy] = [Math.max(w, HAIR_MM), Math.max(h, HAIR_MM)];
  const box = (
    [
      [x, y],
      [x + dx, y],
      [x + dx, y + dy],
      [x, y + dy],
    ] as const
  ).map(([p, q]) => (swaps ? ([q, p] as const) : ([p, q] as const)));
  return ringOf(grownOutline(box, marginMm));
}
