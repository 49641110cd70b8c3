import type { Lab } from '../colour/lab.js';

/** What the stripes of one direction are: the fields of the band model that tell of them, under the same names. */
export interface StripeSummary {
  readonly repeat: {
    readonly across_mm: number | null;
    readonly across_sd_mm: number | null;
    /** The part of across_sd_mm that comes from the edges alone, without the scale's own error. */
    readonly across_reading_sd_mm: number | null;
    readonly repeats_seen: number;
    readonly confidence: number;
    readonly alternatives: readonly { readonly across_mm: number; readonly confidence: number }[];
    readonly along_mm: number | null;
    readonly along_sd_mm: number | null;
    readonly drop_fraction: number | null;
  };
  readonly colours: readonly {
    readonly id: string;
    readonly srgb: string;
    readonly lab: Lab;
    readonly name: string;
    readonly share: number;
  }[];
  readonly bands: readonly {
    readonly id: string;
    readonly colour: string;
    readonly start_mm: number;
    readonly width_mm: number;
    readonly width_sd_mm: number | null;
    readonly width_mean_sd_mm: number | null;
    readonly width_min_mm: number | null;
    readonly width_max_mm: number | null;
    readonly edge_sd_mm: number | null;
    readonly mix: readonly { readonly colour: string; readonly share: number }[];
  }[];
  readonly instances: readonly {
    readonly band: string;
    readonly repeat: number;
    readonly start_mm: number;
    readonly end_mm: number;
    readonly width_mm: number;
    readonly width_sd_mm: number | null;
    readonly whole: boolean;
  }[];
  readonly symmetry: {
    readonly balanced: boolean;
    readonly balance_score: number;
    readonly mirror_axes_mm: readonly number[];
    readonly directional: boolean | null;
    readonly direction_score: number | null;
  };
  /** How many of a hundred places were left out of colours and shares, for something lies on the cloth there. */
  readonly leftOutPercent: number;
  /** Ids of shaded bands: each is told as one, in its mean colour. */
  readonly shadedBands: readonly string[];
  /** u of the frame given that becomes 0 in the positions above: the start of the first band nearest it. */
  readonly originUMm: number;
  /** Scatter of edges about an even repeat, mm; null without a repeat. */
  readonly scatterMm: number | null;
}
