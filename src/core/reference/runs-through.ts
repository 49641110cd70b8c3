import type { Raster } from '../raster/raster.js';
import type { SheetPose } from './sheet-pose.js';

/** Colours are compared this far to either side of a supposed sheet's sides, px of the searched copy. */
const apartPx = 3;
/** Slanting stripes cross the two lines this many samples apart at most. */
const mostLag = 5;

/**
 * How far the pattern outside a supposed sheet goes on inside it, 0..1: the changes of colour along a line just outside
 * each side against those along a line just inside, as their product over the square of the stronger. A sheet hides the cloth; a quadrilateral of the cloth's own
 * checks, or of a clear ruler's grid, does not.
 */
export function runsThrough(lab: Raster<Float32Array>, corners: SheetPose['corners']): number {
  let alike = 0;
  let changesInside = 0;
  let changesOutside = 0;
  corners.forEach((from, k) => {
    const to = corners[(k + 1) % 4];
    const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
    // Clockwise as seen: the inside lies to the right of each side's direction, (-dy, dx).
    const right = [-(to[1] - from[1]) / length, (to[0] - from[0]) / length];
    const count = Math.floor(0.86 * length);
    const along = (sign: 1 | -1): Float32Array => {
      const line = new Float32Array(3 * count);
      for (let i = 0; i < count; i++) {
        const share = 0.07 + (0.86 * i) / count;
        const x = from[0] + share * (to[0] - from[0]) + sign * apartPx * right[0];
        const y = from[1] + share * (to[1] - from[1]) + sign * apartPx * right[1];
        const px = Math.min(Math.max(Math.floor(x), 0), lab.width - 1);
        const py = Math.min(Math.max(Math.floor(y), 0), lab.height - 1);
        line.set(lab.data.subarray(3 * (py * lab.width + px), 3 * (py * lab.width + px) + 3), 3 * i);
      }
      return changes(line);
    };
    const inside = along(1);
    const outside = along(-1);
    let best = 0;
    for (let lag = -mostLag; lag <= mostLag; lag++) best = Math.max(best, product(inside, outside, 3 * lag));
    alike += best;
    changesInside += product(inside, inside, 0);
    changesOutside += product(outside, outside, 0);
  });
  const most = Math.max(changesInside, changesOutside);
  return most > 0 ? alike / most : 0;
}

/** Change of colour over four samples, which leaves single pixels' noise behind. */
function changes(line: Float32Array): Float32Array {
  const step = 12;
  return Float32Array.from({ length: Math.max(line.length - step, 0) }, (_, i) => line[i + step] - line[i]);
}

function product(p: Float32Array, q: Float32Array, lag: number): number {
  let sum = 0;
  for (let i = Math.max(0, -lag); i < Math.min(p.length, q.length - lag); i++) sum += p[i] * q[i + lag];
  return sum;
}
