import { laidOutJson } from '../base/laid-out-json.js';
import type { BandModel } from './band-model.js';
import { checkBandModel } from './check-band-model.js';

/**
 * Decimals worth writing, by the field's name: 0.1 micrometre, a thousandth of a pixel. Scales and homographies keep
 * all their digits.
 */
function decimalsOf(field: string): number | null {
  if (field === 'px_per_mm' || field === 'relative_sd') return null;
  if (/_mm$|share$|confidence$|_score$|_fraction$|_deg$|_percent$|^lab$/.test(field)) return 4;
  return /_px$/.test(field) ? 3 : null;
}

/**
 * The text of bands.json: one line for each band and instance, so that a person can read it. Ends with a line end.
 *
 * @example
 * import { formatBandModel, parseBandModel, typedCloth } from 'stripewright';
 *
 * const text = formatBandModel(typedCloth('indigo 14, ivory 9, ochre 4'));
 * const again = await parseBandModel(text);
 * console.log(again.ok && again.value.repeat.across_mm); // 27
 */
export function formatBandModel(model: BandModel): string {
  checkBandModel(model);
  return `${laidOutJson(rounded(model, ''))}\n`;
}

function rounded(value: unknown, field: string): unknown {
  if (typeof value === 'number') {
    const decimals = decimalsOf(field);
    // Adding 0 turns -0 into 0.
    return decimals === null ? value : Number(value.toFixed(decimals)) + 0;
  }
  if (Array.isArray(value)) return value.map((item) => rounded(item, field));
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([key, item]) => [key, rounded(item, key)]));
}
