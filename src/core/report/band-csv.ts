import type { BandModel, InstanceFacts } from '../model/band-model.js';
import { checkBandModel } from '../model/check-band-model.js';
import { type CsvCell, csvText } from './csv.js';

const HEADING = [
  'direction',
  'instance',
  'band',
  'repeat',
  'colour',
  'colour_name',
  'srgb',
  'start_mm',
  'end_mm',
  'width_mm',
  'width_sd_mm',
  'whole',
] as const;

/** One row for every band instance in view, in order. The direction is "across", or "along" for the second direction of a check. */
export function bandCsv(model: BandModel): string {
  checkBandModel(model);
  const rows = [
    ...rowsOf(model, 'across', model.bands, model.instances),
    ...(model.check ? rowsOf(model, 'along', model.check.bands, model.check.instances) : []),
  ];
  return csvText([HEADING, ...rows]);
}

function rowsOf(
  model: BandModel,
  direction: string,
  bands: BandModel['bands'],
  instances: readonly InstanceFacts[],
): CsvCell[][] {
  const colours = new Map(model.colours.map((colour) => [colour.id, colour]));
  const colourOfBand = new Map(bands.map((band) => [band.id, colours.get(band.colour)]));
  return instances.map((one, k) => {
    const colour = colourOfBand.get(one.band);
    return [
      direction,
      k + 1,
      one.band,
      one.repeat,
      colour?.id ?? null,
      colour?.name ?? null,
      colour?.srgb ?? null,
      fixed(one.start_mm),
      fixed(one.end_mm),
      fixed(one.width_mm),
      one.width_sd_mm === null ? null : fixed(one.width_sd_mm),
      one.whole,
    ];
  });
}

/** To 0.1 micrometre, as in bands.json; adding 0 turns -0 into 0. */
const fixed = (mm: number): number => Number(mm.toFixed(4)) + 0;
