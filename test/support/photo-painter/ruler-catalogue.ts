import type { ReferenceType } from './scene.js';

/**
 * One row of ticks. Ruler frame: s from the left end of the body to its right, t from its lower side to its
 * upper, mm, seen from above with the numbers of a row of sense +1 upright.
 */
export interface TickRow {
  /** The side of the ruler the ticks stand on. */
  readonly side: 'low' | 'high';
  /** +1 reads towards +s with upright numbers; -1 is the same row turned by 180 degrees. */
  readonly sense: 1 | -1;
  readonly unit: 'mm' | 'inch';
  readonly divisionMm: number;
  readonly divisions: number;
  /** Where the zero mark lies, s. */
  readonly zeroMm: number;
  /** Distance of the ticks' roots from the side. */
  readonly insetMm: number;
  readonly tickWidthMm: number;
  /** Longest rank first: a tick whose index divides by `every` has this length. */
  readonly ranks: readonly { readonly every: number; readonly lengthMm: number }[];
  readonly numbers: {
    /** Divisions from one number to the next, and what a number counts up by. */
    readonly every: number;
    readonly step: number;
    readonly heightMm: number;
    /** From the side to the middle of the number. */
    readonly depthMm: number;
    readonly penMm: number;
  };
}

export type Material = 'metal' | 'wood' | 'plastic' | 'tape' | 'acrylic' | 'black';

export interface RulerSpec {
  readonly material: Material;
  /** Of the whole body. */
  readonly bodyMm: number;
  readonly widthMm: number;
  readonly rows: readonly TickRow[];
  readonly ink: string;
  /** Lines across and along every gridMm, from the first row's zero; null on an opaque ruler. */
  readonly gridMm: number | null;
  /** Centre s of a hanging hole, or null. */
  readonly holeAtMm: number | null;
}

export type RulerType = Exclude<ReferenceType, 'sheet-a4' | 'sheet-letter' | 'card-id1'>;

const INCH = 25.4;

const millimetres = (row: {
  side: 'low' | 'high';
  sense: 1 | -1;
  divisions: number;
  zeroMm: number;
  insetMm?: number;
  tickWidthMm: number;
  /** Lengths of 1, 5 and 10 mm ticks. */
  lengths: readonly [number, number, number];
  numberMm: number;
  depthMm: number;
  penMm: number;
}): TickRow => ({
  side: row.side,
  sense: row.sense,
  unit: 'mm',
  divisionMm: 1,
  divisions: row.divisions,
  zeroMm: row.zeroMm,
  insetMm: row.insetMm ?? 0,
  tickWidthMm: row.tickWidthMm,
  ranks: [
    { every: 10, lengthMm: row.lengths[2] },
    { every: 5, lengthMm: row.lengths[1] },
    { every: 1, lengthMm: row.lengths[0] },
  ],
  numbers: { every: 10, step: 1, heightMm: row.numberMm, depthMm: row.depthMm, penMm: row.penMm },
});

/** Lengths of the finest tick upwards: for sixteenths 1/16, 1/8, 1/4, 1/2, 1; thirty-seconds and eighths likewise. */
const inches = (row: {
  side: 'low' | 'high';
  sense: 1 | -1;
  perInch: 8 | 16 | 32;
  inches: number;
  zeroMm: number;
  insetMm?: number;
  tickWidthMm: number;
  lengths: readonly number[];
  numberMm: number;
  depthMm: number;
  penMm: number;
}): TickRow => ({
  side: row.side,
  sense: row.sense,
  unit: 'inch',
  divisionMm: INCH / row.perInch,
  divisions: row.perInch * row.inches,
  zeroMm: row.zeroMm,
  insetMm: row.insetMm ?? 0,
  tickWidthMm: row.tickWidthMm,
  ranks: row.lengths.map((lengthMm, rank) => ({ every: 2 ** rank, lengthMm })).reverse(),
  numbers: { every: row.perInch, step: 1, heightMm: row.numberMm, depthMm: row.depthMm, penMm: row.penMm },
});

