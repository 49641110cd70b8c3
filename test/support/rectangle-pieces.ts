import { piecesFromValue } from '../../src/core/pieces/piece/parse-pieces.js';
import type { Piece } from '../../src/core/pieces/piece/pieces-file.js';
import { parsePlan } from '../../src/core/place/plan/parse-plan.js';
import type { Plan } from '../../src/core/place/plan/plan.js';

/** Pieces of a file that must be right. */
export function piecesOf(...pieces: readonly object[]): readonly Piece[] {
  const read = piecesFromValue({ format: 'stripewright.pieces', version: 1, units: 'mm', pieces });
  if (!read.ok) throw new Error(read.refusal.found);
  return read.value.pieces;
}

/** A plan that must be right; fields left out are those of a cloth with a model, without joins or wishes. */
export function planOf(fields: object): Plan {
  const plan = parsePlan(
    JSON.stringify({
      format: 'stripewright.plan',
      version: 1,
      units: 'mm',
      cloth: { model: 'bands.json', one_way: false },
      pieces: 'pieces.json',
      ...fields,
    }),
  );
  if (!plan.ok) throw new Error(plan.refusal.found);
  return plan.value;
}

/**
 * A panel of width by height with corners low-left, low-right, high-right, high-left, grain straight up, and seams left (upwards), right
 * (upwards) and hem (to the right).
 */
export const panel = (id: string, width: number, height: number, more: object = {}): object => ({
  id,
  stitching: [
    [0, 0],
    [width, 0],
    [width, height],
    [0, height],
  ],
  grain: [
    [width / 2, 0],
    [width / 2, height],
  ],
  points: {
    'low-left': [0, 0],
    'low-right': [width, 0],
    'high-right': [width, height],
    'high-left': [0, height],
  },
  seams: [
    { id: 'hem', from: 'low-left', to: 'low-right' },
    { id: 'right', from: 'low-right', to: 'high-right' },
    { id: 'left', from: 'high-left', to: 'low-left' },
  ],
  ...more,
});
