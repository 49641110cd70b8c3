import { ciede2000 } from '../colour/ciede2000.js';
import { type Lab, labFromLinear } from '../colour/lab.js';
import { linearFromByte } from '../colour/srgb.js';
import type { StraightCloth } from '../rectify/straight-cloth.js';
import { logGainAt } from './light-field.js';
import type { PaletteColour, RoughReading } from './stripe-reading.js';

export interface BandMix {
  /** Colours of motifs that are none of the bands' colours. */
  readonly motifColours: readonly PaletteColour[];
  /**
   * Per band of the repeat (per segment where there is no repeat): what colours it shows, shares summing to 1. Index < palette
   * length: a band colour; beyond: a motif colour.
   */
  readonly mixes: readonly (readonly { readonly colour: number; readonly share: number }[])[];
}

/** A motif covers at least this share of some band; less is dust, wrinkles and noise. */
const LEAST_SHARE = 0.015;

interface Odd {
  readonly key: number;
  readonly lab: Lab;
  readonly linear: readonly [number, number, number];
}

/**
 * What lies on the bands besides their own colour: pixels of the evened picture that differ clearly from their band (five
 * times its usual scatter, and more than 12 CIE76 units) together with their neighbours along the stripe, gathered into colours.
 * Pixels near a band's edges are left out. `keyOf`: band of a segment, or null to pass over it.
 */
export function bandMix(
  cloth: StraightCloth,
  reading: RoughReading,
  keyOf: (segment: number) => number | null,
  keys: number,
): BandMix {
  const odd: Odd[] = [];
  const seen = new Float64Array(keys);
  const oddCount = new Float64Array(keys);
  const { width, height, data } = cloth.picture;
  const labAt = (x: number, y: number): { lab: Lab; linear: [number, number, number] } => {
    const gain = Math.exp(-logGainAt(reading.light, x + 0.5, y + 0.5));
    const i = 3 * (y * width + x);
    const linear: [number, number, number] = [
      linearFromByte[data[i]] * gain,
      linearFromByte[data[i + 1]] * gain,
      linearFromByte[data[i + 2]] * gain,
    ];
    return { linear, lab: labFromLinear(linear) };
  };
  const stepX = Math.max(1, Math.round(width / 700));
  const stepY = Math.max(1, Math.round(height / 200));
  reading.segments.forEach((segment, s) => {
    const key = keyOf(s);
    if (key === null) return;
    const margin = Math.min(4, 0.25 * (segment.to - segment.from));
    const from = Math.ceil(segment.from + margin);
    const to = Math.floor(segment.to - margin);
    const pixels: { x: number; y: number; off: number; lab: Lab; linear: [number, number, number] }[] = [];
    for (let x = from; x < to; x += stepX) {
      for (let y = x % stepY; y < height; y += stepY) {
        if (!cloth.cloth[y * width + x]) continue;
        const { lab, linear } = labAt(x, y);
        pixels.push({ x, y, lab, linear, off: distance(lab, segment.lab) });
      }
    }
    if (pixels.length < 30) return;
    const usual = pixels.map((p) => p.off).sort((a, b) => a - b)[Math.floor(0.4 * pixels.length)];
    const limit = Math.max(12, 5 * usual);
    seen[key] += pixels.length;
    for (const p of pixels) {
      if (p.off < limit) continue;
      const above = Math.max(0, p.y - 2);
      const below = Math.min(height - 1, p.y + 2);
      const coherent =
        distance(labAt(p.x, above).lab, segment.lab) > 0.6 * limit ||
        distance(labAt(p.x, below).lab, segment.lab) > 0.6 * limit;
      if (!coherent) continue;
      oddCount[key]++;
      odd.push({ key, lab: p.lab, linear: p.linear });
    }
  });
  const motifKeys = new Set<number>();
  for (let k = 0; k < keys; k++) if (seen[k] > 0 && oddCount[k] / seen[k] >= LEAST_SHARE) motifKeys.add(k);
  const counted = odd.filter((o) => motifKeys.has(o.key));
  const { motifColours, labels } = gather(counted, reading.palette, seen, reading.palette.length);
  const mixes = Array.from({ length: keys }, (_, key) => {
    const own = ownColour(reading, keyOf, key);
    const counts = new Map<number, number>();
    let others = 0;
    counted.forEach((o, i) => {
      if (o.key !== key || labels[i] < 0 || labels[i] === own) return;
      counts.set(labels[i], (counts.get(labels[i]) ?? 0) + 1);
      others++;
    });
    const total = Math.max(1, seen[key]);
    const mix = [{ colour: own, share: 1 - others / total }];
    for (const [colour, count] of counts) mix.push({ colour, share: count / total });
    return mix;
  });
  return { motifColours, mixes };
}

