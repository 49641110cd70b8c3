import type { Segment } from './segment.js';
import type { BandPlace } from './stripe-reading.js';

/** The bands of one stretch in view. */
export interface PlacedRun {
  readonly segments: readonly Segment[];
  /** One a segment; null where its colour is not that of the band due there. */
  readonly places: readonly (BandPlace | null)[];
}
