import type { Point } from '../../math/matrix3.js';
import { distanceMm } from '../geometry/outline.js';

/** A line as drawn, mm, in the piece frame. */
export interface DrawnLine {
  readonly points: readonly Point[];
  readonly closed: boolean;
}

/** Ends no further apart are one: what is still "on the line", mm. */
const JOIN_MM = 0.05;

/**
 * Lines that go on where another ends, joined into longer ones, nearest ends first for each; a chain whose own ends meet is closed. Closed
 * lines stay as they are. An outline is often drawn as several strokes.
 */
export function joinedLines(lines: readonly DrawnLine[]): DrawnLine[] {
  const done: DrawnLine[] = lines.filter((line) => line.closed);
  const open = lines.filter((line) => !line.closed && line.points.length > 0).map((line) => [...line.points]);
  while (open.length > 0) {
    let chain = open.shift() as Point[];
    for (;;) {
      const end = chain[chain.length - 1];
      if (chain.length > 2 && distanceMm(chain[0], end) <= JOIN_MM) break;
      const next = nearestContinuation(end, open);
      if (next === null) {
        const before = nearestContinuation(chain[0], open);
        if (before === null) break;
        open.splice(before.index, 1);
        chain = [...[...before.points].reverse(), ...chain.slice(1)];
      } else {
        open.splice(next.index, 1);
        chain = [...chain, ...next.points.slice(1)];
      }
    }
    const closed = chain.length > 2 && distanceMm(chain[0], chain[chain.length - 1]) <= JOIN_MM;
    done.push({ points: closed ? chain.slice(0, -1) : chain, closed });
  }
  return done;
}

/** The open line of which an end lies nearest to a place, listed from that end. */
function nearestContinuation(
  place: Point,
  open: readonly Point[][],
): { readonly index: number; readonly points: Point[] } | null {
  let best = { away: JOIN_MM, index: -1, reversed: false };
  open.forEach((points, index) => {
    const [first, last] = [distanceMm(points[0], place), distanceMm(points[points.length - 1], place)];
    if (first <= best.away) best = { away: first, index, reversed: false };
    if (last < best.away) best = { away: last, index, reversed: true };
  });
  if (best.index < 0) return null;
  const points = open[best.index];
  return { index: best.index, points: best.reversed ? [...points].reverse() : points };
}