const distance = (p: Lab, q: Lab): number => Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]);

function ownColour(reading: RoughReading, keyOf: (segment: number) => number | null, key: number): number {
  const s = reading.segments.findIndex((_, i) => keyOf(i) === key);
  return s < 0 ? 0 : reading.colours[s];
}

/**
 * Gathers odd pixels into colours: the densest place in CIELAB first, all within reach of it taken out, and so on while a
 * colour holds enough pixels. A colour near one of the bands' is that band's colour. Label -1: too few of its kind
 * (the blurred rim of a motif); those are dealt to the nearest colour found.
 */
function gather(
  odd: readonly Odd[],
  palette: readonly PaletteColour[],
  seen: Float64Array,
  first: number,
): { motifColours: PaletteColour[]; labels: number[] } {
  const labels = new Array<number>(odd.length).fill(-1);
  const motifColours: PaletteColour[] = [];
  const centres: { lab: Lab; label: number }[] = [];
  const total = seen.reduce((s, v) => s + v, 0);
  const enough = Math.max(12, 0.0015 * total, 0.06 * odd.length);
  let left = odd.map((_, i) => i);
  for (let round = 0; round < 6 && left.length >= enough; round++) {
    const centre = densest(left.map((i) => odd[i].lab));
    const members = left.filter((i) => distance(odd[i].lab, centre) < 13);
    if (members.length < enough) break;
    const linear: [number, number, number] = [0, 0, 0];
    for (const i of members) for (let c = 0; c < 3; c++) linear[c] += odd[i].linear[c] / members.length;
    const lab = labFromLinear(linear);
    const like = palette.findIndex((p) => ciede2000(p.lab, lab) < 6);
    const label = like >= 0 ? like : first + motifColours.push({ lab, linear }) - 1;
    centres.push({ lab, label });
    for (const i of members) labels[i] = label;
    const taken = new Set(members);
    left = left.filter((i) => !taken.has(i));
  }
  for (const i of left) {
    let least = Infinity;
    for (const c of centres) {
      const d = distance(odd[i].lab, c.lab);
      if (d < least) {
        least = d;
        labels[i] = c.label;
      }
    }
  }
  return { motifColours, labels };
}

/** The fullest cell of a coarse CIELAB grid, refined by the mean of what lies near it. */
function densest(labs: readonly Lab[]): Lab {
  const cell = 8;
  const counts = new Map<string, { n: number; sum: [number, number, number] }>();
  for (const lab of labs) {
    const key = lab.map((v) => Math.floor(v / cell)).join(',');
    const held = counts.get(key) ?? { n: 0, sum: [0, 0, 0] as [number, number, number] };
    held.n++;
    for (let c = 0; c < 3; c++) held.sum[c] += lab[c];
    counts.set(key, held);
  }
  let best: { n: number; sum: [number, number, number] } = { n: 0, sum: [0, 0, 0] };
  for (const held of counts.values()) if (held.n > best.n) best = held;
  let centre: Lab = [best.sum[0] / best.n, best.sum[1] / best.n, best.sum[2] / best.n];
  for (let round = 0; round < 3; round++) {
    const near = labs.filter((l) => distance(l, centre) < 8);
    if (near.length === 0) break;
    centre = [0, 1, 2].map((c) => near.reduce((s, l) => s + l[c], 0) / near.length) as unknown as Lab;
  }
  return centre;
}
