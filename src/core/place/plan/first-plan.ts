import { checkAll, orNull, text } from '../../base/expectation.js';
import { laidOutJson } from '../../base/laid-out-json.js';
import { formatLength } from '../../base/length.js';
import type { BandModel } from '../../model/band-model.js';
import { checkBandModel } from '../../model/check-band-model.js';
import { seamLengthMm } from '../../pieces/geometry/whole-piece.js';
import type { Piece } from '../../pieces/piece/pieces-file.js';
import { checkPieceList } from './check-plan.js';
import { type GuessedJoin, guessJoins } from './guess-joins.js';

/** A width that cloth is often sold in, and a length to begin with, mm. Common practice; the plan says that both are to be measured. */
const EXAMPLE_WIDTH_MM = 1400;
const EXAMPLE_LENGTH_MM = 3000;

/**
 * The text of a first plan, to be edited: every copy, point, seam, band and colour named, joins guessed, the commonest wishes as examples.
 * Paths are written as they are given: from where the plan will lie. model: null for plain cloth.
 */
export function firstPlan(
  model: BandModel | null,
  modelPath: string | null,
  pieces: readonly Piece[],
  piecesPath: string,
): string {
  if (model !== null) checkBandModel(model);
  checkPieceList(pieces);
  checkAll({ modelPath: [modelPath, orNull(text)], piecesPath: [piecesPath, text] });
  const joins = guessJoins(pieces);
  const plan = {
    format: 'stripewright.plan',
    version: 1,
    units: 'mm',
    about: ABOUT,
    names: namesOf(model, pieces),
    cloth: { model: modelPath, one_way: null, nap: 'along', wrong_side: false, instances: false },
    pieces: piecesPath,
    joins: joins.map(({ id, left, right, leftMm, rightMm }) => ({
      id,
      left,
      right,
      guessed: `seams of one name, ${formatLength(leftMm, 'mm')} and ${formatLength(rightMm, 'mm')} long: keep it if they are sewn together`,
    })),
    wishes: model === null ? [] : exampleWishes(model, pieces, joins),
    lengths: [
      {
        id: 'length-1',
        width_mm: EXAMPLE_WIDTH_MM,
        length_mm: EXAMPLE_LENGTH_MM,
        stripes: 'lengthwise',
        ...(model === null ? {} : { b1_start_mm: 0 }),
        flaws: [],
      },
    ],
    margin_mm: 2,
  };
  return `${laidOutJson(plan)}\n`;
}

const ABOUT = [
  'A first plan: change it to what you want.',
  'names lists all that can be named; it is not read.',
  'joins were guessed: take out what is not sewn together, add what is missing.',
  'wishes are examples: lands (a band on a point), stays (a band kept off the end of a seam), meets (colours along a join), agrees (one place of a join), shows (more or less of a colour), clear (motifs kept off a seam), alike (copies that look the same). "must": true makes one a condition.',
  'lengths are invented: measure your cloth, and from its left selvage to where band b1 first starts.',
];

function namesOf(model: BandModel | null, pieces: readonly Piece[]) {
  const bands = Object.fromEntries(
    (model?.bands ?? []).map(({ id, colour, width_mm }) => [
      id,
      `${model?.colours.find((one) => one.id === colour)?.name ?? colour}, ${formatLength(width_mm, 'mm')}`,
    ]),
  );
  const colours = Object.fromEntries((model?.colours ?? []).map(({ id, name }) => [id, name]));
  const copies = Object.fromEntries(
    pieces.flatMap((piece) =>
      piece.copies.map(({ id, mirrored }) => [
        id,
        {
          piece: mirrored ? `${piece.id}, mirrored` : piece.id,
          points: Object.keys(piece.points).join(', '),
          seams: Object.fromEntries(
            piece.seams.map((seam) => [
              seam.id,
              `${seam.from} to ${seam.to}, ${formatLength(seamLengthMm(piece, seam.id), 'mm')}`,
            ]),
          ),
        },
      ]),
    ),
  );
  return model === null ? { copies } : { bands, colours, copies };
}

/** What most makers ask for first: colours that meet along the joins, mirrored copies alike, and the widest band on a point of the first piece. */
function exampleWishes(model: BandModel, pieces: readonly Piece[], joins: readonly GuessedJoin[]): object[] {
  const widest = model.bands.reduce((most, band) => (band.width_mm > most.width_mm ? band : most));
  const wishes: object[] = joins.map(({ id }) => ({ id: `${id}-meets`, kind: 'meets', join: id, weight: 1 }));
  for (const piece of pieces)
    if (piece.copies.length > 1)
      wishes.push({
        id: `${piece.id}-alike`,
        kind: 'alike',
        copies: piece.copies.map(({ id }) => id),
        weight: 0.1,
      });
  const first = pieces.find(({ points }) => Object.keys(points).length > 0);
  if (first !== undefined)
    wishes.push({
      id: `${widest.id}-on-a-point`,
      kind: 'lands',
      copy: first.copies[0].id,
      point: Object.keys(first.points)[0],
      band: widest.id,
      side: 'middle',
      must: false,
      weight: 1,
    });
  return wishes;
}
