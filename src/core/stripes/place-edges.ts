import { ciede2000 } from '../colour/ciede2000.js';
import type { EdgeLattice } from './edge-lattice.js';
import type { BandPlace, RoughReading } from './stripe-reading.js';

/**
 * Places in the repeat for segments that the first reading could not number (beyond a ruler that parts the stripes, or beside a
 * missed edge), by where their edges lie in the metric frame: the nearest lattice place whose band has the segment's colour,
 * within a third of that band's width.
 */
export function placeSegments(
  reading: RoughReading,
  edgeMm: ArrayLike<number>,
  lattice: EdgeLattice,
): (BandPlace | null)[] {
  const n = reading.bandsPerRepeat;
  if (n === null) return [...reading.places];
  const widths = lattice.offsetsMm.map((o, b) => {
    const next = b + 1 < n ? lattice.offsetsMm[b + 1] : lattice.offsetsMm[0] + lattice.periodMm;
    return next - o;
  });
  const labOf = Array.from({ length: n }, (_, b) => {
    const s = reading.places.findIndex((p) => p?.band === b);
    return s < 0 ? null : reading.segments[s].lab;
  });
  const starts = new Map<number, number>();
  const ends = new Map<number, number>();
  reading.edges.forEach((edge, e) => {
    if (Number.isNaN(edgeMm[e])) return;
    ends.set(edge.left, edgeMm[e]);
    starts.set(edge.right, edgeMm[e]);
  });
  return reading.segments.map((segment, s) => {
    const held = reading.places[s];
    if (held) return held;
    const start = starts.get(s);
    const end = ends.get(s);
    let best: BandPlace | null = null;
    let least = Infinity;
    for (let b = 0; b < n; b++) {
      const lab = labOf[b];
      if (lab === null || Number.isNaN(lattice.offsetsMm[b]) || ciede2000(segment.lab, lab) > 12) continue;
      const from = start ?? (end === undefined ? Number.NaN : end - widths[b]);
      const repeat = Math.round((from - lattice.offsetsMm[b]) / lattice.periodMm);
      const startMiss =
        start === undefined ? 0 : Math.abs(start - lattice.offsetsMm[b] - repeat * lattice.periodMm);
      const endMiss =
        end === undefined ? 0 : Math.abs(end - lattice.offsetsMm[b] - widths[b] - repeat * lattice.periodMm);
      const miss = Math.max(startMiss, endMiss);
      if (miss < Math.min(least, 0.34 * widths[b])) {
        least = miss;
        best = { band: b, repeat };
      }
    }
    return best;
  });
}

/** Place of the band that begins at each edge; null unless the band before it is the one that should be. */
export function edgePlaces(
  reading: RoughReading,
  places: readonly (BandPlace | null)[],
): (BandPlace | null)[] {
  const n = reading.bandsPerRepeat;
  return reading.edges.map(({ left, right }) => {
    const p = places[left];
    const q = places[right];
    if (n === null || p === null || q === null) return null;
    const follows = q.band === (p.band + 1) % n && q.repeat === p.repeat + (p.band + 1 === n ? 1 : 0);
    return follows ? q : null;
  });
}
