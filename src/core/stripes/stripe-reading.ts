import type { Lab } from '../colour/lab.js';
import type { LightField } from './light-field.js';
import type { Segment } from './segment.js';

/** Where a segment stands in the repeat. */
export interface BandPlace {
  /** 0 .. bandsPerRepeat - 1. */
  readonly band: number;
  readonly repeat: number;
}

/** A boundary between two segments that touch: its column (outer-edge origin) and the segments' indices. */
export interface RoughEdge {
  readonly column: number;
  readonly left: number;
  readonly right: number;
  /** Linear sRGB beside the boundary where a band's mean colour is not its colour there (shaded bands): left, right. */
  readonly sides?: readonly [Segment['linear'], Segment['linear']];
}

export interface PaletteColour {
  /** Of the cloth under even light, CIELAB (D65). */
  readonly lab: Lab;
  /** Linear sRGB. */
  readonly linear: readonly [number, number, number];
}

/** First reading of the stripes on the straight picture: enough to go back for sub-pixel edges. */
export interface RoughReading {
  /** Whether a second direction crosses, whose bands mix into every column. */
  readonly mixing: 'stripe' | 'check';
  /** In order of growing column; stretches hidden by a ruler along the stripes are left out. */
  readonly segments: readonly Segment[];
  /** Edges between touching segments, in order. */
  readonly edges: readonly RoughEdge[];
  /** One a segment; null where it fits no place of the repeat, or there is no repeat. */
  readonly places: readonly (BandPlace | null)[];
  /** Index into the palette, one a segment. */
  readonly colours: readonly number[];
  readonly palette: readonly PaletteColour[];
  /** Null when no repeat is in view. */
  readonly bandsPerRepeat: number | null;
  /** At the middle of the picture, columns; null with bandsPerRepeat. */
  readonly repeatColumns: number | null;
  /** Places in the repeat whose bands are shaded. */
  readonly shaded: readonly number[];
  readonly repeatsSeen: number;
  readonly confidence: number;
  readonly alternatives: readonly { readonly repeatColumns: number; readonly confidence: number }[];
  readonly light: LightField;
  /** Standard deviation of a column's colour, CIELAB units. */
  readonly noise: number;
}
