import {
  check,
  finiteNumber,
  listOf,
  numberWithin,
  optional,
  orNull,
  record,
  text,
} from '../base/expectation.js';
import type { BandModel } from '../model/band-model.js';
import { wrap } from '../model/cloth-pattern.js';

/** A mirror (slip 0) or glide that printed motifs allow together with the stripes. */
export interface MotifMirror {
  /** across: u turns round; along: v turns round. */
  readonly reverses: 'across' | 'along';
  /** Mirror line: half the sum of a place and its image, mm in the reversed coordinate. */
  readonly axisMm: number;
  /** Shift that goes with it, mm in the other coordinate, [0, its period). */
  readonly slipMm: number;
  /** Whether the drawings mirror with it, as far as was measured; null: for the eye to check. */
  readonly drawn: boolean | null;
}

interface Dot {
  readonly colour: string;
  readonly u: number;
  readonly v: number;
  readonly extent: readonly [number, number];
  /** Whether its own drawing mirrors; null where that is not known. */
  readonly mirrors: Readonly<Record<'across' | 'along', boolean | null>>;
}

/** What the motifs' places need: the lattice (across, drop along) and (0, along), and the dots of one cell. */
export interface MotifLattice {
  /** From one column of the print to the next, across the stripes, mm. */
  readonly acrossMm: number;
  /** From one motif to the next of its column, along the stripes, mm. */
  readonly alongMm: number;
  /** Shift along the stripes from one repeat to the next. */
  readonly dropMm: number;
  /** Motifs of one cell: places in the cloth frame and extents, mm. None where only the lattice is known. */
  readonly dots: readonly Dot[];
}

/** How the cloth repeats along its stripes: by its motifs, or by the cross stripes of a check; null on pure stripes. */
export function clothLattice(model: BandModel): MotifLattice | null {
  const acrossMm = model.repeat.across_mm;
  const alongMm = model.stripes.layout === 'check' ? (model.check?.repeat.across_mm ?? null) : null;
  if (acrossMm === null || alongMm === null) return motifLattice(model);
  return { acrossMm, alongMm, dropMm: 0, dots: [] };
}

const lengthOrNull = orNull(numberWithin({ above: 0 }, 'mm'));
const PRINTED_MODEL = record(
  {
    repeat: record({
      across_mm: lengthOrNull,
      along_mm: lengthOrNull,
      drop_fraction: orNull(finiteNumber),
      motif_across_mm: optional(lengthOrNull),
    }),
    motifs: listOf(
      record({
        colour: text,
        along_mm: finiteNumber,
        across_mm: finiteNumber,
        extent_mm: listOf(numberWithin({ least: 0 }, 'mm'), { least: 2, most: 2 }),
      }),
    ),
  },
  'a band model',
);

/** Null when no motif repeats along the stripes. */
export function motifLattice(model: BandModel): MotifLattice | null {
  check(model, 'model', PRINTED_MODEL);
  const { across_mm, along_mm, drop_fraction, motif_across_mm } = model.repeat;
  if (across_mm === null || along_mm === null) return null;
  return {
    acrossMm: motif_across_mm ?? across_mm,
    alongMm: along_mm,
    dropMm: (drop_fraction ?? 0) * along_mm,
    dots: model.motifs.map((m) => ({
      colour: m.colour,
      u: m.across_mm,
      v: m.along_mm,
      extent: m.extent_mm,
      mirrors: { across: m.mirrors_across ?? null, along: m.mirrors_along ?? null },
    })),
  };
}

/**
 * Mirrors and glides of the motifs that also keep the stripes. A motif is known by its place, colour and
 * size, and by whether its own drawing mirrors where that was measured: one that does not may still be carried onto its mirror
 * image elsewhere in the cell, but never onto its own copies.
 *
 * axesUMm: the stripes' own mirror lines (for reversing across). stripePeriodsMm: shifts within one repeat
 * that keep the stripes, 0 among them (for reversing along). nearMm: how closely places must agree.
 */