export const RULERS: { readonly [type in RulerType]: RulerSpec } = {
  'metal-mm': {
    material: 'metal',
    bodyMm: 318,
    widthMm: 25,
    ink: '#24262a',
    gridMm: null,
    holeAtMm: 312,
    rows: [
      millimetres({
        side: 'high',
        sense: 1,
        divisions: 300,
        zeroMm: 4,
        tickWidthMm: 0.18,
        lengths: [3.4, 4.9, 6.6],
        numberMm: 2.9,
        depthMm: 9.2,
        penMm: 0.34,
      }),
    ],
  },
  'wood-inch': {
    material: 'wood',
    bodyMm: 12 * INCH + 8,
    widthMm: 29,
    ink: '#1d1812',
    gridMm: null,
    holeAtMm: null,
    rows: [
      inches({
        side: 'high',
        sense: 1,
        perInch: 16,
        inches: 12,
        zeroMm: 4,
        tickWidthMm: 0.3,
        lengths: [3.2, 4.6, 6.4, 8.6, 11.5],
        numberMm: 4.6,
        depthMm: 15.4,
        penMm: 0.55,
      }),
    ],
  },
  dual: {
    material: 'plastic',
    bodyMm: 12 * INCH + 10,
    widthMm: 36,
    ink: '#1c1d22',
    gridMm: null,
    holeAtMm: null,
    rows: [
      millimetres({
        side: 'high',
        sense: 1,
        divisions: 300,
        zeroMm: 5,
        tickWidthMm: 0.2,
        lengths: [3.6, 5, 6.8],
        numberMm: 3,
        depthMm: 9.6,
        penMm: 0.36,
      }),
      inches({
        side: 'low',
        sense: -1,
        perInch: 16,
        inches: 12,
        zeroMm: 12 * INCH + 5,
        tickWidthMm: 0.22,
        lengths: [2.8, 3.9, 5.2, 6.9, 8.8],
        numberMm: 3.4,
        depthMm: 11.6,
        penMm: 0.4,
      }),
    ],
  },
  'tape-mm': {
    material: 'tape',
    bodyMm: 1024,
    widthMm: 19,
    ink: '#15130f',
    gridMm: null,
    holeAtMm: 6,
    rows: [
      millimetres({
        side: 'high',
        sense: 1,
        divisions: 1000,
        zeroMm: 20,
        insetMm: 0.6,
        tickWidthMm: 0.26,
        lengths: [3.4, 5.2, 8.4],
        numberMm: 4.4,
        depthMm: 12.4,
        penMm: 0.6,
      }),
    ],
  },
  'grid-inch': {
    material: 'acrylic',
    bodyMm: 14 * INCH,
    widthMm: 4.5 * INCH,
    ink: '#1b2230',
    gridMm: INCH,
    holeAtMm: null,
    rows: [
      inches({
        side: 'high',
        sense: 1,
        perInch: 8,
        inches: 13,
        zeroMm: INCH / 2,
        insetMm: 3,
        tickWidthMm: 0.28,
        lengths: [2.2, 3.4, 5, 7],
        numberMm: 3.4,
        depthMm: 13,
        penMm: 0.4,
      }),
      inches({
        side: 'low',
        sense: -1,
        perInch: 8,
        inches: 13,
        zeroMm: 13.5 * INCH,
        insetMm: 3,
        tickWidthMm: 0.28,
        lengths: [2.2, 3.4, 5, 7],
        numberMm: 3.4,
        depthMm: 13,
        penMm: 0.4,
      }),
    ],
  },
  'metre-stick': {
    material: 'wood',
    bodyMm: 1012,
    widthMm: 27,
    ink: '#20170f',
    gridMm: null,
    holeAtMm: 1007,
    rows: [
      millimetres({
        side: 'high',
        sense: 1,
        divisions: 1000,
        zeroMm: 3,
        tickWidthMm: 0.3,
        lengths: [4, 6.2, 8.6],
        numberMm: 4.2,
        depthMm: 12.6,
        penMm: 0.55,
      }),
    ],
  },
  'black-mm': {
    material: 'black',
    bodyMm: 310,
    widthMm: 28,
    ink: '#e4e2da',
    gridMm: null,
    holeAtMm: null,
    rows: [
      millimetres({
        side: 'low',
        sense: 1,
        divisions: 300,
        zeroMm: 5,
        tickWidthMm: 0.22,
        lengths: [3.6, 5.4, 7.6],
        numberMm: 3.2,
        depthMm: 10.4,
        penMm: 0.42,
      }),
    ],
  },
  'half-mm': {
    material: 'metal',
    bodyMm: 170,
    widthMm: 20,
    ink: '#1f2126',
    gridMm: null,
    holeAtMm: 165,
    rows: [
      {
        side: 'high',
        sense: 1,
        unit: 'mm',
        divisionMm: 0.5,
        divisions: 300,
        zeroMm: 5,
        insetMm: 0,
        tickWidthMm: 0.13,
        ranks: [
          { every: 20, lengthMm: 7.2 },
          { every: 10, lengthMm: 5.6 },
          { every: 2, lengthMm: 4 },
          { every: 1, lengthMm: 2.6 },
        ],
        numbers: { every: 20, step: 1, heightMm: 2.6, depthMm: 9.6, penMm: 0.32 },
      },
    ],
  },
  'tape-inch': {
    material: 'tape',
    bodyMm: 40 * INCH + 24,
    widthMm: 16,
    ink: '#191712',
    gridMm: null,
    holeAtMm: 6,
    rows: [
      inches({
        side: 'high',
        sense: 1,
        perInch: 8,
        inches: 40,
        zeroMm: 16,
        insetMm: 0.5,
        tickWidthMm: 0.3,
        lengths: [2.8, 4, 5.6, 8],
        numberMm: 4.4,
        depthMm: 11.4,
        penMm: 0.6,
      }),
    ],
  },
  'steel-32nds': {
    material: 'metal',
    bodyMm: 12 * INCH + 12,
    widthMm: 25.4,
    ink: '#202226',
    gridMm: null,
    holeAtMm: null,
    rows: [
      inches({
        side: 'low',
        sense: 1,
        perInch: 32,
        inches: 12,
        zeroMm: 5,
        tickWidthMm: 0.16,
        lengths: [2.6, 3.6, 4.9, 6.4, 8.2, 10.4],
        numberMm: 3.2,
        depthMm: 13.2,
        penMm: 0.4,
      }),
    ],
  },
};

/** Sheets and the card: ISO 216, ANSI Y14.1 A, ISO/IEC 7810 ID-1 (corner radius 3.18 mm). */
export const SHEETS = {
  'sheet-a4': { widthMm: 297, heightMm: 210, cornerMm: 0, thickMm: 0.1 },
  'sheet-letter': { widthMm: 279.4, heightMm: 215.9, cornerMm: 0, thickMm: 0.1 },
  'card-id1': { widthMm: 85.6, heightMm: 53.98, cornerMm: 3.18, thickMm: 0.76 },
} as const;
