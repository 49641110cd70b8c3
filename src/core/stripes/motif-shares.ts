import { cie76 } from '../colour/cie76.js';
import { ciede2000 } from '../colour/ciede2000.js';
import { type Lab, labFromLinear, linearFromLab } from '../colour/lab.js';
import { type LinearRgb, linearFromByte } from '../colour/srgb.js';
import { wrap } from '../math/wrap.js';
import type { MotifCell } from './motif-cell.js';
import type { MotifInput } from './motif-input.js';
import { cellGrid, type PrintLattice } from './motif-lattice.js';
import type { MotifShape } from './motif-places.js';
import { type MotifRaster, UNSEEN } from './motif-raster.js';
import { unmix } from './motif-unmix.js';

/** How much of each band the print covers. */
export interface PrintShares {
  /** The colours given, those of the print as they show where it is purest, and colours of the print besides them. */
  readonly colours: readonly Lab[];
  /** Which of them the print shows, in the order of the labels that tell it best. */
  readonly print: readonly number[];
  /** One a band: indices into these colours. Its own colour first; shares sum to 1. */
  readonly mixes: readonly (readonly { readonly colour: number; readonly share: number }[])[];
}

/** So far around a shape its blurred rim may reach, places of the cell. */
const RIM = 2;
/** Bare places of a column that tell what it shows without print. */
const FEWEST_BARE = 4;
/** Solid places of one colour that tell that colour better than the first look did. */
const FEWEST_SOLID = 8;
/** CIE76 units from any mixture of the known colours at which a place shows another one. */
const STRANGE = 7;
/** The strangest of such places show that colour purest. */
const PUREST = 0.2;
/** A colour of the print that covers less of the cloth is not told. */
const LEAST_OF_CLOTH = 0.008;
const MOST_ADDED = 2;
const ROUNDS = 4;
/** CIEDE2000 units between two readings of one dye. */
const SAME_DYE = 8;
/** Relative misfit under which a colour is a mixture of others. */
const MIXTURE = 0.06;
/** Of a band: less is noise. */
const LEAST_OF_BAND = 0.002;

/**
 * Shares from the mean cell of the print, place by place as mixtures in linear light of what the column shows without print and
 * the print's colours: thin lines and rims count by their part. A colour that no mixture of the known ones gives (ribs, outlines)
 * is added. Null where the print does not repeat across.
 */
