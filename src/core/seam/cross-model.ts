import { type BandMirror, bandMirrors } from '../model/band-mirrors.js';
import type { BandModel } from '../model/band-model.js';
import { type ClothPattern, clothPattern } from '../model/cloth-pattern.js';
import type { Lay } from './lay.js';

/** The cross stripes of a check as a cloth of their own: the same figures can be had of them. */
export interface CrossStripes {
  readonly model: BandModel;
  readonly pattern: ClothPattern;
  readonly mirror: BandMirror;
}

/** Null on plain stripes, and where the model does not tell the cross stripes' repeat. */
export function crossStripes(model: BandModel): CrossStripes | null {
  if (model.stripes.layout !== 'check' || model.check === undefined) return null;
  const { repeat, bands, instances } = model.check;
  const alone: BandModel = {
    ...model,
    stripes: { ...model.stripes, layout: 'stripe' },
    repeat,
    bands,
    instances,
    motifs: [],
    intrusions: [],
  };
  const pattern = clothPattern(alone);
  if (!pattern.ok) return null;
  const mirror = bandMirrors(
    pattern.value,
    bands.map((band) => band.width_sd_mm),
  );
  return { model: alone, pattern: pattern.value, mirror };
}

/** What a lay does to the cross stripes: where u is reversed they read on as they are, and the other way round. */
export const crossLay = (lay: Lay): Lay =>
  lay === 'same-way' ? 'head-to-tail' : lay === 'head-to-tail' ? 'same-way' : lay;

/** The pattern with its mirror line (the middle of its widest band where it has none) at cloth v = 0, as pictures lay it. */
export function centredCross({ pattern, mirror }: CrossStripes): ClothPattern {
  const widest = pattern.bands.reduce((p, q) => (q.widthMm > p.widthMm ? q : p));
  const axis = mirror.axesUMm[0] ?? pattern.originUMm + widest.startMm + widest.widthMm / 2;
  return { ...pattern, originUMm: pattern.originUMm - axis };
}
