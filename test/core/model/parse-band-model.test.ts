import Ajv2020Module from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import { refusalLine } from '../../../src/core/base/outcome.js';
import type { BandModel } from '../../../src/core/model/band-model.js';
import { bandModelSchema } from '../../../src/core/model/band-model-schema.js';
import { formatBandModel } from '../../../src/core/model/format-band-model.js';
import { parseBandModel } from '../../../src/core/model/parse-band-model.js';

/** Indigo, ivory, indigo, ochre ticking, as a measurement writes it. */
const measured: BandModel = {
  format: 'stripewright.band-model',
  version: 1,
  units: 'mm',
  photo: { file: 'ticking.jpg', width_px: 4032, height_px: 3024, sha256: 'ab'.repeat(32) },
  scale: {
    px_per_mm: 9.123456789012,
    relative_sd: 0.00123456789,
    source: 'ruler',
    unit: 'mm',
    ends_px: [
      [100.123456, 200],
      [2900.5, 210],
    ],
    length_mm: 300,
  },
  plane: {
    homography: [0.1096123456789, 0, -3, 0, -0.11, 330, 1e-9, 2.5e-8, 1],
    tilt_deg: 1.25,
    residual_mm: 0.02,
    k1: -0.004,
  },
  stripes: { direction_deg: 91.5, layout: 'stripe', bow_percent: 0.2, skew_percent: null },
  repeat: {
    across_mm: 30.00004,
    across_sd_mm: 0.01,
    repeats_seen: 8.4,
    confidence: 0.98,
    alternatives: [{ across_mm: 60, confidence: 0.02 }],
    along_mm: null,
    along_sd_mm: null,
    drop_fraction: null,
  },
  colours: [
    { id: 'A', srgb: '#2b3560', lab: [23.1, 9.4, -26.5], name: 'midnightblue', share: 0.5 },
    { id: 'B', srgb: '#f2ecdc', lab: [93.6, -0.7, 8.3], name: 'cream', share: 0.3 },
    { id: 'C', srgb: '#c08a2e', lab: [61.2, 14.1, 53.2], name: 'peru', share: 0.2 },
  ],
  bands: [
    ['A', 0, 8],
    ['B', 8, 9],
    ['A', 17, 7],
    ['C', 24, 6],
  ].map(([colour, start, width], i) => ({
    id: `b${i + 1}`,
    colour: String(colour),
    start_mm: Number(start),
    width_mm: Number(width),
    width_sd_mm: 0.12,
    width_min_mm: Number(width) - 0.3,
    width_max_mm: Number(width) + 0.3,
    edge_sd_mm: 0.05,
    mix: [{ colour: String(colour), share: 1 }],
  })),
  instances: [
    { band: 'b1', repeat: 0, start_mm: 0, end_mm: 8.1, width_mm: 8.1, width_sd_mm: 0.1, whole: true },
    { band: 'b2', repeat: 0, start_mm: 8.1, end_mm: 17, width_mm: 8.9, width_sd_mm: null, whole: false },
  ],
  motifs: [{ colour: 'C', along_mm: 12, across_mm: 4, extent_mm: [6, 7] }],
  intrusions: [{ instance: 1, edge: 'end', along_from_mm: 3, along_to_mm: 5, depth_mm: 0.4 }],
  symmetry: {
    balanced: false,
    balance_score: 0.2,
    mirror_axes_mm: [],
    directional: true,
    direction_score: 0.9,
  },
  warnings: [{ code: 'few-repeats', message: 'Only two repeats in view.' }],
};

const typed = {
  format: 'stripewright.band-model',
  version: 1,
  units: 'mm',
  repeat: { across_mm: 30 },
  colours: [
    { id: 'A', srgb: '#22305e' },
    { id: 'B', srgb: '#FAF0E6' },
  ],
  bands: [
    { id: 'b1', colour: 'A', width_mm: 12 },
    { id: 'b2', colour: 'B', width_mm: 18 },
  ],
  symmetry: { balanced: true, directional: false },
};

/** A copy with one field changed (or, for undefined, removed), by its path. */
function damaged(source: object, path: string, value: unknown): string {
  const copy = structuredClone(source) as Record<string, unknown>;
  const keys = path.split('.');
  const last = keys.pop() as string;
  const holder = keys.reduce((at, key) => at[key] as Record<string, unknown>, copy);
  if (value === undefined) delete holder[last];
  else holder[last] = value;
  return JSON.stringify(copy);
}

