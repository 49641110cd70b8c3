/**
 * How the right half is laid on the cloth relative to the left one.
 *
 * - same-way: right side up, its top pointing the same way along the stripes;
 * - head-to-tail: right side up, its top pointing the other way along the stripes;
 * - wrong-side: the same way, but with the cloth's wrong side showing;
 * - run-on: no mirror: both halves laid alike, so that the stripes slant on across the seam.
 */
export type Lay = 'same-way' | 'head-to-tail' | 'wrong-side' | 'run-on';

export const LAYS: readonly Lay[] = ['same-way', 'head-to-tail', 'wrong-side', 'run-on'];

/** Which way the point of the V looks. */
export type PointOfV = 'down' | 'up';