export function motifMirrors(
  lattice: MotifLattice,
  axesUMm: readonly number[],
  stripePeriodsMm: readonly number[],
  nearMm: number,
): MotifMirror[] {
  const { alongMm } = lattice;
  const dots = lattice.dots.length > 0 ? lattice.dots : [NO_DOT];
  const found: MotifMirror[] = [];
  const add = (mirror: MotifMirror): void => {
    const seen = found.some(
      (one) =>
        one.reverses === mirror.reverses &&
        Math.abs(one.axisMm - mirror.axisMm) < nearMm &&
        circular(one.slipMm - mirror.slipMm, alongMm) < nearMm,
    );
    if (!seen) found.push(mirror);
  };
  const kept = (image: (dot: Dot) => readonly [number, number], reverses: MotifMirror['reverses']): boolean =>
    dots.every((dot) =>
      dots.some(
        (other) =>
          sameDot(dot, other) &&
          same(lattice, image(dot), other, nearMm) &&
          !(other === dot && dot.mirrors[reverses] === false),
      ),
    );
  const drawn = (reverses: MotifMirror['reverses']): boolean | null =>
    lattice.dots.length > 0 && lattice.dots.every((dot) => dot.mirrors[reverses] === true) ? true : null;
  // With no dot listed the lattice alone is judged, and its cell may start anywhere on a mirror line.
  const anywhere = lattice.dots.length === 0;
  for (const axis of axesUMm) {
    for (const other of dots) {
      const centre = anywhere ? 0 : axis;
      // A partner a whole repeat away, with its drop, is met about the other mirror line, half a repeat on.
      const slip = wrap(other.v - dots[0].v, alongMm);
      if (kept((dot) => [2 * centre - dot.u, dot.v + slip], 'across')) {
        add({
          reverses: 'across',
          axisMm: axis,
          slipMm: snapToZero(slip, alongMm, nearMm),
          drawn: drawn('across'),
        });
      }
    }
  }
  for (const a of stripePeriodsMm) {
    for (const other of dots) {
      for (const turn of [0, 1]) {
        const sum = other.v + dots[0].v + turn * lattice.dropMm;
        if (kept((dot) => [dot.u + a, sum - dot.v], 'along')) {
          add({ reverses: 'along', axisMm: wrap(sum, alongMm) / 2, slipMm: a, drawn: drawn('along') });
        }
      }
    }
  }
  return found;
}

/** Shifts in [0, repeat) that carry the band sequence onto itself: 0 alone unless the repeat holds equal parts. */
export function stripePeriods(
  widthsMm: readonly number[],
  colours: readonly string[],
  nearMm: number,
): number[] {
  const n = widthsMm.length;
  const periods: number[] = [];
  let shift = 0;
  for (let r = 0; r < n; r++) {
    const fits = widthsMm.every(
      (w, k) => colours[k] === colours[(k + r) % n] && Math.abs(w - widthsMm[(k + r) % n]) < nearMm,
    );
    if (fits) periods.push(shift);
    shift += widthsMm[r];
  }
  return periods;
}

const NO_DOT: Dot = {
  colour: '',
  u: 0,
  v: 0,
  extent: [0, 0],
  mirrors: { across: null, along: null },
};

const sameDot = (a: Dot, b: Dot): boolean =>
  a.colour === b.colour &&
  a.extent.every((size, i) => Math.abs(size - b.extent[i]) <= 0.2 * Math.max(size, 1));

/** Whether a place coincides with a dot up to the lattice. */
function same(lattice: MotifLattice, place: readonly [number, number], dot: Dot, nearMm: number): boolean {
  const turns = Math.round((place[0] - dot.u) / lattice.acrossMm);
  const du = place[0] - dot.u - turns * lattice.acrossMm;
  const dv = place[1] - dot.v - turns * lattice.dropMm;
  return Math.abs(du) < nearMm && circular(dv, lattice.alongMm) < nearMm;
}

const circular = (d: number, period: number): number => Math.abs(d - Math.round(d / period) * period);

const snapToZero = (b: number, period: number, nearMm: number): number =>
  circular(b, period) < nearMm ? 0 : b;