const lineOf = async (text: string): Promise<string> => {
  const outcome = await parseBandModel(text);
  return outcome.ok ? 'accepted' : refusalLine(outcome.refusal);
};

describe('parseBandModel', () => {
  it('gives back what was written, to the digits that are written', async () => {
    const outcome = await parseBandModel(formatBandModel(measured));
    expect(outcome).toEqual({
      ok: true,
      value: {
        ...measured,
        scale: {
          ...measured.scale,
          ends_px: [
            [100.123, 200],
            [2900.5, 210],
          ],
        },
        repeat: { ...measured.repeat, across_mm: 30 },
      },
    });
  });

  it('writes the same text again, with a line for each band', async () => {
    const text = formatBandModel(measured);
    const outcome = await parseBandModel(text);
    expect(outcome.ok && formatBandModel(outcome.value)).toBe(text);
    expect(text.split('\n').filter((line) => line.includes('"band": "b')).length).toBe(2);
    expect(text.endsWith('}\n')).toBe(true);
  });

  it('allows fields it does not know, and a byte order mark', async () => {
    expect(await lineOf(`\uFEFF${damaged(measured, 'bands.0.yarn', 'cotton')}`)).toBe('accepted');
    expect(await lineOf(damaged(measured, 'maker', { note: 1 }))).toBe('accepted');
  });

  it('reads a check and the place of the rectified picture', async () => {
    const { repeat, bands, instances } = measured;
    const check = damaged(measured, 'check', { repeat, bands, instances });
    expect(await lineOf(check)).toBe('accepted');
    expect(await lineOf(damaged(JSON.parse(check), 'check.bands.1.colour', 'Z'))).toContain(
      'check.bands[1].colour is "Z", expected one of the colours A, B, C',
    );
    const cloth = { file: 'cloth.png', px_per_mm: 10, left_u_mm: -12, top_v_mm: 200 };
    expect(await lineOf(damaged(measured, 'cloth', cloth))).toBe('accepted');
    expect(await lineOf(damaged(measured, 'cloth', { ...cloth, px_per_mm: 0 }))).toContain(
      'cloth.px_per_mm is 0',
    );
  });

  it.each([
    ['bands.2.width_mm', 'wide', 'bands[2].width_mm is "wide", expected a number above 0'],
    ['bands.2.width_mm', undefined, 'bands[2].width_mm is missing, expected a number above 0'],
    ['bands.0.width_mm', -3, 'bands[0].width_mm is -3, expected a number above 0'],
    ['bands.0.width_sd_mm', '0.1', 'bands[0].width_sd_mm is "0.1", expected a number of 0 or more or null'],
    ['bands', [], 'bands is a list of 0, expected a list of 1 or more'],
    ['bands', {}, 'bands is an object, expected a list of 1 or more'],
    ['format', 'other', 'format is "other", expected "stripewright.band-model"'],
    ['format', undefined, 'format is missing, expected "stripewright.band-model"'],
    ['units', 'inch', 'units is "inch", expected "mm"'],
    ['version', 2, 'version is 2, expected 1: read it with a newer release'],
    ['version', 0, 'version is 0, expected 1'],
    ['photo.sha256', 'abc', 'photo.sha256 is "abc", expected text of the form 64 hexadecimal digits'],
    ['scale.source', 'guess', 'scale.source is "guess", expected one of "ruler", "sheet"'],
    ['plane.homography', [1, 0, 0], 'plane.homography is a list of 3, expected a list of 9'],
    ['stripes.direction_deg', 180, 'stripes.direction_deg is 180, expected a number from 0 to 180 or null'],
    ['stripes', undefined, 'stripes is missing, expected an object'],
    ['colours.1.srgb', 'ivory', 'colours[1].srgb is "ivory", expected text of the form "#rrggbb"'],
    ['colours.1.share', 1.5, 'colours[1].share is 1.5, expected a number from 0 to 1'],
    ['symmetry.balanced', 'yes', 'symmetry.balanced is "yes", expected true or false'],
    ['instances.0.repeat', 0.5, 'instances[0].repeat is 0.5, expected a whole number'],
    ['motifs.0.extent_mm', 6, 'motifs[0].extent_mm is 6, expected a list of 2'],
  ])('names the damage: %s = %j', async (path, value, line) => {
    expect(await lineOf(damaged(measured, path, value))).toContain(line);
  });

  it.each([
    ['bands.1.colour', 'Q', 'bands[1].colour is "Q", expected one of the colours A, B, C'],
    ['bands.1.id', 'b1', 'bands[1].id is "b1" once more, expected a name of its own'],
    ['bands.3.width_mm', 9, "repeat.across_mm is 30.00004, expected the sum of the bands' widths, 33"],
    ['bands.2.start_mm', 19, 'bands[2].start_mm is 19, expected the end of the band before, 17'],
    ['bands.0.width_min_mm', 9, 'bands[0].width_min_mm is 9, expected no more than width_max_mm, 8.3'],
    ['bands.0.mix.0.share', 0.4, 'the sum of the shares in bands[0].mix is 0.4, expected 1'],
    ['bands.0.mix.0.colour', 'Q', 'bands[0].mix[0].colour is "Q"'],
    ['colours.0.share', 0.1, 'the sum of the shares of colours is 0.6, expected 1'],
    ['colours.0.id', 'B', 'colours[1].id is "B" once more'],
    ['instances.1.band', 'b9', 'instances[1].band is "b9", expected one of the bands b1, b2, b3, b4'],
    ['instances.1.width_mm', 3, 'instances[1].width_mm is 3, expected end_mm less start_mm, 8.9'],
    ['intrusions.0.instance', 7, 'intrusions[0].instance is 7, expected an index into the 2 instances'],
    ['motifs.0.colour', 'Q', 'motifs[0].colour is "Q"'],
  ])('holds to what no schema can say: %s = %j', async (path, value, line) => {
    expect(await lineOf(damaged(measured, path, value))).toContain(line);
  });

  it.each([
    ['', 'The file is not JSON'],
    ['{"format": ', 'The file is not JSON'],
    ['[1, 2]', 'the file is a list of 2, expected an object'],
    ['null', 'the file is null, expected an object'],
    ['{}', 'format is missing'],
  ])('refuses %j', async (text, line) => {
    expect(await lineOf(text)).toContain(line);
    expect(await lineOf(text)).toContain(': correct the file, or measure the photo again');
  });
});

