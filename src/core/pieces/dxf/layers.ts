/**
 * Layers of the interchange standard for sewn products, ASTM D6673-04 and -10 (after ANSI/AAMA-292), by number. Its table could be read second-hand
 * only: two published lists of it agree on 1 to 11, 13 and 14, one of them gives 15 and 80 to 83 as well (search of 2026-12). 84 to 87 are
 * from memory and not used.
 */
export const LAYER = {
  boundary: '1',
  turnPoints: '2',
  notches: '4',
  mirror: '6',
  grain: '7',
  stripes: '9',
  cutOut: '11',
  drillHoles: '13',
  sew: '14',
  text: '15',
} as const;

/** V and slit notches; T, castle, check and U notches. */
export const NOTCH_LAYERS: ReadonlySet<string> = new Set([LAYER.notches, '80', '81', '82', '83']);

/** Mm for each unit that $INSUNITS may name (Autodesk, DXF reference, header variables). 0 is "unitless". */
export const MM_PER_INSUNIT: Readonly<Record<number, number>> = {
  1: 25.4,
  2: 304.8,
  4: 1,
  5: 10,
  6: 1000,
  10: 914.4,
  14: 100,
};
