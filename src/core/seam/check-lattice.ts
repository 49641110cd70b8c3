import { type Expectation, finiteNumber, listOf, numberWithin, record } from '../base/expectation.js';

const length = numberWithin({ above: 0 }, 'mm');
/** 100 m: no cloth is wider. */
const place = numberWithin({ least: -1e5, most: 1e5 }, 'mm');
const extent = numberWithin({ least: 0, most: 1e5 }, 'mm');

/** See `MotifLattice`. */
export const MOTIF_LATTICE: Expectation = record(
  {
    acrossMm: length,
    alongMm: length,
    dropMm: finiteNumber,
    dots: listOf(record({ u: place, v: place, extent: listOf(extent, { least: 2, most: 2 }, 'sizes') })),
  },
  'what motifLattice gives',
);
