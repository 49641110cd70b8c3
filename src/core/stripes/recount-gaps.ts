import { median } from '../math/robust.js';
import type { BandPlace, RoughReading } from './stripe-reading.js';

/** Part of a repeat by which a stretch may miss a whole number of them and still be counted anew. */
const WHOLE = 0.15;

interface Start {
  readonly place: BandPlace;
  readonly uMm: number;
}

/**
 * Counts the repeats anew across whatever parts the stripes. Under a hand or a ruler the count goes by widths in the picture alone; on
 * the plane the repeat that all stretches have in common tells how many lie between two of them. A stretch that misses a whole number
 * keeps its count.
 *
 * @param edgeMm Place of each of the reading's edges across the stripes, NaN for one unseen.
 */
export function recountedPlaces(
  { segments, edges, places }: Pick<RoughReading, 'segments' | 'edges' | 'places'>,
  edgeMm: ArrayLike<number>,
  bands: number,
): (BandPlace | null)[] {
  const startOf = new Map(edges.map(({ right }, e) => [right, edgeMm[e]]));
  const stretches: Start[][] = [];
  const own = new Int32Array(segments.length).fill(-1);
  places.forEach((place, s) => {
    if (place === null) return;
    const before = s > 0 ? places[s - 1] : null;
    const follows = before !== null && startOf.has(s) && countOf(place, bands) === countOf(before, bands) + 1;
    if (!follows) stretches.push([]);
    own[s] = stretches.length - 1;
    // The first of a stretch begins where what parts it ends.
    const uMm = follows ? (startOf.get(s) ?? Number.NaN) : Number.NaN;
    if (!Number.isNaN(uMm)) stretches[own[s]].push({ place, uMm });
  });
  const periodMm = commonPeriod(stretches);
  if (periodMm === null) return [...places];
  const phases = stretches.map((stretch) => phasesOf(stretch, periodMm, bands));
  const longest = stretches.reduce((best, { length }, g) => (length > stretches[best].length ? g : best), 0);
  const shifts = phases.map((phase) => {
    const off = phase.flatMap((p, b) => {
      const shift = (p - phases[longest][b]) / periodMm;
      return Number.isNaN(shift) ? [] : [shift];
    });
    if (off.length === 0) return 0;
    const shift = median(off);
    return Math.abs(shift - Math.round(shift)) <= WHOLE ? Math.round(shift) : 0;
  });
  return places.map((place, s) => place && { ...place, repeat: place.repeat + shifts[own[s]] });
}

const countOf = ({ band, repeat }: BandPlace, bands: number): number => repeat * bands + band;

/** Least squares over the starts of each band within each stretch; null where no band comes twice in one. */
function commonPeriod(stretches: readonly (readonly Start[])[]): number | null {
  let top = 0;
  let leverage = 0;
  for (const stretch of stretches) {
    for (const band of new Set(stretch.map(({ place }) => place.band))) {
      const same = stretch.filter(({ place }) => place.band === band);
      const k = same.reduce((s, { place }) => s + place.repeat, 0) / same.length;
      const u = same.reduce((s, { uMm }) => s + uMm, 0) / same.length;
      for (const { place, uMm } of same) {
        top += (place.repeat - k) * (uMm - u);
        leverage += (place.repeat - k) ** 2;
      }
    }
  }
  return leverage > 0 ? top / leverage : null;
}

/** Where each band would begin in repeat 0; NaN for one not seen. */
const phasesOf = (stretch: readonly Start[], periodMm: number, bands: number): number[] =>
  Array.from({ length: bands }, (_, band) => {
    const at = stretch.flatMap(({ place, uMm }) =>
      place.band === band ? [uMm - periodMm * place.repeat] : [],
    );
    return at.length > 0 ? median(at) : Number.NaN;
  });
