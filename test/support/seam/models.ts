import { readFileSync } from 'node:fs';
import type { BandModel, InstanceFacts } from '../../../src/core/model/band-model.js';

/** The typed sample: indigo, ivory and ochre ticking, unbalanced, uneven, six bands. */
export const tickingModel = (): BandModel =>
  JSON.parse(
    readFileSync(new URL('../../../samples/ticking.bands.json', import.meta.url), 'utf8'),
  ) as BandModel;

/** A model of bands [colour, width] typed by hand; colours are "#rrggbb". */
export function typedModel(
  bands: readonly (readonly [string, number])[],
  more: Partial<BandModel> = {},
): BandModel {
  const srgbs = [...new Set(bands.map(([colour]) => colour))];
  const id = (colour: string): string => String.fromCharCode(65 + srgbs.indexOf(colour));
  const sum = bands.reduce((total, [, width]) => total + width, 0);
  let start = 0;
  const base = tickingModel();
  return {
    ...base,
    repeat: { ...base.repeat, across_mm: sum },
    colours: srgbs.map((srgb) => ({
      id: id(srgb),
      srgb,
      lab: [50, 0, 0],
      name: `colour ${id(srgb)}`,
      share: 1 / srgbs.length,
    })),
    bands: bands.map(([colour, width], k) => {
      const band = {
        id: `b${k + 1}`,
        colour: id(colour),
        start_mm: start,
        width_mm: width,
        width_sd_mm: null,
        width_min_mm: null,
        width_max_mm: null,
        edge_sd_mm: null,
        mix: [],
      };
      start += width;
      return band;
    }),
    symmetry: { ...base.symmetry, balanced: false, directional: null },
    ...more,
  };
}

/** Instances between stated edges (mm, ascending), the first of band `first` of repeat 0. */
export function instancesBetween(model: BandModel, edges: readonly number[], first = 0): InstanceFacts[] {
  const n = model.bands.length;
  return edges.slice(1).map((end, k) => ({
    band: model.bands[(first + k) % n].id,
    repeat: Math.floor((first + k) / n),
    start_mm: edges[k],
    end_mm: end,
    width_mm: end - edges[k],
    width_sd_mm: null,
    whole: true,
  }));
}