export function printShares(
  input: MotifInput,
  fine: MotifRaster,
  lattice: PrintLattice,
  cell: MotifCell,
  shapes: readonly MotifShape[],
): PrintShares | null {
  if (lattice.acrossRepeats === null) return null;
  const touched = touchedPlaces(cell, shapes);
  const mean = meanColours(fine, lattice, cell);
  const ground = groundOfColumns(cell, mean, touched);
  const places = [...touched.keys()].filter((i) => touched[i] === 1 && mean.seen[i] > 0);
  const gain = gainOf(input, fine);
  let known: PrintColour[] = input.printColours.map((colour, k) => {
    const solid = solidColour(cell, mean, k + 1);
    return {
      colour,
      solid: solid !== null,
      linear: solid ?? times(linearFromLab(input.colours[colour].lab), gain),
    };
  });
  const areaMm2 = cell.columnMm * cell.binMm;
  const cellMm2 = input.bands.reduce((s, b) => s + b.widthMm, 0) * lattice.acrossRepeats * lattice.alongMm;
  const bandOf = bandOfColumns(fine, cell);
  const bandLinear = fine.bandLab.map(linearFromLab);
  const read = (print: readonly PrintColour[]): { areas: Float64Array[]; strange: Strange[] } => {
    const areas = input.bands.map(() => new Float64Array(input.colours.length + MOST_ADDED));
    const strange: Strange[] = [];
    for (const i of places) {
      const column = Math.floor(i / cell.bins);
      const band = bandOf[column];
      const bare = ground[column];
      if (band < 0 || bare === null) continue;
      const own = input.bands[band].colour;
      const others = print.filter(({ colour }) => colour !== own);
      const seen = mean.at(i);
      const { parts, mixed } = unmix(seen, [bare, ...others.map(({ linear }) => linear)]);
      others.forEach(({ colour }, k) => {
        areas[band][colour] += parts[k + 1] * areaMm2;
      });
      const off = cie76(labFromLinear(seen), labFromLinear(mixed));
      if (off > STRANGE) strange.push({ seen, off });
    }
    return { areas, strange };
  };
  let now = read(known);
  let added = 0;
  for (let round = 0; round < ROUNDS && now.strange.length * areaMm2 >= LEAST_OF_CLOTH * cellMm2; round++) {
    const linear = purest(now.strange);
    const lab = labFromLinear(linear);
    // A small drawing's colour was first seen mixed with the ground: this is it, purer.
    const same = known.find((one) => ciede2000(labFromLinear(one.linear), lab) < SAME_DYE);
    if (same?.solid) break;
    const besides = known.filter((one) => one !== same).map((one) => one.linear);
    if (same && unmix(same.linear, [...bandLinear, linear, ...besides]).off > MIXTURE) break;
    const colour = same?.colour ?? input.colours.length + added;
    if (same === undefined && added === MOST_ADDED) break;
    const more = [...known.filter((one) => one !== same), { colour, linear, solid: same?.solid ?? false }];
    // What was taken for a colour may be a mixture with this one.
    const pure = more.filter(
      (one) =>
        one.solid ||
        one.colour === colour ||
        unmix(one.linear, [...bandLinear, ...more.filter((m) => m !== one).map((m) => m.linear)]).off >
          MIXTURE,
    );
    const next = read(pure);
    if (next.areas.reduce((s, a) => s + a[colour], 0) < LEAST_OF_CLOTH * cellMm2) break;
    if (same === undefined) added++;
    known = pure;
    now = next;
  }
  const lightless = gain.map((g) => 1 / g) as unknown as LinearRgb;
  const found = new Map(known.map(({ colour, linear }) => [colour, labFromLinear(times(linear, lightless))]));
  const bandColours = new Set(input.bands.map(({ colour }) => colour));
  const colours = Array.from({ length: input.colours.length + added }, (_, c) =>
    c < input.colours.length && (bandColours.has(c) || !found.has(c))
      ? input.colours[c].lab
      : (found.get(c) as Lab),
  );
  const acrossRepeats = lattice.acrossRepeats;
  return {
    colours,
    print: known.map(({ colour }) => colour),
    mixes: input.bands.map(({ colour: own, widthMm }, b) => {
      const whole = widthMm * acrossRepeats * lattice.alongMm;
      const others = [...now.areas[b]]
        .map((area, colour) => ({ colour, share: Math.min(1, area / whole) }))
        .filter(({ colour, share }) => colour !== own && share >= LEAST_OF_BAND);
      return [{ colour: own, share: Math.max(0, 1 - others.reduce((s, m) => s + m.share, 0)) }, ...others];
    }),
  };
}

interface PrintColour {
  readonly colour: number;
  readonly linear: LinearRgb;
  /** Whether it was seen away from all rims. */
  readonly solid: boolean;
}

/** A place that no mixture of the known colours gives, and how far the nearest is from it. */
interface Strange {
  readonly seen: LinearRgb;
  readonly off: number;
}

interface MeanColours {
  /** How often each place of the cell was seen. */
  readonly seen: Uint32Array;
  readonly at: (i: number) => LinearRgb;
}

function meanColours(fine: MotifRaster, lattice: PrintLattice, cell: MotifCell): MeanColours {
  const { width, height, labels, bytes, fromUMm, pitchUMm } = fine;
  const start = Math.round((cell.fromUMm - fromUMm) / pitchUMm);
  const { columnOf, turns } = cellGrid(fine, lattice, start);
  const { columns, bins } = cell;
  const sums = new Float64Array(3 * columns * bins);
  const seen = new Uint32Array(columns * bins);
  for (let x = 0; x < width; x++) {
    const column = columnOf(x);
    for (let y = 0; y < height; y++) {
      const i = y * width + x;
      if (labels[i] === UNSEEN) continue;
      const t = turns(x, y);
      const o = column * bins + Math.min(bins - 1, Math.floor((t - Math.floor(t)) * bins));
      seen[o]++;
      for (let c = 0; c < 3; c++) sums[3 * o + c] += linearFromByte[bytes[3 * i + c]];
    }
  }
  return {
    seen,
    at: (i) => [sums[3 * i] / seen[i], sums[3 * i + 1] / seen[i], sums[3 * i + 2] / seen[i]],
  };
}

