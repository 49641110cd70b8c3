import { type ClothPattern, edgeFromMiddle, wrap } from '../model/cloth-pattern.js';
import type { EdgeSequence } from './edge-sequence.js';

/**
 * The band edges as one half reads them down the seam, counted from the band at the reference point: edge 0
 * is that band's upper edge on the seam, edge 1 its lower one. Distances are across the stripes.
 */
export interface SideEdges {
  /** From the middle of the band at the reference point to edge m; grows with m. */
  readonly offsetMm: (m: number) => number;
  /** Index in the repeat of the band below edge m. */
  readonly bandAfter: (m: number) => number;
}

/** The mean cloth. reversed: u falls down the seam. */
export function meanSide(pattern: ClothPattern, band: number, reversed: boolean): SideEdges {
  const n = pattern.bands.length;
  return reversed
    ? {
        offsetMm: (m) => -edgeFromMiddle(pattern, band, 1 - m),
        bandAfter: (m) => wrap(band - m, n),
      }
    : {
        offsetMm: (m) => edgeFromMiddle(pattern, band, m),
        bandAfter: (m) => wrap(band + m, n),
      };
}

/** The cloth as photographed, from the band whose lower edge in u is edge `place` of the sequence. */
export function placedSide(sequence: EdgeSequence, place: number, reversed: boolean): SideEdges {
  const middle = (sequence.edgeU(place) + sequence.edgeU(place + 1)) / 2;
  return reversed
    ? {
        offsetMm: (m) => middle - sequence.edgeU(place + 1 - m),
        bandAfter: (m) => sequence.bandAt(place - m),
      }
    : {
        offsetMm: (m) => sequence.edgeU(place + m) - middle,
        bandAfter: (m) => sequence.bandAt(place + m),
      };
}
