import { checkAll, finiteNumber, numberWithin, record } from '../base/expectation.js';
import { wrap } from '../model/cloth-pattern.js';
import type { HalfOnCloth } from '../model/half-on-cloth.js';
import { MOTIF_LATTICE } from './check-lattice.js';
import type { MotifLattice } from './motif-mirrors.js';

/** A seam line on the cloth: v grows by `slope` for each mm that u grows; nearer than `angleDeg` to the stripes it never is. */
export interface SeamLine {
  /** Between stripes and seam, degrees, above 0 and up to 90. */
  readonly angleDeg: number;
  /** Growth of v for each mm of u, positive or negative. */
  readonly slope: number;
}

/** A stretch along the stripes: a seam may cross the middle of the band anywhere in it. mm, cloth v; repeats with the print. */
export interface CleanPlace {
  readonly fromMm: number;
  readonly toMm: number;
}

/** One half's crossing of its band. */
export interface BandCrossing {
  /** Cloth v at the middle of the band. */
  readonly alongMm: number;
  /** From the seam line to the nearest motif on the band, square to the line; negative inside one. */
  readonly clearanceMm: number;
  /** Outlines of motifs that the whole seam crosses. */
  readonly motifEdgesCut: number;
}

export interface UBand {
  readonly fromUMm: number;
  readonly toUMm: number;
}

/** The seam line of a half: the garment's x = 0. */
export const seamLineOf = (half: HalfOnCloth): SeamLine => ({
  angleDeg: (Math.atan2(Math.abs(half.uPerY), Math.abs(half.vPerY)) * 180) / Math.PI,
  slope: half.vPerY / half.uPerY,
});

/** 100 m: no cloth is wider. */
const place = numberWithin({ least: -1e5, most: 1e5 }, 'mm');
const BAND = record({ fromUMm: place, toUMm: place }, 'where a band lies');
const LINE = record(
  { angleDeg: numberWithin({ above: 0, most: 90 }, 'degrees'), slope: finiteNumber },
  'a seam line',
);

/**
 * Where along the stripes a seam crosses a band without coming nearer than `clearMm` to a motif that lies on it: stretches
 * of one repeat along, in order; one may run past its end. Motifs count with their outer boxes. The whole repeat where no
 * motif touches the band; none where there is no such place.
 */
export function cleanPlaces(
  lattice: MotifLattice,
  band: UBand,
  seam: SeamLine,
  clearMm: number,
): CleanPlace[] {
  checkAll({
    lattice: [lattice, MOTIF_LATTICE],
    band: [band, BAND],
    seam: [seam, LINE],
    clearMm: [clearMm, numberWithin({ least: 0 }, 'mm')],
  });
  const { alongMm } = lattice;
  const blocked = blockedStretches(lattice, band, seam, clearMm);
  if (blocked.length === 0) return [{ fromMm: 0, toMm: alongMm }];
  return gapsOf(blocked, alongMm);
}

/**
 * The best place for a half's seam to cross its band: clear of motifs there if it can be; of those places the one whose whole
 * seam cuts fewest motifs, then the one with most room.
 */
export function bestCrossing(
  lattice: MotifLattice,
  band: UBand,
  half: HalfOnCloth,
  seamMm: number,
  clearMm: number,
): BandCrossing {
  const seam = seamLineOf(half);
  const clean = cleanPlaces(lattice, band, seam, clearMm);
  // Without a clean place the roomiest will have to do.
  const tried = clean.length > 0 ? clean : [{ fromMm: 0, toMm: lattice.alongMm }];
  let best: BandCrossing | null = null;
  for (const { fromMm, toMm } of tried) {
    const steps = Math.max(2, Math.ceil((toMm - fromMm) / STEP_MM));
    for (let i = 0; i <= steps; i++) {
      const one = crossingAt(lattice, band, half, seamMm, fromMm + ((toMm - fromMm) * i) / steps);
      if (best === null || isBetter(one, best, clean.length > 0)) best = one;
    }
  }
  return best as BandCrossing;
}

const STEP_MM = 0.5;

const isBetter = (a: BandCrossing, b: BandCrossing, clean: boolean): boolean =>
  clean && a.motifEdgesCut !== b.motifEdgesCut
    ? a.motifEdgesCut < b.motifEdgesCut
    : a.clearanceMm > b.clearanceMm + 1e-9;

/** A half's seam that crosses its band's middle at cloth v `alongMm`. */
export function crossingAt(
  lattice: MotifLattice,
  band: UBand,
  half: HalfOnCloth,
  seamMm: number,
  alongMm: number,
): BandCrossing {
  const middleU = (band.fromUMm + band.toUMm) / 2;
  const atMm = (middleU - half.uMm) / half.uPerY;
  const moved = { ...half, vMm: alongMm - half.vPerY * atMm };
  return {
    alongMm: wrap(alongMm, lattice.alongMm),
    clearanceMm: clearanceAt(lattice, band, seamLineOf(half), alongMm),
    motifEdgesCut: motifEdgesCut(lattice, moved, seamMm),
  };
}

function clearanceAt(lattice: MotifLattice, band: UBand, seam: SeamLine, vMm: number): number {
  const { alongMm } = lattice;
  let least = alongMm / 2;
  for (const { fromMm, toMm } of blockedStretches(lattice, band, seam, 0)) {
    const half = (toMm - fromMm) / 2;
    const off = wrap(vMm - (fromMm + half) + alongMm / 2, alongMm) - alongMm / 2;
    least = Math.min(least, Math.abs(off) - half);
  }
  return least * Math.sin((seam.angleDeg * Math.PI) / 180);
}

