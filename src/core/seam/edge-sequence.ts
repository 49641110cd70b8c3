import type { BandModel, InstanceFacts } from '../model/band-model.js';
import { type ClothPattern, wrap } from '../model/cloth-pattern.js';

/** The band edges the photo showed, one after another, carried on by whole repeats beyond it. */
export interface EdgeSequence {
  /** Edges seen; edge k bounds band k from below in u. Indices outside 0..seen-1 are continued. */
  readonly seen: number;
  /** Whole repeats in view, >= 1. */
  readonly repeats: number;
  /** Cloth u of edge k, any integer k. */
  readonly edgeU: (k: number) => number;
  /** Index in the repeat of the band above edge k. */
  readonly bandAt: (k: number) => number;
  /** The repeat number the model gives the band above edge k; continued likewise. */
  readonly repeatAt: (k: number) => number;
}

/**
 * Chains the model's instances. Bands cut by the frame give their one true edge. The longest run in the
 * repeat's own order counts, in case a ruler hid some. Null when no whole repeat was seen.
 */
export function edgeSequence(model: BandModel, pattern: ClothPattern): EdgeSequence | null {
  const run = longestRun(model, pattern);
  const n = pattern.bands.length;
  if (run.length === 0) return null;
  const edges: number[] = [];
  if (run[0].one.whole) edges.push(run[0].one.start_mm);
  for (let i = 1; i < run.length; i++) edges.push((run[i - 1].one.end_mm + run[i].one.start_mm) / 2);
  const last = run[run.length - 1];
  if (last.one.whole) edges.push(last.one.end_mm);
  const firstBand = run[0].one.whole ? run[0].band : wrap(run[0].band + 1, n);
  const firstRepeat = run[0].one.whole ? run[0].one.repeat : (run[1]?.one.repeat ?? 0);
  const repeats = Math.floor((edges.length - 1) / n);
  if (repeats < 1) return null;
  const cycle = repeats * n;
  const cycleMm = edges[cycle] - edges[0];
  // Repeat numbers step where the model's own numbering does: at its first band.
  const repeatAt = (k: number): number => firstRepeat + Math.floor((firstBand + k) / n);
  return {
    seen: edges.length,
    repeats,
    edgeU: (k) => {
      if (k >= 0 && k < edges.length) return edges[k];
      const turns = Math.floor(k / cycle);
      return edges[k - turns * cycle] + turns * cycleMm;
    },
    bandAt: (k) => wrap(firstBand + k, n),
    repeatAt,
  };
}

interface Link {
  readonly one: InstanceFacts;
  readonly band: number;
}

function longestRun(model: BandModel, pattern: ClothPattern): Link[] {
  const n = pattern.bands.length;
  const nearMm = 0.25 * Math.min(...pattern.bands.map((b) => b.widthMm));
  let best: Link[] = [];
  let run: Link[] = [];
  for (const one of model.instances) {
    const band = pattern.bands.findIndex((b) => b.id === one.band);
    if (band < 0) {
      run = [];
      continue;
    }
    const before = run[run.length - 1];
    const follows =
      before !== undefined &&
      band === (before.band + 1) % n &&
      Math.abs(one.start_mm - before.one.end_mm) < nearMm &&
      // A band cut in the middle of the list has an unknown edge: the chain starts anew after it.
      (run.length === 1 || before.one.whole);
    run = follows ? [...run, { one, band }] : [{ one, band }];
    if (run.length > best.length) best = run;
  }
  return best;
}

/** Places k at which `band` begins with both its edges in view. */
export function placesOf(sequence: EdgeSequence, band: number): number[] {
  const places: number[] = [];
  for (let k = 0; k + 1 < sequence.seen; k++) if (sequence.bandAt(k) === band) places.push(k);
  return places;
}
