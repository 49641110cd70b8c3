import { labFromRgb8 } from '../colour/lab.js';
import { plainName } from '../colour/plain-name.js';
import { rgb8FromHex } from '../colour/srgb.js';

type Fields = Record<string, unknown>;

/**
 * Fills in what a model typed by hand may leave out, so that the shortest one is:
 *
 *     { "format": "stripewright.band-model", "version": 1, "units": "mm",
 *       "repeat": { "across_mm": 30 },
 *       "colours": [{ "id": "A", "srgb": "#22305e" }, { "id": "B", "srgb": "#f4efdf" }],
 *       "bands": [{ "id": "b1", "colour": "A", "width_mm": 12 }, { "id": "b2", "colour": "B", "width_mm": 18 }],
 *       "symmetry": { "balanced": true, "directional": false } }
 *
 * Whether the cloth is balanced and one-way stays the typist's to say. Positions follow from widths, Lab and name from
 * sRGB, shares from the bands. What was given is never changed, and nothing is added to a model that has a photo: there a
 * field left out is damage. The value may be anything; the result is for the schema to judge.
 */
export function completeTypedModel(parsed: unknown): unknown {
  if (!isFields(parsed) || isFields(parsed.photo)) return parsed;
  const bands = listOf(parsed.bands);
  return {
    photo: null,
    scale: null,
    plane: null,
    instances: [],
    motifs: [],
    intrusions: [],
    warnings: [],
    ...parsed,
    stripes: withDefaults(parsed.stripes ?? {}, {
      direction_deg: null,
      layout: parsed.check === undefined ? 'stripe' : 'check',
      bow_percent: null,
      skew_percent: null,
    }),
    repeat: completeRepeat(parsed.repeat),
    colours: Array.isArray(parsed.colours)
      ? parsed.colours.map((colour) => completeColour(colour, bands))
      : parsed.colours,
    bands: completeBands(parsed.bands),
    symmetry: completeSymmetry(parsed.symmetry),
    ...(isFields(parsed.check)
      ? {
          check: {
            instances: [],
            ...parsed.check,
            repeat: completeRepeat(parsed.check.repeat),
            bands: completeBands(parsed.check.bands),
          },
        }
      : {}),
  };
}

const isFields = (value: unknown): value is Fields =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

const listOf = (value: unknown): readonly Fields[] => (Array.isArray(value) ? value.filter(isFields) : []);

const withDefaults = (given: unknown, defaults: Fields): unknown =>
  isFields(given) ? { ...defaults, ...given } : given;

const completeRepeat = (repeat: unknown): unknown =>
  withDefaults(repeat, {
    across_sd_mm: null,
    repeats_seen: 0,
    confidence: 1,
    alternatives: [],
    along_mm: null,
    along_sd_mm: null,
    drop_fraction: null,
  });

const completeSymmetry = (symmetry: unknown): unknown =>
  isFields(symmetry)
    ? {
        balance_score: symmetry.balanced === true ? 1 : 0,
        mirror_axes_mm: [],
        directional: null,
        direction_score: null,
        ...symmetry,
      }
    : symmetry;

function completeBands(bands: unknown): unknown {
  if (!Array.isArray(bands)) return bands;
  let startMm = 0;
  return bands.map((band: unknown) => {
    if (!isFields(band)) return band;
    const completed = {
      start_mm: startMm,
      width_sd_mm: null,
      width_min_mm: null,
      width_max_mm: null,
      edge_sd_mm: null,
      mix: [],
      ...band,
    };
    startMm = Number(completed.start_mm) + Number(band.width_mm);
    return completed;
  });
}

function completeColour(colour: unknown, bands: readonly Fields[]): unknown {
  if (!isFields(colour)) return colour;
  // A colour that cannot be read is filled in as black, so that the schema speaks of its srgb and not of its lab.
  const readable = typeof colour.srgb === 'string' && /^#[0-9a-f]{6}$/i.test(colour.srgb);
  const lab = labFromRgb8(readable ? rgb8FromHex(colour.srgb as string) : [0, 0, 0]);
  const width = (list: readonly Fields[]): number =>
    list.reduce((sum, band) => sum + Number(band.width_mm), 0);
  return {
    lab,
    name: plainName(lab),
    // Nought over nought, from widths yet to be refused, must not be blamed on the colour.
    share: width(bands.filter((band) => band.colour === colour.id)) / width(bands) || 0,
    ...colour,
  };
}
