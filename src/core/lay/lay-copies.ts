import { seededRandom } from '../math/seeded-random.js';
import type { LaidCopy } from './answer/lay-record.js';
import { type Compiled, compiled } from './fit/compiled.js';
import { bestFirstFit, type Fitted, fitItems } from './fit/fit-items.js';
import type { Place } from './fit/fit-problem.js';
import type { Spend } from './fit/separate.js';
import { shorten } from './fit/shorten.js';
import { type ClothInHand, type LaidItem, type LaidProblem, laidProblem } from './phase/laid-problem.js';

/** A problem of fitting with the places found so far. */
export interface Fit {
  readonly items: readonly LaidItem[];
  readonly laid: LaidProblem;
  readonly compiled: Compiled;
  readonly places: Fitted;
}

/** Room for all items, if it is found; their lengths are not yet as short as they can be. */
export async function fitOn(
  items: readonly LaidItem[],
  cloth: ClothInHand,
  seed: number,
  spend: Spend,
): Promise<Fit> {
  const laid = laidProblem(items, cloth);
  const known = compiled(laid.problem);
  const places = await fitItems(known, seededRandom(seed).uniform, spend);
  return { items, laid, compiled: known, places };
}

/** What can be found at once; isRough: in one order alone. */
export function quickFitOn(
  items: readonly LaidItem[],
  cloth: ClothInHand,
  seed: number,
  isRough = false,
): Fit {
  const laid = laidProblem(items, cloth);
  const known = compiled(laid.problem);
  return { items, laid, compiled: known, places: bestFirstFit(known, seededRandom(seed).uniform, isRough) };
}

export const fitsAll = ({ places }: Fit): boolean => places.every((place) => place !== null);

/** The same on less of the lengths, as far as work is left to be spent. only: the one length to be shortened, the others being free; null: all of them. */
export async function shortened(
  fit: Fit,
  seed: number,
  spend: Spend,
  only: number | null = null,
): Promise<Fit> {
  if (!fitsAll(fit)) return fit;
  const places = await shorten(fit.compiled, fit.places as Place[], seededRandom(seed).uniform, spend, {
    only,
  });
  return { ...fit, places };
}

/** Where the items came to lie, in their order. */
export const laidCopies = ({ items, laid, compiled: { given }, places }: Fit): LaidCopy[] =>
  items.map(({ copy, piece, cutting, isPart, transform }, item) => {
    const place = places[item];
    const own = { copy, piece, cutting, isPart };
    if (place === null) return { ...own, length: null, transform, halfTurned: false };
    const choice = given[item][place.bin][place.choice];
    return { ...own, length: place.bin, ...laid.lengthFromPiece(item, { ...place, choice }) };
  });
