import type { Lab } from '../colour/lab.js';
import type { ClothSheet } from '../rectify/cloth-picture.js';

/** What the stripes are, as the search for a print needs it. u counted from the model's origin, mm. */
export interface MotifInput {
  /** Light evened; its u counted from the model's origin too. */
  readonly sheet: ClothSheet;
  /** Null where no repeat is in view. */
  readonly repeatMm: number | null;
  readonly colours: readonly { readonly lab: Lab }[];
  /** One repeat in order of growing u (all bands in view where there is no repeat); colour: index into colours. */
  readonly bands: readonly { readonly colour: number; readonly startMm: number; readonly widthMm: number }[];
  /** Every band seen, in order: index into bands, and where it lies. */
  readonly stretches: readonly { readonly band: number; readonly startMm: number; readonly endMm: number }[];
  /** Colours (indices) that show on bands not their own. */
  readonly printColours: readonly number[];
  /** Relative standard deviation of the scale. */
  readonly scaleRelativeSd: number;
}
