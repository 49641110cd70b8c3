import { cie76 } from '../colour/cie76.js';
import type { StraightCloth } from '../rectify/straight-cloth.js';
import { type BandPixel, bandPixels, evenedColour, type Sampling, stepsOf } from './band-pixels.js';
import { withoutForeignObjects } from './foreign-objects.js';
import { motifColoursOf } from './motif-colours.js';
import { ownColour } from './own-colour.js';
import { withoutLocalOddities } from './spread-of-print.js';
import type { PaletteColour, RoughReading } from './stripe-reading.js';

export interface BandMix {
  /** Colours of motifs that are none of the bands' colours. */
  readonly motifColours: readonly PaletteColour[];
  /**
   * Per band of the repeat (per segment where there is no repeat): what colours it shows, shares summing to 1. Index < palette
   * length: a band colour; beyond: a motif colour.
   */
  readonly mixes: readonly (readonly { readonly colour: number; readonly share: number }[])[];
  /** How many of a hundred places were left out, for something lies on the cloth there, or what shows is not all over it. */
  readonly leftOutPercent: number;
}

/** A motif covers at least this share of some band; less is dust, wrinkles and noise. */
const LEAST_SHARE = 0.015;
/** A first look over few pixels: bands with under a third of that least share are bare. */
const FIRST_LOOK: Sampling = [300, 80];
const BARE = LEAST_SHARE / 3;
/** Where there is a print. */
const CLOSE_LOOK: Sampling = [440, 130];
/** Of several colours on one band, one that covers less than this is noise. */
const LEAST_PART = 0.004;
/** A pixel this near (CIE76) to a colour is that colour, weave and noise allowed for. */
const SAME = 12;

/**
 * What lies on the bands besides their own colour. Motifs are pixels of the evened picture that differ clearly from their band,
 * together with their neighbours along the stripe; their colours are told from the inside of motifs, and a pixel at a rim, which
 * mixes two colours, is dealt out between them by its place on the line from one to the other in linear light.
 * Pixels near a band's edges are left out. `keyOf`: band of a segment, or null to pass over it.
 */
export function bandMix(
  cloth: StraightCloth,
  reading: RoughReading,
  keyOf: (segment: number) => number | null,
  keys: number,
): BandMix {
  const owns = Array.from({ length: keys }, (_, key) => ownColour(reading, keyOf, key));
  // Where stripes cross, every band shows all the crossing colours and a motif cannot be told from them.
  if (reading.mixing === 'check') {
    return { motifColours: [], mixes: owns.map((colour) => [{ colour, share: 1 }]), leftOutPercent: 0 };
  }
  const first = countsOf(bandPixels(cloth, reading, keyOf, FIRST_LOOK), keys);
  if (first.seen.every((n, k) => first.odd[k] <= BARE * n)) {
    return { motifColours: [], mixes: owns.map((colour) => [{ colour, share: 1 }]), leftOutPercent: 0 };
  }
  const [stepX, stepY] = stepsOf(cloth, CLOSE_LOOK);
  const inBands = bandPixels(cloth, reading, keyOf, CLOSE_LOOK);
  const bare = withoutForeignObjects(inBands, reading.segments, stepX, stepY);
  const pixels = withoutLocalOddities(bare, keys, cloth.picture.width, cloth.picture.height);
  const leftOutPercent = (100 * (inBands.length - pixels.length)) / Math.max(1, inBands.length);
  const { seen, odd } = countsOf(pixels, keys);
  const withMotif = owns.map((_, k) => seen[k] > 0 && odd[k] / seen[k] >= LEAST_SHARE);
  const { motifColours, labels } = motifColoursOf(
    pixels.filter((p) => p.odd && withMotif[p.key]),
    reading.palette,
    pixels.length,
    (x, y) => evenedColour(cloth, reading.light, x, y),
  );
  const all = [...reading.palette, ...motifColours];
  const shares = owns.map(() => new Float64Array(all.length));
  for (const p of pixels) {
    if (p.odd && withMotif[p.key] && labels.length > 0) dealOut(p, owns[p.key], labels, all, shares[p.key]);
    else shares[p.key][owns[p.key]]++;
  }
  const mixes = owns.map((own, key) => {
    if (seen[key] === 0) return [{ colour: own, share: 1 }];
    const others = [...shares[key]]
      .map((sum, colour) => ({ colour, share: sum / seen[key] }))
      .filter((m) => m.colour !== own && m.share >= LEAST_PART);
    const share = 1 - others.reduce((sum, m) => sum + m.share, 0);
    return [{ colour: own, share }, ...others];
  });
  return { motifColours, mixes, leftOutPercent };
}

/** Pixels of each band, and those of them that are odd. */
function countsOf(pixels: readonly BandPixel[], keys: number): { seen: Float64Array; odd: Float64Array } {
  const seen = new Float64Array(keys);
  const odd = new Float64Array(keys);
  for (const p of pixels) {
    seen[p.key]++;
    if (p.odd) odd[p.key]++;
  }
  return { seen, odd };
}

/** Adds one pixel to the shares: to one colour, or to two in proportion. */
function dealOut(
  { lab, linear }: BandPixel,
  own: number,
  labels: readonly number[],
  all: readonly PaletteColour[],
  shares: Float64Array,
): void {
  const choices = [own, ...labels.filter((label) => label !== own)];
  const nearest = choices.reduce((p, q) => (cie76(lab, all[q].lab) < cie76(lab, all[p].lab) ? q : p));
  if (cie76(lab, all[nearest].lab) < SAME) {
    shares[nearest]++;
    return;
  }
  let best: { p: number; q: number; share: number } = { p: nearest, q: nearest, share: 0 };
  let least = Infinity;
  for (let i = 0; i < choices.length; i++) {
    for (let j = i + 1; j < choices.length; j++) {
      const { share, off } = onLine(linear, all[choices[i]].linear, all[choices[j]].linear);
      if (off >= least) continue;
      least = off;
      best = { p: choices[i], q: choices[j], share };
    }
  }
  shares[best.p] += 1 - best.share;
  shares[best.q] += best.share;
}

/** Nearest mixture of two colours: the share of the second, 0..1, and the distance to it in linear light. */
function onLine(
  own: readonly number[],
  p: readonly number[],
  q: readonly number[],
): { share: number; off: number } {
  let dot = 0;
  let size = 0;
  for (let c = 0; c < 3; c++) {
    dot += (own[c] - p[c]) * (q[c] - p[c]);
    size += (q[c] - p[c]) ** 2;
  }
  const share = size > 1e-12 ? Math.max(0, Math.min(1, dot / size)) : 0;
  let off = 0;
  for (let c = 0; c < 3; c++) off += (own[c] - p[c] - share * (q[c] - p[c])) ** 2;
  return { share, off: Math.sqrt(off) };
}
