import { type Lab, labFromLinear, linearFromLab } from '../colour/lab.js';
import { median } from '../math/robust.js';
import type { MotifInput } from './motif-input.js';

/** What each column should show: its band, and the neighbour whose edge is within reach; -1: none. */
export interface ColumnBands {
  readonly own: Int16Array;
  readonly other: Int16Array;
}

/** CIE76 units from its band within which a pixel is the band's, whatever else is near. */
export const SAME_COLOUR = 8;
/** CIE76 units from its band beyond which a pixel is something else, even in a colour not listed. */
const STRANGER = 30;

/** What a column shows where there is no print, and which colours count as print there. */
export interface Ground {
  readonly band: Lab;
  /** Within reach of an edge: what the blur there passes through. */
  readonly edge: Blend | null;
  readonly print: readonly Lab[];
}

/** One a column; null where no band is known. Columns of the same band, far from its edges, share one. */
export function grounds(
  { bands, colours, printColours }: MotifInput,
  { own, other }: ColumnBands,
  bandLab: readonly Lab[],
): (Ground | null)[] {
  const known = new Map<string, Ground>();
  return Array.from(own, (band, x) => {
    if (band < 0) return null;
    const key = `${band},${other[x]}`;
    const held = known.get(key);
    if (held) return held;
    const beside = other[x] < 0 ? null : other[x];
    // A pixel at an edge may show the neighbour: that is no print.
    const print = printColours.filter(
      (c) => c !== bands[band].colour && (beside === null || c !== bands[beside].colour),
    );
    const ground = {
      band: bandLab[band],
      edge: beside === null ? null : blendOf(bandLab[band], bandLab[beside]),
      print: print.map((c) => colours[c].lab),
    };
    known.set(key, ground);
    return ground;
  });
}

/** Which of the print's colours a pixel shows; null for the band, its neighbour, or what lies between the two. */
export function printAt(lab: Float32Array, i: number, { band, edge, print }: Ground): Lab | null {
  const p: Lab = [lab[3 * i], lab[3 * i + 1], lab[3 * i + 2]];
  const off = edge ? squaresFromBlend(p, edge) : squaresTo(lab, i, band);
  if (off < SAME_COLOUR ** 2) return null;
  let nearest: Lab | null = null;
  let least = Infinity;
  for (const one of print) {
    const d = squaresTo(lab, i, one);
    if (d < least) {
      least = d;
      nearest = one;
    }
  }
  if (least < off) return nearest;
  // Far from the band and no rim of the print either: a small part of it in a colour of its own.
  if (off < STRANGER ** 2) return null;
  return print.some((one) => squaresFromMixture(p, band, one) < STRANGER ** 2 / 4) ? null : nearest;
}

/** Whether a pixel shows clearly more than its band, or what its edges blur into. */
export const isStrange = (lab: Float32Array, i: number, { band, edge }: Ground): boolean =>
  (edge ? squaresFromBlend([lab[3 * i], lab[3 * i + 1], lab[3 * i + 2]], edge) : squaresTo(lab, i, band)) >
  4 * SAME_COLOUR ** 2;

/** Away from edges: is the pixel one that print covers in part, however little of it? */
export const isPartlyPrint = (lab: Float32Array, i: number, { band, edge, print }: Ground): boolean =>
  edge === null &&
  print.some(
    (one) => squaresFromMixture([lab[3 * i], lab[3 * i + 1], lab[3 * i + 2]], band, one) < STRANGER ** 2 / 4,
  );

/**
 * A band's colour in this picture: the median of those of its pixels that are nearer to the colour measured for it than to
 * any of the print, for print may cover most of a band. The colour measured where too few are.
 */
export function bandColour(
  lab: Float32Array,
  seen: Uint8Array,
  columns: readonly number[],
  width: number,
  measured: Lab,
  print: readonly Lab[],
): Lab {
  const others = print.filter((p) => p !== measured);
  const values: [number[], number[], number[]] = [[], [], []];
  // Some thousand pixels settle a median.
  const step = Math.max(1, Math.floor((columns.length * (seen.length / width)) / 3000));
  columns.forEach((x, n) => {
    for (let i = x + (n % step) * width; i < seen.length; i += step * width) {
      if (!seen[i]) continue;
      const off = squaresTo(lab, i, measured);
      if (others.some((p) => squaresTo(lab, i, p) < off)) continue;
      for (let c = 0; c < 3; c++) values[c].push(lab[3 * i + c]);
    }
  });
  return values[0].length < 10 ? measured : [median(values[0]), median(values[1]), median(values[2])];
}

export const squaresTo = (lab: Float32Array, i: number, p: Lab): number =>
  (lab[3 * i] - p[0]) ** 2 + (lab[3 * i + 1] - p[1]) ** 2 + (lab[3 * i + 2] - p[2]) ** 2;

/** What a blurred edge between two bands passes through, from one to the other. */
type Blend = readonly Lab[];

/** Light blends in linear light; resampling in encoded values, which is nearly a straight line in CIELAB. */
function blendOf(from: Lab, to: Lab): Blend {
  const low = linearFromLab(from);
  const high = linearFromLab(to);
  const steps = 6;
  return Array.from({ length: steps + 1 }, (_, k): Lab => {
    const mixed = low.map((v, c) => v + ((high[c] - v) * k) / steps);
    return k === 0 ? from : k === steps ? to : labFromLinear([mixed[0], mixed[1], mixed[2]]);
  });
}

/** The nearer of the bent and the straight way. */
function squaresFromBlend(p: Lab, blend: Blend): number {
  let least = squaresFromMixture(p, blend[0], blend[blend.length - 1]);
  for (let k = 1; k < blend.length; k++)
    least = Math.min(least, squaresFromMixture(p, blend[k - 1], blend[k]));
  return least;
}

/** Squared distance from the line between two colours. */
export function squaresFromMixture(p: Lab, from: Lab, to: Lab): number {
  const d0 = to[0] - from[0];
  const d1 = to[1] - from[1];
  const d2 = to[2] - from[2];
  const q0 = p[0] - from[0];
  const q1 = p[1] - from[1];
  const q2 = p[2] - from[2];
  const length2 = d0 * d0 + d1 * d1 + d2 * d2;
  const t = length2 > 0 ? Math.max(0, Math.min(1, (q0 * d0 + q1 * d1 + q2 * d2) / length2)) : 0;
  return (q0 - t * d0) ** 2 + (q1 - t * d1) ** 2 + (q2 - t * d2) ** 2;
}
