import type { BandLine } from '../cloth/band-line.js';
import { bandIndexAt } from '../cloth/band-line.js';

/** Distance, mm, from the coordinate to the nearest middle, start or end of the band (index in the repeat). */
export function landsMiss(
  line: BandLine,
  band: number,
  side: 'middle' | 'start' | 'end',
  atMm: number,
): number {
  const { edgesMm } = line;
  const off = (k: number): number =>
    Math.abs(
      (side === 'start' ? edgesMm[k] : side === 'end' ? edgesMm[k + 1] : (edgesMm[k] + edgesMm[k + 1]) / 2) -
        atMm,
    );
  return nearest(line, band, atMm, off);
}

/**
 * Distance, mm, from the coordinate to the nearest place for which `shows` holds of the chain's band; 0 on such a band.
 */
export function distanceToShown(line: BandLine, shows: (k: number) => boolean, atMm: number): number {
  const { edgesMm } = line;
  const k = bandIndexAt(line, atMm);
  if (shows(k)) return 0;
  let least = Number.POSITIVE_INFINITY;
  for (let i = k - 1; i >= 0; i--)
    if (shows(i)) {
      least = atMm - edgesMm[i + 1];
      break;
    }
  for (let i = k + 1; i < line.band.length && edgesMm[i] - atMm < least; i++)
    if (shows(i)) return Math.min(least, edgesMm[i] - atMm);
  return least;
}

/** Walks both ways from the coordinate until the nearest band of that index on either side is judged. */
function nearest(line: BandLine, band: number, atMm: number, off: (k: number) => number): number {
  const k = bandIndexAt(line, atMm);
  let least = Number.POSITIVE_INFINITY;
  // A band's nearest line may be that of the second one on a side (its far edge), never of the third.
  let found = 0;
  for (let i = k; i >= 0 && found < 2; i--)
    if (line.band[i] === band) {
      least = Math.min(least, off(i));
      found++;
    }
  found = 0;
  for (let i = k + 1; i < line.band.length && found < 2; i++)
    if (line.band[i] === band) {
      least = Math.min(least, off(i));
      found++;
    }
  return least;
}
