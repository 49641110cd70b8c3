import type { Point } from '../math/matrix3.js';
import { halve } from '../raster/halve.js';
import { labOf } from '../raster/lab-of.js';
import type { Raster } from '../raster/raster.js';
import { colourEdges } from './colour-edges.js';
import { combNumberAt, combPitchAt } from './comb-fit.js';
import { edgeLines } from './edge-lines.js';
import { faintRuler } from './faint-ruler.js';
import type { TickReading } from './read-ticks.js';
import { sideCombs } from './side-combs.js';

/** Edges are sought on a copy no longer than this, px, and must be as long as this part of it. */
const SEARCH_PX = 1400;
const LEAST_OF_PICTURE = 0.1;
/** Waves that are looked at closely, the strongest first. */
const LOOKS = 9;
/** So many readings are enough. */
const ENOUGH = 3;
/** Two readings of one ruler agree within this at one place, as a part of the scale. */
const AGREE = 0.03;

/**
 * Finds a ruler whose marks are too faint, fine, blurred or worn for any of them to be seen alone: by the wave that all of them make beside
 * one of its long edges. Slower than looking for ticks, and the last resort.
 *
 * @param luma All of the picture's.
 * @returns The longest reading; null when there is none, or two of one ruler contradict each other.
 */
export function findFaintRuler(
  picture: Raster<Uint8Array>,
  luma: Raster<Uint8Array>,
  unit: 'auto' | 'mm' | 'inch',
): TickReading | null {
  let small = picture;
  while (Math.max(small.width, small.height) > SEARCH_PX) small = halve(small);
  const shrink = Math.round(picture.width / small.width);
  const leastPx = LEAST_OF_PICTURE * Math.max(small.width, small.height);
  const lines = edgeLines(colourEdges(labOf(small)), Math.floor(0.3 * leastPx));
  const readings: TickReading[] = [];
  for (const side of sideCombs(luma, lines, shrink, leastPx * shrink).slice(0, LOOKS)) {
    const reading = faintRuler(luma, side, unit);
    if (reading !== null) readings.push(reading);
    if (readings.length === ENOUGH) break;
  }
  const ownMarks = readings.filter((reading) => !readings.some((finer) => isLongMarksOf(reading, finer)));
  if (ownMarks.length === 0) return null;
  const longest = ownMarks.reduce((a, b) => (lengthOf(b) > lengthOf(a) ? b : a));
  const contradicted = ownMarks.some(
    (other) => liesAlong(other, longest) && Math.abs(Math.log(scaleBeside(other, longest))) > AGREE,
  );
  return contradicted ? null : longest;
}

/** Whether a surer reading of the same rule has so many whole marks to each of this one's: a rule's long marks alone may pass for all of them. */
function isLongMarksOf(reading: TickReading, finer: TickReading): boolean {
  if (!(finer.hierarchy.lead > reading.hierarchy.lead) || !liesAlong(reading, finer)) return false;
  const marks = (scaleBeside(reading, finer) * reading.hierarchy.pitchMm) / finer.hierarchy.pitchMm;
  const whole = Math.round(marks);
  return whole > 1 && Math.abs(Math.log(marks / whole)) < AGREE;
}

/** The scale of one reading over that of another, in the middle of the latter. */
function scaleBeside(reading: TickReading, other: TickReading): number {
  const { line } = other;
  const middle = (line.fromPx + line.toPx) / 2;
  const place: Point = [line.x + middle * line.alongX, line.y + middle * line.alongY];
  return pxPerMmAt(reading, place) / pxPerMmAt(other, place);
}

const lengthOf = ({ line }: Pick<TickReading, 'line'>): number => line.toPx - line.fromPx;

/** Where a place lies along the reading's line. */
const pxPerMmAt = ({ comb, line, hierarchy }: TickReading, [x, y]: Point): number => {
  const s = (x - line.x) * line.alongX + (y - line.y) * line.alongY;
  return Math.abs(combPitchAt(comb, combNumberAt(comb, s))) / hierarchy.pitchMm;
};

/** The same rule's other edge, or the same edge once more: level and no further off than a rule is wide. */
function liesAlong({ line: a }: TickReading, { line: b }: TickReading): boolean {
  const sine = Math.abs(a.alongX * b.alongY - a.alongY * b.alongX);
  const apart = Math.abs(-(a.x - b.x) * b.alongY + (a.y - b.y) * b.alongX);
  return sine < 0.05 && apart < 0.3 * lengthOf({ line: b });
}
