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
import { checkNesting } from '../support/check-nesting.js';
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
  'true-size.html',
];

const frameMm = async (): Promise<number> =>
  JSON.parse(await readFile(join(out, 'bands.json'), 'utf8')).cloth.frame_px / 8;

describe('writeMeasurement', () => {
  it('writes every file and a model that reads back as it was', async () => {
    expect((await readdir(out)).sort()).toEqual(ALL);
    const read = await parseBandModel(await readFile(join(out, 'bands.json'), 'utf8'));
    if (!read.ok) throw new Error(read.refusal.found);
    const { cloth, ...model } = read.value;
    expect(model).toEqual(JSON.parse(JSON.stringify(measurement.model)));
    const { frame_px, ...rest } = cloth!;
    expect(frame_px).toBeGreaterThan(20);
    const frameMm = frame_px! / 8;
    expect(rest).toEqual({ file: 'cloth.png', px_per_mm: 8, left_u_mm: -frameMm, top_v_mm: 100 + frameMm });
  });

  it('writes cloth and swatch at true size: density times size in px is the size in mm', async () => {
    for (const [name, mm] of [
      ['cloth.png', 150 + 2 * (await frameMm())],
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

  it('frames the cloth with what looks solid and is told from cloth by its alpha', async () => {
    const { data, info } = await sharp(join(out, 'cloth.png')).raw().toBuffer({ resolveWithObject: true });
    const frame = Math.round(8 * (await frameMm()));
    let dark = 0;
    for (let y = 0; y < info.height; y++) {
      for (let x = 0; x < info.width; x++) {
        const at = 4 * (y * info.width + x);
        const isCloth = x >= frame && y >= frame && x < info.width - frame && y < info.height - frame;
        if (data[at + 3] !== (isCloth ? 255 : 254)) throw new Error(`alpha ${data[at + 3]} at ${x}, ${y}`);
        if (!isCloth && data[at] < 128) dark++;
      }
    }
    expect(dark).toBeGreaterThan(500);
  });

  it('tiles the cloth at true size: each sheet fits a page and they leave nothing out', async () => {
    const html = await readFile(join(out, 'true-size.html'), 'utf8');
    checkNesting(html);
    const tile =
      /<div class="tile" style="width:([\d.]+)mm;height:([\d.]+)mm"><img src=".\/(\S+)" alt="[^"]+" style="width:([\d.]+)mm;height:([\d.]+)mm;left:(-?[\d.]+)mm;top:(-?[\d.]+)mm"/g;
    const sheets = [...html.matchAll(tile)].map((found) => [found[3], found.slice(1).map(Number)] as const);
    const cloth = sheets.filter(([file]) => file === 'cloth.png').map(([, numbers]) => numbers);
    expect(cloth[0][3]).toBeCloseTo(150 + 2 * (await frameMm()), 2);
    for (const [width, height] of cloth) {
      // A4 is 210 mm wide, letter 279.4 mm high; 12 mm margins, the sheet's name and its bar take the rest.
      expect(width).toBeLessThanOrEqual(186);
      expect(height).toBeLessThanOrEqual(235);
    }
    expect(Math.max(...cloth.map(([width, , , , , left]) => width - left))).toBeCloseTo(cloth[0][3], 2);
    expect(Math.max(...cloth.map(([, height, , , , , top]) => height - top))).toBeCloseTo(cloth[0][4], 2);
    expect(sheets.some(([file]) => file === 'swatch.png')).toBe(true);
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
    await expect(writeMeasurement(join(base, 'broken'), broken)).rejects.toThrow(UsageError);
    expect(await readdir(base)).not.toContain('broken');
  });
});
