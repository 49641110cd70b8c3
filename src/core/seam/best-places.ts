import { clothFromGarment, type HalfOnCloth } from '../model/half-on-cloth.js';
import { type Crossing, crossings, type SeamSides } from './crossings.js';
import { type EdgeSequence, placesOf } from './edge-sequence.js';
import { leftOnCloth, rightOnCloth } from './half-placement.js';
import { alongSeamMm } from './seam-lengths.js';
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
  /** Where the half lies on the cloth when the reference point is at cloth v = 0: along the stripes it may be anywhere. */
  readonly half: HalfOnCloth;
  /** Its seam on the cloth so laid, [u, v] in mm: from the top of the seam to its foot. */
  readonly seam: readonly [readonly [number, number], readonly [number, number]];
  /** How far the seam reaches along the stripes from the reference point: [lowest, highest] v, mm. */
  readonly reachVMm: readonly [number, number];
}

/** One edge where it crosses the seam on either half, and whether the photo showed both. */
export interface PlaceCrossing extends Crossing {
  /** False: on one half at least the place is carried on by whole repeats, and says nothing. */
  readonly seen: boolean;
}

/** Two places to cut the halves from, and how well they meet as far as they were seen. */
export interface PlacePair {
  /** Where on the cloth the left half's band lies. */
  readonly left: ClothPlace;
  /** Where the right half's does. */
  readonly right: ClothPlace;
  /** Edges that meet the seam from these places, from its top. */
  readonly crossings: readonly PlaceCrossing[];
  /** How many of them were seen on both halves. */
  readonly edgesSeen: number;
  /** Largest and root mean square misfit, as measured, of the edges seen. */
  readonly worstMm: number;
  /** Root mean square miss of the edges seen, mm along the seam. */
  readonly rmsMm: number;
  /** Whether the seam runs partly beyond the photographed cloth: what lies there was not judged. */
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
  const inView = (k: number): boolean => k >= 0 && k < sequence.seen;
  let worst = 0;
  let squares = 0;
  let edgesSeen = 0;
  const found = crossings(sides, request).map((one) => {
    const rightEdge = reversed ? rightPlace + 1 - one.edge : rightPlace + one.edge;
    const seen = inView(leftPlace + one.edge) && inView(rightEdge);
    if (seen) {
      const off = Math.abs(one.rightMm - one.leftMm);
      worst = Math.max(worst, off);
      squares += off * off;
      edgesSeen++;
    }
    return { ...one, seen };
  });
  const pair = {
    left: placeOf(sequence, request, leftPlace, 'left'),
    right: placeOf(sequence, request, rightPlace, 'right'),
    crossings: found,
    edgesSeen,
    worstMm: worst,
    rmsMm: Math.sqrt(squares / Math.max(1, edgesSeen)),
    continued: edgesSeen < found.length,
  };
  return { pair, sides };
}

function placeOf(
  sequence: EdgeSequence,
  { leftDeg, rightDeg, atMm, seamMm, shiftMm, point, lay }: SeamRequest,
  k: number,
  side: 'left' | 'right',
): ClothPlace {
  const uMm = (sequence.edgeU(k) + sequence.edgeU(k + 1)) / 2;
  const half =
    side === 'left'
      ? leftOnCloth(leftDeg, point, { atMm, uMm, vMm: 0 })
      : rightOnCloth(rightDeg, point, lay, { atMm: atMm + alongSeamMm(shiftMm, rightDeg), uMm, vMm: 0 });
  const top = clothFromGarment(half, 0, 0);
  const foot = clothFromGarment(half, 0, seamMm);
  return {
    place: k,
    repeat: sequence.repeatAt(k),
    uMm,
    half,
    seam: [top, foot],
    reachVMm: [Math.min(top[1], foot[1]), Math.max(top[1], foot[1])],
  };
}

/** Why no two places are offered. */
export type NoBest = 'not-photographed' | 'one-place' | 'too-little-seen' | 'forbidden' | 'unequal-angles';

/** Places tried on either side: fine cloth has hundreds of pairs as good as each other. */
const MOST_PLACES = 10;

/** Of a pair less of whose edges than this part was seen, most of the seam would be a guess. */
const LEAST_SEEN = 0.5;

/**
 * The two different places to cut from: of pairs seen whole the one whose worst edge misses least; where there is none, the one
 * of which most is seen (of those the one that misses least), but no pair of which less than half is. Edges that the photo
 * did not show are never judged: carried on by whole repeats, one place would be compared with a copy of the other. Of many
 * instances of a band some are tried, spread evenly over the cloth. bands: [left, right] at the reference point.
 */
export function bestPlaces(
  sequence: EdgeSequence,
  request: SeamRequest,
  bands: readonly [number, number],
): PlacePair | 'one-place' | 'too-little-seen' {
  let best: PlacePair | null = null;
  let tried = false;
  for (const i of spread(placesOf(sequence, bands[0]))) {
    for (const j of spread(placesOf(sequence, bands[1]))) {
      if (i === j) continue;
      tried = true;
      const { pair } = pairOfPlaces(sequence, request, i, j);
      if (pair.edgesSeen === 0 || pair.edgesSeen < LEAST_SEEN * pair.crossings.length) continue;
      if (best === null || better(pair, best)) best = pair;
    }
  }
  return best ?? (tried ? 'too-little-seen' : 'one-place');
}

function spread(places: readonly number[]): readonly number[] {
  if (places.length <= MOST_PLACES) return places;
  return Array.from(
    { length: MOST_PLACES },
    (_, k) => places[Math.round((k * (places.length - 1)) / (MOST_PLACES - 1))],
  );
}

function better(a: PlacePair, b: PlacePair): boolean {
  if (a.continued !== b.continued) return b.continued;
  const share = (pair: PlacePair): number => pair.edgesSeen / pair.crossings.length;
  if (a.continued && Math.abs(share(a) - share(b)) > 1e-9) return share(a) > share(b);
  return Math.abs(a.worstMm - b.worstMm) > 1e-9 ? a.worstMm < b.worstMm : a.rmsMm < b.rmsMm - 1e-9;
}
