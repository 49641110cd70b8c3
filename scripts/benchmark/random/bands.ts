import { ciede2000 } from '../../../src/core/colour/ciede2000.js';
import { type Lab, labFromRgb8, linearFromLab, rgb8FromLab } from '../../../src/core/colour/lab.js';
import { hexFromRgb8, rgb8FromHex } from '../../../src/core/colour/srgb.js';
import type { BandSpec } from '../../../test/support/photo-painter/scene.js';
import { type Draw, tenth } from './draw.js';

const labOf = (hex: string): Lab => labFromRgb8(rgb8FromHex(hex));

export const colourStep = (a: string, b: string): number => ciede2000(labOf(a), labOf(b));

/** A dye that sRGB can show: from nearly white to nearly black, from grey to vivid. */
function dye(draw: Draw): string {
  for (;;) {
    const chroma = draw.between(0, 55);
    const hue = draw.between(0, 2 * Math.PI);
    const lab: Lab = [draw.between(16, 93), chroma * Math.cos(hue), chroma * Math.sin(hue)];
    if (linearFromLab(lab).every((c) => c >= 0.004 && c <= 0.95)) return hexFromRgb8(rgb8FromLab(lab));
  }
}

/** So many dyes, any two at least this far apart (CIEDE2000). */
export function palette(draw: Draw, count: number, leastStep: number): string[] {
  for (;;) {
    const colours: string[] = [];
    for (let tries = 0; tries < 300 && colours.length < count; tries++) {
      const next = dye(draw);
      if (colours.every((colour) => colourStep(colour, next) >= leastStep)) colours.push(next);
    }
    if (colours.length === count) return colours;
  }
}

/** Two to three near tones, each between low and high CIEDE2000 from the one before. */
export function tones(draw: Draw, count: number, low: number, high: number): string[] {
  for (;;) {
    const colours = [dye(draw)];
    for (let tries = 0; tries < 4000 && colours.length < count; tries++) {
      const [l, a, b] = labOf(colours[colours.length - 1]);
      const near: Lab = [l + draw.between(-9, 9), a + draw.between(-7, 7), b + draw.between(-7, 7)];
      if (!linearFromLab(near).every((c) => c >= 0.004 && c <= 0.95)) continue;
      const hex = hexFromRgb8(rgb8FromLab(near));
      const step = colourStep(hex, colours[colours.length - 1]);
      if (step >= low && step <= high && colours.every((c) => colourStep(c, hex) >= low)) colours.push(hex);
    }
    if (colours.length === count) return colours;
  }
}

/** Colours of n bands in turn, neighbours (the last and the first among them) differing, every colour used. */
function colourOrder(draw: Draw, colours: readonly string[], n: number): string[] {
  for (;;) {
    const order = [...colours, ...Array.from({ length: n - colours.length }, () => draw.pick(colours))];
    const mixed = draw.shuffled(order);
    if (mixed.every((colour, i) => colour !== mixed[(i + 1) % n])) return mixed;
  }
}

/** Band widths with this sum, to a tenth of a millimetre; none under leastMm, or under half an even share. */
function widths(draw: Draw, n: number, repeatMm: number, wantedLeastMm: number): number[] {
  const leastMm = Math.min(wantedLeastMm, (0.5 * repeatMm) / n);
  const raw = Array.from({ length: n }, () => draw.scaled(1, 6));
  const total = raw.reduce((sum, w) => sum + w, 0);
  const free = repeatMm - n * leastMm;
  return raw.map((w) => tenth(leastMm + (w / total) * free));
}

/**
 * A sequence that reads the same both ways about a band. n is even: two bands stand alone on the axes, the
 * others in pairs.
 */
export function balancedBands(
  draw: Draw,
  colours: readonly string[],
  n: number,
  repeatMm: number,
  leastMm: number,
): BandSpec[] {
  const half = n / 2 + 1;
  for (;;) {
    const row = Array.from({ length: half }, () => draw.pick(colours));
    if (row.some((colour, i) => i > 0 && colour === row[i - 1])) continue;
    if (new Set(row).size < Math.min(colours.length, half)) continue;
    const own = widths(draw, half, repeatMm / 2, leastMm);
    const first = row.map((colour, i) => ({
      colour,
      widthMm: i === 0 || i === half - 1 ? tenth(own[i] * 2) : own[i],
    }));
    const bands = [...first, ...first.slice(1, -1).reverse()];
    if (isPrimitive(bands)) return bands;
  }
}

/** A sequence that clearly does not read the same both ways. n is at least 3. */
export function unbalancedBands(
  draw: Draw,
  colours: readonly string[],
  n: number,
  repeatMm: number,
  leastMm: number,
): BandSpec[] {
  for (;;) {
    const order = colourOrder(draw, colours, n);
    const own = widths(draw, n, repeatMm, leastMm);
    const bands = order.map((colour, i) => ({ colour, widthMm: own[i] }));
    if (isPrimitive(bands) && leastTurnMiss(bands, [...bands].reverse(), 0) > CLEARLY) return bands;
  }
}

/** Two sequences differ clearly when some band's width differs by this part of itself. */
const CLEARLY = 0.18;

const isPrimitive = (bands: readonly BandSpec[]): boolean =>
  bands.length < 2 || leastTurnMiss(bands, bands, 1) > CLEARLY;

/** Over all turns of the second list from `first` on: the largest relative difference of a band, at its least. */
function leastTurnMiss(a: readonly BandSpec[], b: readonly BandSpec[], first: number): number {
  const n = a.length;
  let least = Number.POSITIVE_INFINITY;
  for (let turn = first; turn < n; turn++) {
    const misses = a.map((band, i) => {
      const other = b[(i + turn) % n];
      if (band.colour !== other.colour) return 1;
      return Math.abs(band.widthMm - other.widthMm) / Math.max(band.widthMm, other.widthMm);
    });
    least = Math.min(least, Math.max(...misses));
  }
  return least;
}

export const repeatOf = (bands: readonly BandSpec[]): number =>
  bands.reduce((sum, band) => sum + band.widthMm, 0);
