import { wrap } from '../../model/cloth-pattern.js';
import type { ClothLength } from '../../place/plan/plan.js';
import type { ClothToBuy } from '../answer/lay-answer.js';
import type { LaySettings } from '../effort.js';
import { shareOf } from '../effort.js';
import { takenOf } from '../fit/fit-items.js';
import { type Fit, fitsAll, quickFitOn, shortened } from '../lay-copies.js';
import { type ClothInHand, type LaidItem, laidProblem } from '../phase/laid-problem.js';

/** Cloth is sold and measured so, mm. */
const SOLD_BY_MM = 10;

/** Shares of the work for the two tasks, after what went before. */
export interface BuyShares {
  readonly from: number;
  readonly middle: number;
  readonly to: number;
}

/** What the pieces take of new cloth as wide as the widest length, stripes running as on it. */
export async function clothToBuy(
  fit: Fit,
  cloth: ClothInHand,
  settings: LaySettings,
  { from, middle, to }: BuyShares,
): Promise<ClothToBuy> {
  const widest = cloth.lengths.reduce((most, one) => (one.widthMm > most.widthMm ? one : most));
  const plain = plainOf(cloth);
  const inHand = takenInHand(fit, cloth, widest);
  const found = await takenOn(fit.items, widest, newOf(cloth), settings, from, middle);
  const plainMm = await takenOn(fit.items, widest, plain, settings, middle, to);
  const matchedMm = found === null || inHand === null ? (found ?? inHand) : Math.min(found, inHand);
  return {
    width_mm: widest.widthMm,
    matched_mm: matchedMm,
    // What is laid in stripes can be laid so on plain cloth as well.
    plain_mm: plainMm === null || matchedMm === null ? (plainMm ?? matchedMm) : Math.min(plainMm, matchedMm),
  };
}

/** What is taken of the cloth in hand, where that is one length as wide as what is bought; null otherwise. */
function takenInHand(
  { places, compiled }: Fit,
  { lengths, marginMm }: ClothInHand,
  widest: ClothLength,
): number | null {
  const bins = new Set(places.map((place) => place?.bin ?? -1));
  const [bin] = bins;
  const length = bins.size === 1 && bin >= 0 ? lengths[bin] : null;
  return length?.widthMm === widest.widthMm && length.stripes === widest.stripes
    ? soldMm(takenOf(compiled, places) + marginMm)
    : null;
}

/** New cloth of the kind: actual stripes that were in view are not on it, the mean repeat is. */
const newOf = (cloth: ClothInHand): ClothInHand => ({
  ...cloth,
  motions: {
    ...cloth.motions,
    acrossStepMm: cloth.motions.acrossStepMm === 0 ? cloth.motions.repeatMm : cloth.motions.acrossStepMm,
  },
});

/** The same cloth, were it plain. */
export const plainOf = (cloth: ClothInHand): ClothInHand => ({
  ...cloth,
  motions: {
    ...cloth.motions,
    acrossStepMm: null,
    alongStepMm: null,
    dropMm: 0,
    halfTurnAbout: cloth.motions.plainHalfTurn,
  },
});

/** Null: one of the items is too wide. */
export async function takenOn(
  items: readonly LaidItem[],
  widest: ClothLength,
  cloth: ClothInHand,
  settings: LaySettings,
  from: number,
  to: number,
): Promise<number | null> {
  const endless: ClothLength = { ...widest, lengthMm: enoughMm(items, cloth), flaws: [] };
  const start = bestStart(items, endless, cloth, settings.seed);
  if (start === null) return null;
  const fit = await shortened(start, settings.seed, shareOf(settings, from, to));
  return soldMm(takenOf(fit.compiled, fit.places) + cloth.marginMm);
}

/** Rounding of a sum is no reason to sell a centimetre more. */
const ROUNDING_MM = 1e-4;
const soldMm = (mm: number): number => Math.ceil((mm - ROUNDING_MM) / SOLD_BY_MM) * SOLD_BY_MM;

/** Room for all items one after another, each with a repeat to spare. */
export function enoughMm(items: readonly LaidItem[], { motions, marginMm }: ClothInHand): number {
  const sizes = items.map(({ cutting }) => {
    const xs = cutting.map(([x]) => x);
    const ys = cutting.map(([, y]) => y);
    return Math.hypot(Math.max(...xs) - Math.min(...xs), Math.max(...ys) - Math.min(...ys));
  });
  const spareMm = marginMm + (motions.acrossStepMm ?? 0) + (motions.alongStepMm ?? 0);
  return sizes.reduce((sum, size) => sum + size + 2 * spareMm, 2 * marginMm);
}

/**
 * Wherever stripes start on new cloth: tried where some item would just touch an edge, since between those places nothing changes which columns
 * there are.
 */
function bestStart(
  items: readonly LaidItem[],
  endless: ClothLength,
  cloth: ClothInHand,
  seed: number,
): Fit | null {
  const { acrossStepMm, alongStepMm } = cloth.motions;
  let length = endless;
  let best: Fit | null = null;
  const on = (one: ClothLength): Fit => quickFitOn(items, { ...cloth, lengths: [one] }, seed, true);
  for (const direction of ['across', 'along'] as const) {
    const step = direction === 'across' ? acrossStepMm : alongStepMm;
    // Actual stripes (step 0) are where they are seen.
    const starts =
      step === null || step === 0 ? [0] : startsOf(items, { ...cloth, lengths: [length] }, direction, step);
    let bestLength = length;
    for (const by of starts) {
      const moved =
        direction === 'across'
          ? { ...length, b1StartMm: (length.b1StartMm ?? 0) + by }
          : { ...length, alongStartMm: length.alongStartMm + by };
      const fit = on(moved);
      if (!fitsAll(fit)) continue;
      if (best !== null && takenOf(fit.compiled, fit.places) >= takenOf(best.compiled, best.places)) continue;
      best = fit;
      bestLength = moved;
    }
    length = bestLength;
  }
  if (best === null) return null;
  const fine = quickFitOn(items, { ...cloth, lengths: [length] }, seed);
  return fitsAll(fine) ? fine : best;
}

/** Starts compared: more show no gain. */
const MOST_STARTS = 40;

/** How far the stripes may be moved so that an item just touches an edge; less than a repeat each. */
function startsOf(
  items: readonly LaidItem[],
  cloth: ClothInHand,
  direction: 'across' | 'along',
  step: number,
): number[] {
  const { problem } = laidProblem(items, cloth);
  const [left, right, bottom, top] = problem.bins[0].room;
  const moves = new Set<number>([0]);
  for (const item of problem.items)
    for (const { shape, columns, slides } of item.choices[0]) {
      const { extent } = problem.shapes[shape];
      const [at, low, high] =
        direction === 'across'
          ? [columns?.atMm ?? 0, left - extent.left, right - extent.right]
          : [slides?.atMm ?? 0, bottom - extent.bottom, top - extent.top];
      for (const edge of [low, high]) moves.add(Math.round(wrap(edge - at, step) * 1e6) / 1e6);
    }
  return [...moves].slice(0, MOST_STARTS);
}
