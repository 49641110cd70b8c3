import { forbiddenOnLine } from '../nofit/forbidden-on-line.js';
import { HAIR_MM } from './compiled.js';
import type { Search } from './search.js';

/** A straight line of shifts of one item: with axis 0 those of one shift across, told by the slide; with axis 1 the other way about. */
export interface Line {
  readonly bin: number;
  readonly ring: number;
  readonly axis: 0 | 1;
  readonly at: number;
  readonly low: number;
  readonly high: number;
  /** Shifts go by such steps from `first`; 0: any. */
  readonly step: number;
  readonly first: number;
}

/** Stretches of the line in which the item overlaps one other, and what a mm counts there. One line at a time. */
const ROOM = 1 << 14;
const ends = new Float64Array(2 * ROOM);
const counts = new Float64Array(ROOM);

/**
 * The shift on a line at which the item's overlaps count least, each counted by the shorter way out along the line; NaN where the line has none. What
 * they count is least at an end of a stretch: between those it is a sum of concave parts. A shift that counts nothing is taken as soon
 * as it is found; which one comes first is chance.
 */
export function bestOnLine(search: Search, item: number, line: Line): number {
  const low = line.step > 0 ? stepUp(line, line.low) : line.low;
  const high = line.step > 0 ? stepDown(line, line.high) : line.high;
  if (!(low <= high)) return Number.NaN;
  const n = gather(search, item, line);
  let best = Number.NaN;
  let least = Infinity;
  const tries = n + 2;
  const from = Math.floor(search.random() * tries);
  for (let t = 0; t < tries && least > 0; t++) {
    const k = (from + t) % tries;
    let shift = k < n ? ends[k] : k === n ? low : high;
    if (k < n) {
      shift += (k & 1) === 0 ? -HAIR_MM : HAIR_MM;
      if (line.step > 0) shift = (k & 1) === 0 ? stepDown(line, shift) : stepUp(line, shift);
    }
    if (!(shift >= low && shift <= high)) continue;
    const count = countAt(shift, n, least);
    if (count < least) {
      least = count;
      best = shift;
    }
  }
  return best;
}

const stepUp = ({ first, step }: Line, at: number): number =>
  first + Math.ceil((at - HAIR_MM - first) / step) * step;
const stepDown = ({ first, step }: Line, at: number): number =>
  first + Math.floor((at + HAIR_MM - first) / step) * step;

function gather(search: Search, item: number, { bin, ring: moving, axis, at }: Line): number {
  const { columns, bin: bins, across, slide, ring, weight, compiled } = search;
  const fixed = axis === 0 ? across : slide;
  const free = axis === 0 ? slide : across;
  let n = 0;
  for (let other = 0; other < columns && n < 2 * ROOM - 256; other++) {
    if (other === item || bins[other] !== bin) continue;
    const end = forbiddenOnLine(compiled.noFitOf(ring[other], moving), axis, at - fixed[other], ends, n);
    for (; n < end; n += 2) {
      ends[n] += free[other];
      ends[n + 1] += free[other];
      counts[n >> 1] = weight[item * columns + other];
    }
  }
  return n;
}

function countAt(shift: number, n: number, below: number): number {
  let sum = 0;
  for (let k = 0; k < n; k += 2) {
    const over = shift - ends[k];
    const under = ends[k + 1] - shift;
    if (over <= 0 || under <= 0) continue;
    sum += counts[k >> 1] * (over < under ? over : under);
    if (sum >= below) return sum;
  }
  return sum;
}
