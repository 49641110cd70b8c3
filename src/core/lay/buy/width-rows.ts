import type { ClothLength } from '../../place/plan/plan.js';
import type { WidthRow } from '../answer/lay-answer.js';
import type { LaySettings } from '../effort.js';
import type { ClothInHand, LaidItem } from '../phase/laid-problem.js';
import { plainOf, takenOn } from './cloth-to-buy.js';

/** Work for one figure of the table, as part of that for a whole lay: it is counted in rounds, since nobody waits for a table of seconds each. */
const ROW_PART = 0.2;

/**
 * What the items take of new cloths of several widths and repeats, one row each. Where the repeat is another than the cloth's own its whole pattern is
 * taken to be so much larger or smaller; where each piece would then be placed is not asked anew.
 */
export async function widthRows(
  items: readonly LaidItem[],
  cloth: ClothInHand,
  settings: LaySettings,
): Promise<WidthRow[]> {
  const { widthsMm = [], repeatsMm = [] } = settings;
  if (widthsMm.length === 0 && repeatsMm.length === 0) return [];
  const widest = cloth.lengths.reduce((most, one) => (one.widthMm > most.widthMm ? one : most));
  const ownMm = cloth.motions.acrossStepMm || cloth.motions.repeatMm;
  const scales = repeatsMm.length > 0 && ownMm !== null ? repeatsMm.map((mm) => mm / ownMm) : [1];
  const widths = widthsMm.length > 0 ? widthsMm : [widest.widthMm];
  const rows: WidthRow[] = [];
  const taken = (on: ClothLength, of: ClothInHand): Promise<number | null> =>
    takenOn(items, on, of, { ...settings, spentPart: undefined }, 0, ROW_PART);
  for (const width of widths) {
    const on: ClothLength = { ...widest, widthMm: width };
    const plainMm = await taken(on, plainOf(cloth));
    for (const scale of scales) {
      const matchedMm = await taken(on, scaled(cloth, scale));
      rows.push({
        width_mm: width,
        scale: Math.round(scale * 1e6) / 1e6,
        repeat_mm: ownMm === null ? null : Math.round(ownMm * scale * 1e6) / 1e6,
        matched_mm: matchedMm,
        plain_mm: plainMm === null || matchedMm === null ? plainMm : Math.min(plainMm, matchedMm),
      });
    }
  }
  return rows;
}

const scaled = (cloth: ClothInHand, by: number): ClothInHand => {
  const { acrossStepMm, alongStepMm, dropMm, repeatMm } = cloth.motions;
  return {
    ...cloth,
    motions: {
      ...cloth.motions,
      // Actual stripes in view tell nothing of a cloth that is another.
      acrossStepMm: acrossStepMm === null ? null : (acrossStepMm || (repeatMm ?? 0)) * by,
      alongStepMm: alongStepMm === null ? null : alongStepMm * by,
      dropMm: dropMm * by,
    },
  };
};
