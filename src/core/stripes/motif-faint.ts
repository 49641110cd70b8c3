import { type Lab, labFromLinear } from '../colour/lab.js';
import { linearFromByte } from '../colour/srgb.js';
import { median } from '../math/robust.js';
import type { BandPixel } from './band-pixels.js';
import { motifColoursOf } from './motif-colours.js';
import { squaresFromMixture } from './motif-ground.js';
import type { MotifInput } from './motif-input.js';

/** Every so many pixels of the sheet, either way, one is looked at. */
const STEP = 3;
/** A stranger differs from its band by this many times the band's usual scatter, and by so much at least: sum over 8-bit channels. */
const SCATTERS = 7;
const LEAST_OFF = 60;
/** ... and by so much (CIE76) from anything the edge nearby may show. */
const OFF_EDGE = 16;
/** So near an edge its blur and wander reach, mm. */
const EDGE_MM = 1.4;
/** Parts of the pixels looked at that strangers may be: fewer are dust, more are seen on the bands themselves. */
const LEAST_PART = 0.0002;
const MOST_PART = 0.05;
/** A print shows all over the cloth: in this part of the places of a grid, so many to the height. */
const LEAST_SPREAD = 0.5;
const ROWS = 5;

/**
 * Colours of a print too small to show in the bands' own shares: spots unlike their band, and unlike what its edges blur into, all
 * over the cloth. Returns the input with those colours as the print's, or null. Whether they repeat is for the lattice to say.
 */
export function withFaintPrint(input: MotifInput): MotifInput | null {
  const { sheet, repeatMm } = input;
  if (repeatMm === null) return null;
  const { strangers, looked, spread } = strangersOf(input, repeatMm, STEP);
  if (strangers.length < LEAST_PART * looked || strangers.length > MOST_PART * looked) return null;
  if (spread < LEAST_SPREAD) return null;
  const { data, width, height } = sheet.picture;
  const palette = input.colours.map(({ lab }) => ({ lab, linear: [0, 0, 0] as const }));
  const { motifColours, labels } = motifColoursOf(strangers, palette, strangers.length, (x, y) =>
    x < 0 || y < 0 || x >= width || y >= height ? [-1, -1, -1] : linearAt(data, 4 * (y * width + x)),
  );
  if (labels.length === 0) return null;
  return { ...input, colours: [...input.colours, ...motifColours], printColours: labels };
}

/** Sheets so many times coarser have about as many pixels as are looked at. */
export const THIN_SHEET = STEP;
/** A look at other pixels may find fewer by chance. */
const BY_CHANCE = 0.7;

/** Whether a sheet THIN_SHEET times coarser shows spots enough to look for a faint print on the full one: it costs a tenth to make. */
export function mayHaveFaintPrint(thin: MotifInput): boolean {
  if (thin.repeatMm === null) return false;
  const { strangers, looked } = strangersOf(thin, thin.repeatMm, 1);
  return (
    strangers.length >= BY_CHANCE * LEAST_PART * looked && strangers.length * BY_CHANCE <= MOST_PART * looked
  );
}

function strangersOf({ sheet, bands, stretches, colours }: MotifInput, repeatMm: number, step: number) {
  const { picture, pxPerMm, leftUMm, seen } = sheet;
  const { data, width, height } = picture;
  const strangers: BandPixel[] = [];
  const places = new Map<number, boolean>();
  let looked = 0;
  const columns = stretches.map(({ startMm, endMm }): readonly [number, number] => [
    Math.max(0, Math.ceil((startMm - leftUMm) * pxPerMm)),
    Math.min(width, Math.floor((endMm - leftUMm) * pxPerMm)),
  ]);
  const usual = bands.map((_, b) =>
    usualOf(
      sheet,
      columns.filter((_, s) => stretches[s].band === b),
    ),
  );
  stretches.forEach(({ band, startMm, endMm }, s) => {
    const [from, to] = columns[s];
    const own = usual[band];
    if (own === null) return;
    const [r, g, b] = own.rgb;
    const limit = Math.max(LEAST_OFF, SCATTERS * own.scatter);
    const reach = Math.min(EDGE_MM, (endMm - startMm) / 2) * pxPerMm;
    const repeat = Math.floor((startMm + endMm) / 2 / repeatMm);
    const lab = colours[bands[band].colour].lab;
    const beside = (at: number): Lab | null =>
      stretches[at] ? colours[bands[stretches[at].band].colour].lab : null;
    const [below, above] = [beside(s - 1), beside(s + 1)];
    for (let y = s % step; y < height; y += step) {
      const place = repeat * ROWS + Math.floor((y * ROWS) / height);
      for (let x = from + (y % step); x < to; x += step) {
        const at = y * width + x;
        if (seen[at] === 0) continue;
        looked++;
        const i = 4 * at;
        const off = Math.abs(data[i] - r) + Math.abs(data[i + 1] - g) + Math.abs(data[i + 2] - b);
        if (off < limit) continue;
        const linear = linearAt(data, i);
        const here = labFromLinear(linear);
        const edge = x - from < reach ? below : to - x < reach ? above : lab;
        if (edge === null || (edge !== lab && squaresFromMixture(here, lab, edge) < OFF_EDGE ** 2)) continue;
        strangers.push({ key: band, x, y, lab: here, linear, odd: true });
        places.set(place, true);
      }
      if (!places.has(place)) places.set(place, false);
    }
  });
  const all = [...places.values()];
  return { strangers, looked, spread: all.filter((one) => one).length / Math.max(1, all.length) };
}

/** Some so many pixels settle a median. */
const SAMPLE = 900;

/** Median colour of a band down the middle half of its stretches (first column, end), and the median of what its pixels are off it. */
function usualOf(
  { picture: { data, width, height }, seen }: MotifInput['sheet'],
  stretches: readonly (readonly [number, number])[],
): { rgb: readonly number[]; scatter: number } | null {
  const rgb: [number[], number[], number[]] = [[], [], []];
  const rows = Math.max(8, Math.round(SAMPLE / Math.max(1, stretches.length)));
  stretches.forEach(([from, to], s) => {
    for (let k = 0; k < rows; k++) {
      // Rows at even steps, columns to and fro over the middle half.
      const y = Math.floor(((k + (s % 7) / 7) * height) / rows);
      const x = Math.floor(from + (0.25 + 0.5 * ((k * 0.618) % 1)) * (to - from));
      const at = y * width + x;
      if (x < 0 || x >= width || y >= height || seen[at] === 0) continue;
      for (let c = 0; c < 3; c++) rgb[c].push(data[4 * at + c]);
    }
  });
  if (rgb[0].length < 30) return null;
  const middle = rgb.map((values) => median(values));
  const off = rgb[0].map((_, k) => [0, 1, 2].reduce((s, c) => s + Math.abs(rgb[c][k] - middle[c]), 0));
  return { rgb: middle, scatter: median(off) };
}

const linearAt = (data: Uint8Array, i: number): [number, number, number] => [
  linearFromByte[data[i]],
  linearFromByte[data[i + 1]],
  linearFromByte[data[i + 2]],
];
