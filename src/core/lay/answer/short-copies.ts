import { formatLength } from '../../base/length.js';
import { extentOf } from '../../pieces/geometry/outline.js';
import type { ClothLength } from '../../place/plan/plan.js';
import { enoughMm } from '../buy/cloth-to-buy.js';
import { compiled, reachOf } from '../fit/compiled.js';
import { lowestPlace } from '../fit/first-fit.js';
import type { Fit } from '../lay-copies.js';
import { laidCopies } from '../lay-copies.js';
import { type ClothInHand, laidProblem } from '../phase/laid-problem.js';
import { imageOf } from '../phase/motion.js';
import type { ShortCopy } from './lay-answer.js';

/** What each copy without a place lacks, all others where they lie. */
export function shortCopies(fit: Fit, cloth: ClothInHand): ShortCopy[] {
  const more = enoughMm(fit.items, cloth);
  const lengths = cloth.lengths.map((one): ClothLength => ({ ...one, lengthMm: one.lengthMm + more }));
  const laid = laidProblem(fit.items, { ...cloth, lengths });
  const longer = compiled(laid.problem);
  // Longer lengths leave out no fewer choices: places keep their meaning once choices are counted as given.
  const places = fit.places.map((place, item) => {
    if (place === null) return null;
    const given = fit.compiled.given[item][place.bin][place.choice];
    return { ...place, choice: longer.given[item][place.bin].indexOf(given) };
  });
  return fit.places.flatMap((place, item): ShortCopy[] => {
    if (place !== null) return [];
    const { copy } = fit.items[item];
    let best: { readonly bin: number; readonly more: number; readonly places: typeof places } | null = null;
    for (const [bin, length] of cloth.lengths.entries()) {
      const there = lowestPlace(longer, places, item, bin);
      if (there === null) continue;
      const lacks = reachOf(longer, item, there) + cloth.marginMm - length.lengthMm;
      const tried = places.map((one, k) => (k === item ? there : one));
      if (best === null || lacks < best.more) best = { bin, more: lacks, places: tried };
    }
    if (best === null) return [nowhere(copy, cloth.motions.acrossStepMm === 0)];
    const moreMm = Math.max(0.1, Math.ceil(best.more * 10) / 10);
    const on = cloth.lengths[best.bin];
    const repeat = repeatOf({ ...fit, laid, compiled: longer, places: best.places }, item, on, cloth);
    const where = repeat === null ? '' : ` of repeat ${repeat}`;
    const message = `${copy} needs ${formatLength(moreMm, 'mm')} more${where} on "${on.id}".`;
    return [{ copy, length: on.id, more_mm: moreMm, repeat, message }];
  });
}

const nowhere = (copy: string, isOnActualStripes: boolean): ShortCopy => ({
  copy,
  length: null,
  more_mm: null,
  repeat: null,
  message: isOnActualStripes
    ? `No length of cloth holds the very stripes that ${copy} was placed on.`
    : `${copy} is wider than each length of cloth as its stripes must run.`,
});

/** The repeat on which the middle of the item lies, counted from 1 at the left selvage (lengthwise) or the cut end. */
function repeatOf(fit: Fit, item: number, on: ClothLength, { motions }: ClothInHand): number | null {
  const step = motions.acrossStepMm;
  if (step === null || step === 0 || on.b1StartMm === null) return null;
  const { cutting, transform } = laidCopies(fit)[item];
  const { left, right, bottom, top } = extentOf(cutting.map((at) => imageOf(transform, at)));
  const middle = on.stripes === 'lengthwise' ? (left + right) / 2 : (bottom + top) / 2;
  return Math.floor((middle - on.b1StartMm) / step) - Math.floor((0 - on.b1StartMm) / step) + 1;
}
