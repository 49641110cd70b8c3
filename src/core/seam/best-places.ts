import { type Crossing, crossings, type SeamSides } from './crossings.js';
import { type EdgeSequence, placesOf } from './edge-sequence.js';
import type { SeamRequest } from './seam-request.js';
import { placedSide } from './side-edges.js';

/** A band instance on the photographed cloth that shall lie at the seam's reference point. */
export interface ClothPlace {
  /** Edge of the sequence below the band. */
  readonly place: number;
  /** The model's number of its repeat. */
  readonly repeat: number;
  /** Cloth u of the band's middle. */
  readonly uMm: number;
}

/** Two places to cut the halves from, and how well they meet. */
export interface PlacePair {
  readonly left: ClothPlace;
  readonly right: ClothPlace;
  readonly crossings: readonly Crossing[];
  /** Largest and root mean square misfit of the edges on the seam. */
  readonly worstMm: number;
  readonly rmsMm: number;
  /** Whether the seam runs past the photographed cloth, so that whole repeats were put on. */
  readonly continued: boolean;
}

/** How one pair of places meets. */
export function pairOfPlaces(
  sequence: EdgeSequence,
  request: SeamRequest,
  leftPlace: number,
  rightPlace: number,
): { readonly pair: PlacePair; readonly sides: SeamSides } {
  const reversed = request.lay === 'same-way';
  const sides = {
    left: placedSide(sequence, leftPlace, false),
    right: placedSide(sequence, rightPlace, reversed),
  };
  const found = crossings(sides, request);
  let worst = 0;
  let squares = 0;
  let continued = false;
  for (const one of found) {
    const off = Math.abs(one.rightMm - one.leftMm);
    worst = Math.max(worst, off);
    squares += off * off;
    const rightEdge = reversed ? rightPlace + 1 - one.edge : rightPlace + one.edge;
    for (const k of [leftPlace + one.edge, rightEdge]) if (k < 0 || k >= sequence.seen) continued = true;
  }
  const place = (k: number): ClothPlace => ({
    place: k,
    repeat: sequence.repeatAt(k),
    uMm: (sequence.edgeU(k) + sequence.edgeU(k + 1)) / 2,
  });
  const pair = {
    left: place(leftPlace),
    right: place(rightPlace),
    crossings: found,
    worstMm: worst,
    rmsMm: Math.sqrt(squares / Math.max(1, found.length)),
    continued,
  };
  return { pair, sides };
}

/** Places tried on either side: fine cloth has hundreds of pairs as good as each other. */
const MOST_PLACES = 10;

/**
 * The two different places whose worst edge misses least; pairs wholly inside the photographed cloth come
 * first. Of many instances of a band some are tried, spread evenly over the cloth. Null with fewer than two places.
 * bands: [left, right] at the reference point.
 */
export function bestPlaces(
  sequence: EdgeSequence,
  request: SeamRequest,
  bands: readonly [number, number],
): PlacePair | null {
  let best: PlacePair | null = null;
  for (const i of spread(placesOf(sequence, bands[0]))) {
    for (const j of spread(placesOf(sequence, bands[1]))) {
      if (i === j) continue;
      const { pair } = pairOfPlaces(sequence, request, i, j);
      if (best === null || better(pair, best)) best = pair;
    }
  }
  return best;
}

function spread(places: readonly number[]): readonly number[] {
  if (places.length <= MOST_PLACES) return places;
  return Array.from(
    { length: MOST_PLACES },
    (_, k) => places[Math.round((k * (places.length - 1)) / (MOST_PLACES - 1))],
  );
}

const better = (a: PlacePair, b: PlacePair): boolean =>
  a.continued !== b.continued
    ? b.continued
    : Math.abs(a.worstMm - b.worstMm) > 1e-9
      ? a.worstMm < b.worstMm
      : a.rmsMm < b.rmsMm - 1e-9;
