import { type Complaint, shown } from '../base/complaint.js';
import type { BandFacts, BandModel, InstanceFacts, RepeatFacts } from './band-model.js';

/** Means over different instances need not fill the repeat exactly. Part of the repeat. */
const sumTolerance = 0.02;
/** Positions and widths are written rounded, or typed to a tenth. */
const typedMm = 0.1;
const shareTolerance = 0.02;

/**
 * What a schema cannot say: names that point at nothing, widths that do not fill the repeat, shares that do not make a
 * whole. The first thing found wrong, or null. The model must have passed the schema.
 */
export function brokenInvariant(model: BandModel): Complaint | null {
  const colours = model.colours.map((colour) => colour.id);
  const colourList = `one of the colours ${colours.join(', ')}`;
  const motif = model.motifs.findIndex((m) => !colours.includes(m.colour));
  const intrusion = model.intrusions.findIndex((i) => i.instance >= model.instances.length);
  return (
    repeated(colours, 'colours') ??
    shareSum(
      model.colours.map((colour) => colour.share),
      'the sum of the shares of colours',
    ) ??
    direction(model.repeat, model.bands, model.instances, colours, '') ??
    (model.check === undefined
      ? null
      : direction(model.check.repeat, model.check.bands, model.check.instances, colours, 'check.')) ??
    (motif < 0
      ? null
      : {
          field: `motifs[${motif}].colour`,
          found: shown(model.motifs[motif].colour),
          expected: colourList,
        }) ??
    (intrusion < 0
      ? null
      : {
          field: `intrusions[${intrusion}].instance`,
          found: shown(model.intrusions[intrusion].instance),
          expected: `an index into the ${model.instances.length} instances`,
        })
  );
}

/** One set of stripes; `prefix` is where its fields lie in the file. */
function direction(
  repeat: RepeatFacts,
  bands: readonly BandFacts[],
  instances: readonly InstanceFacts[],
  colours: readonly string[],
  prefix: string,
): Complaint | null {
  const ids = bands.map((band) => band.id);
  const twice = repeated(ids, `${prefix}bands`);
  if (twice !== null) return twice;
  const sum = bands.reduce((total, band) => total + band.width_mm, 0);
  const slackMm = Math.max(sumTolerance * sum, typedMm);
  for (const [i, band] of bands.entries()) {
    const wrong = bandComplaint(band, bands[i - 1], colours, slackMm, `${prefix}bands[${i}]`);
    if (wrong !== null) return wrong;
  }
  const across = repeat.across_mm;
  if (across !== null && Math.abs(sum - across) > slackMm) {
    return {
      field: `${prefix}repeat.across_mm`,
      found: String(across),
      expected: `the sum of the bands' widths, ${Number(sum.toFixed(3))}`,
    };
  }
  for (const [i, { band, start_mm, end_mm, width_mm }] of instances.entries()) {
    const field = `${prefix}instances[${i}]`;
    if (!ids.includes(band)) {
      return { field: `${field}.band`, found: shown(band), expected: `one of the bands ${ids.join(', ')}` };
    }
    if (Math.abs(end_mm - start_mm - width_mm) > typedMm) {
      return {
        field: `${field}.width_mm`,
        found: String(width_mm),
        expected: `end_mm less start_mm, ${Number((end_mm - start_mm).toFixed(3))}`,
      };
    }
  }
  return null;
}

function bandComplaint(
  band: BandFacts,
  before: BandFacts | undefined,
  colours: readonly string[],
  slackMm: number,
  field: string,
): Complaint | null {
  const colourList = `one of the colours ${colours.join(', ')}`;
  if (!colours.includes(band.colour)) {
    return { field: `${field}.colour`, found: shown(band.colour), expected: colourList };
  }
  const stranger = band.mix.findIndex((part) => !colours.includes(part.colour));
  if (stranger >= 0) {
    return {
      field: `${field}.mix[${stranger}].colour`,
      found: shown(band.mix[stranger].colour),
      expected: colourList,
    };
  }
  if (band.mix.length > 0) {
    const wrong = shareSum(
      band.mix.map((part) => part.share),
      `the sum of the shares in ${field}.mix`,
    );
    if (wrong !== null) return wrong;
  }
  const end = before === undefined ? band.start_mm : before.start_mm + before.width_mm;
  if (Math.abs(band.start_mm - end) > slackMm) {
    return {
      field: `${field}.start_mm`,
      found: String(band.start_mm),
      expected: `the end of the band before, ${Number(end.toFixed(3))}`,
    };
  }
  const { width_min_mm: least, width_max_mm: most } = band;
  if (least !== null && most !== null && least > most) {
    return {
      field: `${field}.width_min_mm`,
      found: String(least),
      expected: `no more than width_max_mm, ${most}`,
    };
  }
  return null;
}

function repeated(ids: readonly string[], field: string): Complaint | null {
  const again = ids.findIndex((id, i) => ids.indexOf(id) !== i);
  return again < 0
    ? null
    : {
        field: `${field}[${again}].id`,
        found: `${shown(ids[again])} once more`,
        expected: 'a name of its own',
      };
}

function shareSum(shares: readonly number[], field: string): Complaint | null {
  const sum = shares.reduce((total, share) => total + share, 0);
  return Math.abs(sum - 1) <= shareTolerance
    ? null
    : { field, found: String(Number(sum.toFixed(4))), expected: '1' };
}
