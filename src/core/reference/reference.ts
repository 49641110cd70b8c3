import type { RulerClass, SheetSize } from '../base/request.js';
import type { Point } from '../math/matrix3.js';

/** A point off the marks' line: picture px, and how far along the line it lies. */
export interface SideMark {
  readonly picture: Point;
  readonly alongMm: number;
}

/** A tick as drawn on the overlay: foot on the level line, tip, and rank in the hierarchy (0 = finest). */
export interface TickMark {
  readonly foot: Point;
  readonly tip: Point;
  readonly rank: number;
}

/** What gives the photo its scale. Points in picture px unless the name says otherwise. */
export interface Reference {
  readonly source: 'ruler' | 'sheet' | 'card' | 'points' | 'density';
  readonly unit: 'mm' | 'inch' | null;
  /** Points whose places in the plane of the reference are known, mm; the pose of that plane's axes is free. */
  readonly marks: readonly { readonly picture: Point; readonly planeMm: Point }[];
  /** Points square to the line of the marks, of which only the distance along it is known (a ruler's ticks have length). */
  readonly sideMarks: readonly SideMark[];
  /** Standard deviation of a mark's place in the picture, px. */
  readonly markSdPx: number;
  /** Of its place sideways of a ruler's line, which the ends of the ticks tell, px; as markSdPx where marks are points. */
  readonly levelSdPx: number;
  /** At the middle of the reference. */
  readonly pxPerMm: number;
  /** Of the scale: reading and the reference's own permitted error together. */
  readonly relativeSd: number;
  /** Of a ruler or of the length between points: the class its permitted error was taken from; else null. */
  readonly rulerClass: RulerClass | null;
  readonly ends: readonly [Point, Point] | null;
  readonly lengthMm: number | null;
  /** Sheet and card only. */
  readonly corners: readonly Point[] | null;
  /** A sheet or card that was found where a ruler was looked for. */
  readonly insteadOfRuler?: SheetSize;
  /** Where the cloth is hidden, or null. */
  readonly outline: readonly Point[] | null;
  /** The cloth shows through it: its own colour does not tell how far it reaches. */
  readonly isClear: boolean;
  readonly ticks: readonly TickMark[];
}
