import type { Point } from '../model/band-model.js';

/** What is drawn over the photo so that a person can judge the measurement. Photo frame, px. */
export interface OverlayMarks {
  /** Outline of the ruler, sheet or card, or null (points, density). */
  readonly referenceOutline: readonly Point[] | null;
  /** Each tick used: foot and tip on the photo, with its rank in the hierarchy (0 = finest). */
  readonly ticks: readonly { readonly foot: Point; readonly tip: Point; readonly rank: number }[];
  /** The two ends the scale was taken between, or null. */
  readonly ends: readonly [Point, Point] | null;
  /** Each band edge as a polyline along the stripe. */
  readonly edges: readonly (readonly Point[])[];
  /** One label a band instance: its id, and where its middle lies. */
  readonly bandLabels: readonly { readonly band: string; readonly at: Point }[];
  /** One repeat as a closed outline, or null. */
  readonly repeatOutline: readonly Point[] | null;
  /** Where the repeat's dimension line runs: from its first to its last edge. */
  readonly repeatDimension: readonly [Point, Point] | null;
  /** Outline of the part that a person said to read, or null. */
  readonly region: readonly Point[] | null;
  /** A line in the direction that a person gave for the stripes, or null. */
  readonly direction: readonly [Point, Point] | null;
  /** One cell of the print as a closed outline, or null. */
  readonly motifCell: readonly Point[] | null;
  /** Where motifs lie on bands, one closed outline each. */
  readonly intrusions: readonly (readonly Point[])[];
  /** Where a seam at that angle crosses the widest band 5 mm clear of motifs: lines along its middle, and a seam at each. */
  readonly cleanPlaces: readonly (readonly Point[])[];
  /** Null without such a place. */
  readonly cleanAngleDeg: number | null;
}