describe('a model typed by hand', () => {
  it('may leave out what follows from the rest', async () => {
    const outcome = await parseBandModel(JSON.stringify(typed));
    expect(outcome.ok).toBe(true);
    if (!outcome.ok) return;
    const model = outcome.value;
    expect(model.bands.map((band) => band.start_mm)).toEqual([0, 12]);
    expect(model.colours.map((colour) => colour.share)).toEqual([0.4, 0.6]);
    expect(model.colours[0].lab[0]).toBeGreaterThan(15);
    expect(model.colours[1].name).toBe('cream');
    expect(model.photo).toBeNull();
    expect(model.stripes.layout).toBe('stripe');
    expect(model.symmetry.directional).toBe(false);
    // Whole: it passes the published schema as it stands.
    const validate = new Ajv2020Module.Ajv2020({ allowUnionTypes: true }).compile(bandModelSchema);
    expect(validate(model)).toBe(true);
    expect((await parseBandModel(formatBandModel(model))).ok).toBe(true);
  });

  it('keeps whatever was given', async () => {
    const outcome = await parseBandModel(JSON.stringify({ ...measured, photo: null }));
    expect(outcome).toEqual({ ok: true, value: { ...measured, photo: null } });
  });

  it.each([
    ['bands.1.width_mm', undefined, 'bands[1].width_mm is missing, expected a number above 0'],
    ['bands.0.width_mm', 'x', 'bands[0].width_mm is "x"'],
    ['bands', undefined, 'bands is missing'],
    ['bands', 3, 'bands is 3'],
    ['bands.0', null, 'bands[0] is null, expected an object'],
    ['colours.0.srgb', 'navy', 'colours[0].srgb is "navy", expected text of the form "#rrggbb"'],
    ['symmetry', undefined, 'symmetry is missing'],
    ['repeat', undefined, 'repeat is missing'],
    ['repeat.across_mm', 31, "repeat.across_mm is 31, expected the sum of the bands' widths, 30"],
  ])('names the damage: %s = %j', async (path, value, line) => {
    expect(await lineOf(damaged(typed, path, value))).toContain(line);
  });
});
