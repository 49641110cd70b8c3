import type { BandModel } from '../../src/core/model/band-model.js';
import { piecesFromValue } from '../../src/core/pieces/piece/parse-pieces.js';
import type { Piece } from '../../src/core/pieces/piece/pieces-file.js';
import { parsePlan } from '../../src/core/place/plan/parse-plan.js';
import type { Plan } from '../../src/core/place/plan/plan.js';
import { seededRandom } from './photo-painter/seeded-random.js';

/** A plan drawn by chance, with its pieces, for comparing a search with another way to the answer. */
export interface DrawnPlan {
  readonly plan: Plan;
  readonly pieces: readonly Piece[];
}

type Draw = () => number;

const whole = (draw: Draw, from: number, to: number): number => from + Math.floor(draw() * (to - from + 1));
const oneOf = <T>(draw: Draw, of: readonly T[]): T => of[whole(draw, 0, of.length - 1)];

/** Five-cornered pieces of some 80 to 400 mm, one or two copies each, and wishes of every kind but clear. */
export function drawnPlan(model: BandModel, seed: number, pieceCount: number, wishCount: number): DrawnPlan {
  const draw = seededRandom(seed).uniform;
  const drawn = Array.from({ length: pieceCount }, (_, k) => drawnPiece(draw, `p${k + 1}`));
  const read = piecesFromValue({ format: 'stripewright.pieces', version: 1, units: 'mm', pieces: drawn });
  // Corners drawn by chance may cross: another piece, then.
  if (!read.ok) return drawnPlan(model, seed + 7919, pieceCount, wishCount);
  const pieces = read.value.pieces;
  const joins: object[] = [];
  const wishes = Array.from({ length: wishCount }, (_, k) =>
    drawnWish(draw, `w${k + 1}`, model, pieces, joins),
  );
  const plan = parsePlan(
    JSON.stringify({
      format: 'stripewright.plan',
      version: 1,
      units: 'mm',
      cloth: { model: 'bands.json', one_way: draw() < 0.5, wrong_side: draw() < 0.3 },
      pieces: drawn,
      joins,
      wishes,
    }),
  );
  if (!plan.ok) throw new Error(plan.refusal.found);
  return { plan: plan.value, pieces };
}

function drawnPiece(draw: Draw, id: string): object {
  const width = whole(draw, 80, 300);
  const height = whole(draw, 100, 400);
  const lean = whole(draw, -60, 60);
  const [a, b, c, d] = [
    [0, 0],
    [width, whole(draw, -20, 20)],
    [width + lean, height],
    [lean, height],
  ];
  const hasPair = draw() < 0.6;
  return {
    id,
    stitching: [a, b, c, [width / 2 + lean, height + whole(draw, 5, 40)], d],
    grain: [
      [width / 2, 20],
      [width / 2, height - 20],
    ],
    stripes: { to: 'grain', angle_deg: oneOf(draw, [0, 0, 45, 30, -38, 90, 20]) },
    points: { a, b, c, d },
    seams: [
      { id: 's', from: 'a', to: 'b' },
      { id: 't', from: 'b', to: 'c' },
      { id: 'u', from: 'd', to: 'a' },
    ],
    copies: hasPair
      ? [
          { id: `${id}-one`, mirrored: false },
          { id: `${id}-two`, mirrored: true },
        ]
      : [{ id: `${id}-one` }],
  };
}

function drawnWish(
  draw: Draw,
  id: string,
  model: BandModel,
  pieces: readonly Piece[],
  joins: object[],
): object {
  const copies = pieces.flatMap((piece) => piece.copies.map((copy) => copy.id));
  const copy = oneOf(draw, copies);
  const band = oneOf(draw, model.bands).id;
  const any = { id, weight: oneOf(draw, [1, 1, 2, 0.5]) };
  const join = (): string => {
    const right = oneOf(draw, copies.length > 1 ? copies.filter((one) => one !== copy) : copies);
    joins.push({
      id: `j-${id}`,
      left: { copy, seam: oneOf(draw, ['s', 't', 'u']) },
      right: { copy: right, seam: oneOf(draw, ['s', 't', 'u']) },
    });
    return `j-${id}`;
  };
  const pair = pieces.find((piece) => piece.copies.length === 2);
  switch (oneOf(draw, ['lands', 'stays', 'meets', 'meets', 'agrees', 'shows', 'alike'])) {
    case 'lands':
      return {
        ...any,
        kind: 'lands',
        copy,
        point: oneOf(draw, ['a', 'b', 'c', 'd']),
        band,
        side: oneOf(draw, ['middle', 'start', 'end']),
      };
    case 'stays':
      return {
        ...any,
        kind: 'stays',
        copy,
        seam: 't',
        from: oneOf(draw, ['b', 'c']),
        band,
        least_mm: whole(draw, 0, 40),
        most_mm: oneOf(draw, [null, 60, 45]),
      };
    case 'agrees':
      return { ...any, kind: 'agrees', join: join(), at: draw(), by: oneOf(draw, ['band', 'colour']) };
    case 'shows':
      return {
        ...any,
        kind: 'shows',
        copy,
        colour: oneOf(draw, model.colours).id,
        want: oneOf(draw, ['most', 'least']),
        near: draw() < 0.4 ? { seam: 't', within_mm: whole(draw, 5, 30) } : null,
      };
    case 'alike':
      if (pair !== undefined) return { ...any, kind: 'alike', copies: pair.copies.map((one) => one.id) };
      return { ...any, kind: 'meets', join: join() };
    default:
      return { ...any, kind: 'meets', join: join() };
  }
}