/** Stretches of v at the band's middle from which the seam would meet a motif. */
function blockedStretches(
  lattice: MotifLattice,
  { fromUMm, toUMm }: UBand,
  { angleDeg, slope }: SeamLine,
  clearMm: number,
): CleanPlace[] {
  const middleU = (fromUMm + toUMm) / 2;
  const spare = clearMm / Math.sin((angleDeg * Math.PI) / 180);
  const found: CleanPlace[] = [];
  for (const { u, v, extent } of lattice.dots) {
    const first = Math.ceil((fromUMm - u - extent[0] / 2) / lattice.acrossMm);
    const last = Math.floor((toUMm - u + extent[0] / 2) / lattice.acrossMm);
    for (let k = first; k <= last; k++) {
      const left = Math.max(fromUMm, u + k * lattice.acrossMm - extent[0] / 2) - middleU;
      const right = Math.min(toUMm, u + k * lattice.acrossMm + extent[0] / 2) - middleU;
      if (right <= left) continue;
      const middle = v + k * lattice.dropMm;
      const ends = [left * slope, right * slope];
      found.push({
        fromMm: middle - extent[1] / 2 - Math.max(...ends) - spare,
        toMm: middle + extent[1] / 2 - Math.min(...ends) + spare,
      });
    }
  }
  return found;
}

/** What stretches leave free of a circle of the circumference given. */
function gapsOf(blocked: readonly CleanPlace[], round: number): CleanPlace[] {
  if (blocked.some(({ fromMm, toMm }) => toMm - fromMm >= round)) return [];
  const sorted = blocked
    .map(({ fromMm, toMm }) => ({ from: wrap(fromMm, round), to: wrap(fromMm, round) + toMm - fromMm }))
    .sort((p, q) => p.from - q.from);
  const gaps: CleanPlace[] = [];
  // Beginning behind the one that reaches furthest round, nothing sticks out of the end of the list.
  let reached = Math.max(...sorted.map(({ to }) => to - round));
  for (const { from, to } of sorted) {
    if (from > reached) gaps.push({ fromMm: reached, toMm: from });
    reached = Math.max(reached, to);
  }
  return gaps;
}

/** Outlines of motifs (their outer boxes; a colour within another's box has none of its own) that a half's seam crosses. */
export function motifEdgesCut(lattice: MotifLattice, half: HalfOnCloth, seamMm: number): number {
  const { acrossMm, alongMm, dropMm } = lattice;
  const us = [half.uMm, half.uMm + half.uPerY * seamMm].sort((p, q) => p - q);
  let cut = 0;
  for (const { u, v, extent } of outermost(lattice)) {
    const first = Math.ceil((us[0] - u - extent[0] / 2) / acrossMm);
    const last = Math.floor((us[1] - u + extent[0] / 2) / acrossMm);
    for (let k = first; k <= last; k++) {
      const left = u + k * acrossMm - extent[0] / 2;
      const enterU = [(left - half.uMm) / half.uPerY, (left + extent[0] - half.uMm) / half.uPerY].sort(
        (p, q) => p - q,
      );
      const vAt = (s: number): number => half.vMm + half.vPerY * s;
      const low = v + k * dropMm - extent[1] / 2;
      const range = [vAt(enterU[0]), vAt(enterU[1])].sort((p, q) => p - q);
      const from = Math.ceil((range[0] - low - extent[1]) / alongMm);
      const to = Math.floor((range[1] - low) / alongMm);
      for (let j = from; j <= to; j++) {
        const [enter, leave] = passage(half, enterU, low + j * alongMm, extent[1]);
        if (leave <= enter) continue;
        if (enter > 0 && enter < seamMm) cut++;
        if (leave > 0 && leave < seamMm) cut++;
      }
    }
  }
  return cut;
}

/** Where on the seam it enters and leaves a box, given where it passes the box's sides across. */
function passage(
  { vMm, vPerY }: HalfOnCloth,
  [enterU, leaveU]: readonly number[],
  low: number,
  tall: number,
): readonly [number, number] {
  if (vPerY === 0) return vMm > low && vMm < low + tall ? [enterU, leaveU] : [0, 0];
  const s = [(low - vMm) / vPerY, (low + tall - vMm) / vPerY].sort((p, q) => p - q);
  return [Math.max(enterU, s[0]), Math.min(leaveU, s[1])];
}

function outermost({ dots, acrossMm, alongMm, dropMm }: MotifLattice): MotifLattice['dots'] {
  const inside = (a: MotifLattice['dots'][number], b: MotifLattice['dots'][number]): boolean => {
    const turns = Math.round((a.u - b.u) / acrossMm);
    const du = Math.abs(a.u - b.u - turns * acrossMm);
    const dv = a.v - b.v - turns * dropMm;
    const off = Math.abs(dv - alongMm * Math.round(dv / alongMm));
    return du + a.extent[0] / 2 <= b.extent[0] / 2 + 0.01 && off + a.extent[1] / 2 <= b.extent[1] / 2 + 0.01;
  };
  return dots.filter((a, i) => !dots.some((b, k) => k !== i && inside(a, b) && (!inside(b, a) || k < i)));
}
