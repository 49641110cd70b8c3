import { labFromRgb8 } from '../colour/lab.js';
import { plainName } from '../colour/plain-name.js';
import { rgb8FromHex } from '../colour/srgb.js';
import type { BandFacts, BandModel, ColourFacts, RepeatFacts } from './band-model.js';
import { LEFT_OUT, type TypedModel } from './typed-model.js';

/**
 * Fills in what a model without a photo left out. Whether the cloth is balanced and one-way stays the typist's to say. Positions
 * follow from widths, Lab and name from sRGB, shares from the bands. What was given is never changed. The model must have passed
 * the schema of typed models.
 */
export function completeTypedModel(typed: TypedModel): BandModel {
  const { format, version, units, check, ...plain } = typed;
  const { balanced, ...symmetry } = typed.symmetry;
  return {
    // In the order in which a measured one is written, so that both read alike.
    format,
    version,
    units,
    ...LEFT_OUT.model,
    ...plain,
    stripes: {
      ...LEFT_OUT.stripes,
      layout: check === undefined ? 'stripe' : 'check',
      ...typed.stripes,
    },
    repeat: completeRepeat(typed.repeat),
    colours: typed.colours.map((colour) => completeColour(colour, typed.bands)),
    bands: completeBands(typed.bands),
    symmetry: { balanced, balance_score: balanced ? 1 : 0, ...LEFT_OUT.symmetry, ...symmetry },
    ...(check === undefined
      ? {}
      : {
          check: {
            ...LEFT_OUT.check,
            ...check,
            repeat: completeRepeat(check.repeat),
            bands: completeBands(check.bands),
          },
        }),
  };
}

const completeRepeat = ({ across_mm, ...rest }: TypedModel['repeat']): RepeatFacts => ({
  across_mm,
  ...LEFT_OUT.repeat,
  ...rest,
});

function completeBands(bands: TypedModel['bands']): BandFacts[] {
  let startMm = 0;
  return bands.map((band) => {
    const { id, colour, width_mm, ...rest } = band;
    const completed = { id, colour, start_mm: startMm, width_mm, ...LEFT_OUT.band, ...rest };
    startMm = completed.start_mm + band.width_mm;
    return completed;
  });
}

function completeColour(colour: TypedModel['colours'][number], bands: TypedModel['bands']): ColourFacts {
  const lab = labFromRgb8(rgb8FromHex(colour.srgb));
  const width = (list: TypedModel['bands']): number => list.reduce((sum, band) => sum + band.width_mm, 0);
  const share = width(bands.filter((band) => band.colour === colour.id)) / width(bands);
  const { id, srgb, ...rest } = colour;
  return { id, srgb, lab, name: plainName(lab), share, ...rest };
}