/** 1 on shapes and their rims. */
function touchedPlaces({ columns, bins }: MotifCell, shapes: readonly MotifShape[]): Uint8Array {
  const out = new Uint8Array(columns * bins);
  for (const { places } of shapes) {
    for (const i of places) {
      const u = Math.floor(i / bins);
      for (let du = -RIM; du <= RIM; du++) {
        const column = u + du;
        if (column < 0 || column >= columns) continue;
        for (let dv = -RIM; dv <= RIM; dv++) out[column * bins + wrap((i % bins) + dv, bins)] = 1;
      }
    }
  }
  return out;
}

/** What each column shows where there is no print, the wander and blur of an edge near it included. */
function groundOfColumns(
  { columns, bins }: MotifCell,
  mean: MeanColours,
  touched: Uint8Array,
): (LinearRgb | null)[] {
  return Array.from({ length: columns }, (_, column) => {
    const bare: LinearRgb[] = [];
    for (let i = column * bins; i < (column + 1) * bins; i++)
      if (touched[i] === 0 && mean.seen[i] > 0) bare.push(mean.at(i));
    return bare.length < FEWEST_BARE ? null : meanOf(bare);
  });
}

/** The print's colour k where it lies solid; null where it hardly does. */
function solidColour(
  { columns, bins, labels, cover }: MotifCell,
  mean: MeanColours,
  k: number,
): LinearRgb | null {
  const solid: LinearRgb[] = [];
  for (let u = 1; u + 1 < columns; u++) {
    for (let v = 0; v < bins; v++) {
      let all = mean.seen[u * bins + v] > 0;
      for (let du = -1; du <= 1 && all; du++)
        for (let dv = -1; dv <= 1 && all; dv++) {
          const i = (u + du) * bins + wrap(v + dv, bins);
          all = labels[i] === k && cover[i] > 0.9;
        }
      if (all) solid.push(mean.at(u * bins + v));
    }
  }
  if (solid.length < FEWEST_SOLID) return null;
  const linear = meanOf(solid);
  const lab = labFromLinear(linear);
  const scatter = solid.reduce((s, one) => s + cie76(labFromLinear(one), lab), 0) / solid.length;
  // Two dyes taken for one are neither.
  return scatter < STRANGE / 2 ? linear : null;
}

function bandOfColumns({ width, bandOf, fromUMm, pitchUMm }: MotifRaster, cell: MotifCell): Int16Array {
  const start = Math.round((cell.fromUMm - fromUMm) / pitchUMm);
  const out = new Int16Array(cell.columns).fill(-1);
  for (let x = 0; x < width; x++) {
    const column = wrap(x - start, cell.columns);
    if (out[column] < 0) out[column] = bandOf[x];
  }
  return out;
}

/** The sheet's light against that of the colours given, channel by channel, as the bands show it. */
function gainOf({ bands, colours }: MotifInput, { bandLab }: MotifRaster): LinearRgb {
  const sheet = [0, 0, 0];
  const given = [0, 0, 0];
  bands.forEach(({ colour, widthMm }, b) => {
    const here = linearFromLab(bandLab[b]);
    const there = linearFromLab(colours[colour].lab);
    for (let c = 0; c < 3; c++) {
      sheet[c] += widthMm * here[c];
      given[c] += widthMm * there[c];
    }
  });
  return [sheet[0] / given[0], sheet[1] / given[1], sheet[2] / given[2]];
}

function purest(strange: readonly { readonly seen: LinearRgb; readonly off: number }[]): LinearRgb {
  const sorted = [...strange].sort((p, q) => q.off - p.off);
  return meanOf(sorted.slice(0, Math.max(3, Math.round(PUREST * sorted.length))).map(({ seen }) => seen));
}

const times = (p: LinearRgb, q: LinearRgb): LinearRgb => [p[0] * q[0], p[1] * q[1], p[2] * q[2]];

const meanOf = (all: readonly LinearRgb[]): LinearRgb => {
  const sum = [0, 0, 0];
  for (const one of all) for (let c = 0; c < 3; c++) sum[c] += one[c];
  return [sum[0] / all.length, sum[1] / all.length, sum[2] / all.length];
};
