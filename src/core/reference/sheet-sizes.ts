import type { SheetSize } from '../base/request.js';

export interface SheetSpec {
  readonly longMm: number;
  readonly shortMm: number;
  /** How far either side may be off, as a standard deviation. */
  readonly longSdMm: number;
  readonly shortSdMm: number;
  /** Radius of the corners. */
  readonly cornerMm: number;
  /** Its face lies this much above the cloth. */
  readonly thickMm: number;
  readonly source: 'sheet' | 'card';
  /** White and without print, as paper is here; cards have any colours. */
  readonly plain: boolean;
  /** Its short side is at least this part of the picture's long side, or it is too small to be of use. */
  readonly leastOfPicture: number;
  /** With its article, for messages. */
  readonly name: string;
}

/** A permitted error either way, taken as uniform. */
const uniform = (limitMm: number): number => limitMm / Math.sqrt(3);

/**
 * A4: ISO 216, 210 x 297 mm, 2 mm either way on sides over 150 mm. Letter: ANSI/ASME Y14.1 size A, 8.5 x 11 in; the same
 * tolerance is supposed. ID-1: ISO/IEC 7810, 85.60 x 53.98 mm (unused: 85.47 to 85.72 and 53.92 to 54.03), corners 3.18 mm,
 * 0.76 mm thick.
 */
export const sheetSpecs: Readonly<Record<SheetSize, SheetSpec>> = {
  a4: {
    longMm: 297,
    shortMm: 210,
    longSdMm: uniform(2),
    shortSdMm: uniform(2),
    cornerMm: 0,
    thickMm: 0.1,
    source: 'sheet',
    plain: true,
    leastOfPicture: 1 / 8,
    name: 'an A4 sheet',
  },
  letter: {
    longMm: 279.4,
    shortMm: 215.9,
    longSdMm: uniform(2),
    shortSdMm: uniform(2),
    cornerMm: 0,
    thickMm: 0.1,
    source: 'sheet',
    plain: true,
    leastOfPicture: 1 / 8,
    name: 'a letter sheet',
  },
  id1: {
    longMm: 85.6,
    shortMm: 53.98,
    longSdMm: uniform(0.125),
    shortSdMm: uniform(0.055),
    cornerMm: 3.18,
    thickMm: 0.76,
    source: 'card',
    plain: false,
    leastOfPicture: 1 / 20,
    name: 'an ID-1 card',
  },
};
