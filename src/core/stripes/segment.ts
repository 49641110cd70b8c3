import type { Lab } from '../colour/lab.js';

/** A band as it lies in the straight picture: between two edges (columns, fractions allowed), of one colour. */
export interface Segment {
  readonly from: number;
  readonly to: number;
  /** The band's own colour, its edges' blur taken off. */
  readonly lab: Lab;
  readonly linear: readonly [number, number, number];
}
