import { check } from '../base/expectation.js';
import { LENGTH_UNIT, type LengthUnit } from '../base/length.js';
import type { BandModel } from '../model/band-model.js';
import { checkBandModel } from '../model/check-band-model.js';
import { chevronSection } from '../report/chevron-section.js';
import { DEFAULT_CHEVRON, matchSeams } from './preview-seam.js';

/**
 * The chevron section of a measurement's report: three angles for the widest band. Empty for a cloth without
 * a repeat, of which no seam can be foretold.
 */
export function chevronForReport(model: BandModel, unit: LengthUnit = 'mm'): string {
  checkBandModel(model);
  check(unit, 'unit', LENGTH_UNIT);
  if (model.bands.length === 0) return '';
  const widest = model.bands.reduce((a, b) => (b.width_mm > a.width_mm ? b : a));
  const seams = matchSeams(model, { ...DEFAULT_CHEVRON, centres: [widest.id], anyway: true });
  return seams.ok ? chevronSection(seams.value, unit) : '';
}
