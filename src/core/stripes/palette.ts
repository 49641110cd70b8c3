import { ciede2000 } from '../colour/ciede2000.js';
import { type Lab, labFromLinear } from '../colour/lab.js';
import type { Segment } from './segment.js';
import type { PaletteColour } from './stripe-reading.js';

/** Closer than this (CIEDE2000) two bands are one dye: light is never evened better than that. */
const SAME_DYE = 2.6;

interface Group {
  readonly linear: [number, number, number];
  readonly weight: number;
  readonly members: readonly number[];
  readonly spread: number;
}

/**
 * The cloth's colours, their number by evidence: bands of one place in the repeat are one colour to begin with, and two places
 * are one colour when they lie no further apart than the same dye does, or than the scatter of repeats leaves open. Nearest first
 * (average linkage). `keys`: a segment's place in the repeat, or null; those without one stand alone to begin with.
 *
 * Returns the palette by falling width and each segment's index in it.
 */
export function paletteOf(
  segments: readonly Segment[],
  keys: readonly (number | null)[],
): { palette: PaletteColour[]; colours: number[] } {
  const byKey = new Map<string, number[]>();
  segments.forEach((_, i) => {
    const key = keys[i] === null ? `alone ${i}` : `band ${keys[i]}`;
    byKey.set(key, [...(byKey.get(key) ?? []), i]);
  });
  let groups = [...byKey.values()].map((members) => groupOf(segments, members));
  for (;;) {
    let pair: [number, number] | null = null;
    let least = 1;
    for (let i = 0; i < groups.length; i++) {
      for (let j = i + 1; j < groups.length; j++) {
        const apart = ciede2000(labFromLinear(groups[i].linear), labFromLinear(groups[j].linear));
        const error = Math.hypot(errorOf(groups[i]), errorOf(groups[j]));
        const ratio = apart / Math.max(SAME_DYE, Math.min(5, 2 * error));
        if (ratio < least) {
          least = ratio;
          pair = [i, j];
        }
      }
    }
    if (pair === null) break;
    const [i, j] = pair;
    const joined = groupOf(segments, [...groups[i].members, ...groups[j].members]);
    groups = groups.filter((_, k) => k !== i && k !== j);
    // The scatter of a joined group would grow with each join: keep that of its parts.
    groups.push({ ...joined, spread: Math.min(joined.spread, 1.3) });
  }
  groups.sort((a, b) => b.weight - a.weight);
  const colours = new Array<number>(segments.length).fill(0);
  groups.forEach((g, k) => {
    for (const m of g.members) colours[m] = k;
  });
  return { palette: groups.map((g) => ({ linear: g.linear, lab: labFromLinear(g.linear) })), colours };
}

/** Of a group's mean: shadows over some repeats move it less the more there are. */
const errorOf = ({ spread, members }: Group): number => spread / Math.sqrt(members.length);

function groupOf(segments: readonly Segment[], members: readonly number[]): Group {
  const linear: [number, number, number] = [0, 0, 0];
  let weight = 0;
  for (const m of members) {
    const w = segments[m].to - segments[m].from;
    weight += w;
    for (let c = 0; c < 3; c++) linear[c] += w * segments[m].linear[c];
  }
  for (let c = 0; c < 3; c++) linear[c] /= Math.max(1e-9, weight);
  const centre: Lab = labFromLinear(linear);
  const offs = members.map((m) => ciede2000(segments[m].lab, centre)).sort((a, b) => a - b);
  return { linear, weight, members, spread: members.length > 2 ? offs[offs.length >> 1] : 0 };
}
