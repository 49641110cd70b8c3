import type { Point } from '../model/band-model.js';

/** How clear of motifs a clean place is, mm. */
export const CLEAR_MM = 5;

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
  /** One label a band instance: its id, and a place in its middle from its one edge to the other. */
  readonly bandLabels: readonly {
    readonly band: string;
    readonly at: Point;
    readonly edges: readonly [Point, Point];
  }[];
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
  /** Each repeat by the number its instances carry; ends in view of the lines along the stripes where it begins and in its middle. */
  readonly repeats: readonly {
    readonly repeat: number;
    readonly start: readonly [Point, Point] | null;
    readonly middle: readonly [Point, Point] | null;
  }[];
  /** Places along the stripes, in whole steps of each kind of unit. */
  readonly levels: { readonly mm: readonly Level[]; readonly inch: readonly Level[] };
  /** The line across the stripes from which lengths along them count, as far as it is in view; null: not in view. */
  readonly zeroLine: readonly Point[] | null;
  /** The place that the zero line can be found again from, and where it is level with it; vMm: how far beyond the line it lies. */
  readonly origin: { readonly at: Point; readonly onZeroLine: Point; readonly vMm: number } | null;
}

/** A line square across the stripes: how far along them, and its two ends in view. */
export interface Level {
  readonly vMm: number;
  readonly ends: readonly [Point, Point];
}
