import { check } from '../base/expectation.js';
import { formatLength, LENGTH_UNIT, type LengthUnit } from '../base/length.js';
import type { BandModel } from '../model/band-model.js';
import { checkBandModel } from '../model/check-band-model.js';
import { wrapped } from './chevron-words.js';

/** A typed cloth as it was understood, for the terminal: `As typed: indigo 14.0 mm, ivory 9.0 mm; repeat 23.0 mm`. */
export function typedClothWords(model: BandModel, unit: LengthUnit): string[] {
  checkBandModel(model);
  check(unit, 'unit', LENGTH_UNIT);
  const names = new Map(model.colours.map(({ id, name }) => [id, name]));
  const bands = model.bands.map(
    ({ colour, width_mm }) => `${names.get(colour)} ${formatLength(width_mm, unit)}`,
  );
  const way = { true: ', one-way', false: ', two-way', null: '' }[`${model.symmetry.directional}`];
  const repeat =
    model.repeat.across_mm === null ? '' : `; repeat ${formatLength(model.repeat.across_mm, unit)}`;
  return wrapped(`As typed: ${bands.join(', ')}${repeat}${way}.`);
}
