import { mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { parseBandModel, UsageError } from '../../src/index.js';
import type { PhotoMeasurement } from '../../src/node/measure-photo.js';
import { readCloth } from '../../src/node/read-cloth.js';
import { readModel } from '../../src/node/read-model.js';
import { shrunkPhoto } from '../../src/node/shrunk-photo.js';
import { writeMeasurement } from '../../src/node/write-measurement.js';
import { tickingMeasurement, tickingModel, tickingPhoto } from '../support/ticking-measurement.js';

let base: string;
let out: string;
let measurement: PhotoMeasurement;
beforeAll(async () => {
  base = await mkdtemp(join(tmpdir(), 'write-measurement-'));
  out = join(base, 'ticking');
  const file = { file: 'ticking.jpg', sha256: 'ab'.repeat(32), warnings: [] };
  const photo = { ...tickingPhoto(), ...file };
  measurement = { ...tickingMeasurement(), photo, shrunk: shrunkPhoto(photo) };
  await writeMeasurement(out, measurement);
});
afterAll(() => rm(base, { recursive: true }));

const ALL = [
  'bands.csv',
  'bands.json',
  'cloth.png',
  'overlay.png',
  'report.html',
  'swatch.png',
  'swatch.svg',
];

describe('writeMeasurement', () => {
  it('writes every file and a model that reads back as it was', async () => {
    expect((await readdir(out)).sort()).toEqual(ALL);
    const read = await parseBandModel(await readFile(join(out, 'bands.json'), 'utf8'));
    if (!read.ok) throw new Error(read.refusal.found);
    const { cloth, ...model } = read.value;
    expect(model).toEqual(JSON.parse(JSON.stringify(measurement.model)));
    expect(cloth).toEqual({ file: 'cloth.png', px_per_mm: 8, left_u_mm: 0, top_v_mm: 100 });
  });

  it('writes cloth and swatch at true size: density times size in px is the size in mm', async () => {
    for (const [name, mm] of [
      ['cloth.png', 150],
      ['swatch.png', 30],
    ] as const) {
      const bytes = await readFile(join(out, name));
      // pHYs of the PNG specification: px per metre, whole numbers, unit 1.
      const at = bytes.indexOf('pHYs');
      const { width } = await sharp(bytes).metadata();
      expect((1000 * width) / bytes.readUInt32BE(at + 4)).toBeCloseTo(mm, 2);
      expect(bytes[at + 12]).toBe(1);
    }
  });

  it('writes an overlay that a page holds when printed at 100 %', async () => {
    const bytes = await readFile(join(out, 'overlay.png'));
    const { width, height } = await sharp(bytes).metadata();
    const pxPerMm = bytes.readUInt32BE(bytes.indexOf('pHYs') + 4) / 1000;
    // ISO 216 A4 is 210 x 297 mm, ANSI A (letter) 215.9 x 279.4 mm; printers leave some 6 mm blank.
    expect(width / pxPerMm).toBeLessThan(198);
    expect(width / pxPerMm).toBeGreaterThan(150);
    expect(height / pxPerMm).toBeLessThan(267);
  });

  it('keeps the cloth pixel for pixel, for those who read it beside the model', async () => {
    const model = await readModel(out);
    if (!model.ok) throw new Error(model.refusal.found);
    const cloth = await readCloth(model.value);
    if (!cloth.ok) throw new Error(cloth.refusal.found);
    expect(Buffer.compare(cloth.value.picture.data, measurement.cloth().picture.data)).toBe(0);
    expect(cloth.value).toMatchObject({ pxPerMm: 8, leftUMm: 0, topVMm: 100 });
  });

  it('draws the edges where they are', async () => {
    const { data, info } = await sharp(join(out, 'overlay.png')).raw().toBuffer({ resolveWithObject: true });
    // The photo, 2000 px wide, stands in a margin as wide on either side.
    const margin = (info.width - 2000) / 2;
    expect(margin).toBeGreaterThan(50);
    expect(info.height).toBeGreaterThan(Math.round((2000 * 1600) / 2400) + 2 * margin);
    // Below the labels, on a row without other marks: dark line, white casing, at each edge.
    const row = margin + Math.round((1300 * 2000) / 2400);
    const lightness = (x: number) => data[info.channels * (row * info.width + margin + x)];
    const inside = measurement.model.instances
      .map((one) => (one.start_mm * 8 * 2000) / 2400)
      .filter((x) => x > 20 && x < 1980);
    expect(inside.length).toBeGreaterThan(5);
    for (const x of inside) {
      const near = Array.from({ length: 15 }, (_, k) => lightness(Math.round(x) - 7 + k));
      expect(Math.max(...near), `casing at ${x}`).toBeGreaterThan(240);
      const darkest = near.indexOf(Math.min(...near.slice(4, 11)));
      expect(Math.abs(darkest - 7)).toBeLessThanOrEqual(2);
    }
  });

  it('leaves the swatches out without a repeat, and takes away those of an earlier result', async () => {
    const model = tickingModel();
    const bare = tickingModel({ repeat: { ...model.repeat, across_mm: null, across_sd_mm: null } });
    await writeFile(join(out, 'notes.txt'), 'mine');
    const written = await writeMeasurement(out, { ...measurement, ...tickingMeasurement(bare) });
    const expected = ALL.filter((name) => !name.startsWith('swatch'));
    expect([...written.files].sort()).toEqual(expected);
    expect((await readdir(out)).sort()).toEqual([...expected, 'notes.txt'].sort());
    await rm(join(out, 'notes.txt'));
  });

  it('never writes over the photo itself', async () => {
    const photo = join(base, 'overlay.png');
    await writeFile(photo, 'the photo');
    await expect(writeMeasurement(base, measurement, { photoPath: photo })).rejects.toThrow(UsageError);
    expect(await readFile(photo, 'utf8')).toBe('the photo');
  });

  it('writes nothing when the model would not pass its own reader', async () => {
    const model = tickingModel();
    const bands = model.bands.map((band) => ({ ...band, colour: 'Z' }));
    const broken = { ...measurement, ...tickingMeasurement({ ...model, bands }) };
    await expect(writeMeasurement(join(base, 'broken'), broken)).rejects.toThrow(/not valid/);
    expect(await readdir(base)).not.toContain('broken');
  });
});
