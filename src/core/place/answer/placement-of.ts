import { checkAll, listOf } from '../../base/expectation.js';
import { bandIndexAt } from '../cloth/band-line.js';
import { sharesOver } from '../miss/area-misses.js';
import type { AskedCloth } from '../miss/asked-cloth.js';
import type { Placings } from '../place-pieces.js';
import { missesByShare, type Wish } from '../plan/plan.js';
import type { FoundPlacing } from '../search/find-placings.js';
import type { CopyState } from '../search/problem.js';
import type { CopyShape } from '../shape/copy-shape.js';
import { checkPlacings, USED_FILE } from './check-placings.js';
import { joinOutcome } from './join-outcome.js';
import type {
  PlacedCopy,
  PlacedPoint,
  Placement,
  PlacementAnswer,
  Transform,
  UsedFile,
} from './placement.js';
import { roundedMm, roundedTurn } from './rounded.js';

/** The placements of a plan as place.json has them. */
export const placementOf = (
  placings: Placings,
  wishes: readonly Wish[],
  plan: UsedFile,
  files: readonly UsedFile[],
): Placement => {
  checkPlacings(placings, wishes);
  checkAll({ plan: [plan, USED_FILE], files: [files, listOf(USED_FILE)] });
  return {
    format: 'stripewright.placement',
    version: 1,
    units: 'mm',
    plan,
    files,
    answers: placings.found.map((found, k) => answerOf(placings, wishes, found, k + 1)),
    warnings: placings.warnings,
  };
};

function answerOf(
  { shapes, cloth, joins, terms, uneven }: Placings,
  wishes: readonly Wish[],
  { placing, cost }: FoundPlacing,
  rank: number,
): PlacementAnswer {
  return {
    rank,
    cost: roundedMm(cost),
    copies: shapes.map((shape, k) => placedCopy(shape, placing[k], cloth)),
    joins: joins.map((join) => joinOutcome(cloth, join, placing, uneven)),
    wishes: wishes.map(({ id, kind, within }, k) => {
      const { measure } = terms[k];
      const miss = measure.miss(measure.copies.map((copy) => placing[copy]));
      const outcome = { id, kind, met: miss <= within + 1e-6 };
      return missesByShare(kind)
        ? { ...outcome, miss_share: roundedMm(miss) }
        : { ...outcome, miss_mm: roundedMm(miss) };
    }),
  };
}

/** Piece frame to cloth frame: the turn to the stripe frame, its middle to the origin, then signs and offsets. */
export function clothFromPiece({ turn: [c, s], middle }: CopyShape, { across, along }: CopyState): Transform {
  return [
    roundedTurn(across.sign * c),
    roundedTurn(along.sign * s),
    roundedTurn(-across.sign * s),
    roundedTurn(along.sign * c),
    roundedMm(across.offsetMm - across.sign * middle[0]),
    roundedMm(along.offsetMm - along.sign * middle[1]),
  ];
}

function placedCopy(shape: CopyShape, state: CopyState, cloth: AskedCloth | null): PlacedCopy {
  const { option, across, along } = state;
  const line = cloth?.across.line;
  return {
    copy: shape.id,
    piece: shape.piece,
    mirrored: shape.mirrored,
    turned: option.turned,
    face: option.face,
    transform: clothFromPiece(shape, state),
    repeat:
      line === undefined || line.seenMm === null ? null : line.repeat[bandIndexAt(line, across.offsetMm)],
    points: Object.fromEntries(
      [...shape.points.given].map(([id, [p, q]]) => [
        id,
        placedPoint(cloth, across.sign * p + across.offsetMm, along.sign * q + along.offsetMm),
      ]),
    ),
    shares:
      cloth === null
        ? []
        : Array.from(sharesOver(cloth, [shape.outline])(state), (share, k) => ({
            colour: cloth.across.stripes.colourIds[k],
            share: roundedTurn(share),
          })),
  };
}

/** A point that lies on an edge but for rounding belongs to the band that starts there. */
const ON_EDGE_MM = 1e-5;

function placedPoint(cloth: AskedCloth | null, u: number, v: number): PlacedPoint {
  const at = { u_mm: roundedMm(u), v_mm: roundedMm(v) };
  if (cloth === null) return { band: null, from_start_mm: null, ...at };
  const { line, stripes } = cloth.across;
  const k = bandIndexAt(line, u + ON_EDGE_MM);
  const placed = {
    band: stripes.bandIds[line.band[k]],
    from_start_mm: roundedMm(Math.max(0, u - line.edgesMm[k])),
    ...at,
  };
  if (cloth.along === null) return placed;
  const cross = cloth.along;
  return {
    ...placed,
    check_band: cross.stripes.bandIds[cross.line.band[bandIndexAt(cross.line, v + ON_EDGE_MM)]],
  };
}
