import type { LengthUnit } from '../../base/length.js';

/** What the picture says in words; lengths already in the reader's unit. */
export interface OverlayWords {
  /** Beside the dimension line: "repeat 55.0 mm". Null when there is no repeat. */
  readonly repeat: string | null;
  /** Beside the reference's two ends: "300.0 mm". Null when it has none. */
  readonly reference: string | null;
  /** One line under the photo. */
  readonly caption: string;
  /** How to find 0 along the stripes again; null where the model does not say. */
  readonly origin: string | null;
  /** From the landmark to the zero line; null where they are level. */
  readonly originOffset: string | null;
  /** Bands of one repeat, in order. */
  readonly bands: readonly { readonly id: string; readonly srgb: string; readonly widthMm: number }[];
  /** What lengths along the stripes are marked in. */
  readonly unit: LengthUnit;
}
