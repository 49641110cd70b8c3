import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { compareWithTruth } from '../scripts/benchmark/compare.js';
import { invert3, type Matrix3, type Point, transformPoint } from '../src/core/math/matrix3.js';
import { median } from '../src/core/math/robust.js';
import { measureCloth } from '../src/core/pipeline/measure-cloth.js';
import type { MeasuredCloth } from '../src/core/pipeline/measured-cloth.js';
import type { Photo } from '../src/core/raster/photo.js';
import { type Raster, raster } from '../src/core/raster/raster.js';
import { clearCorner } from '../src/core/render/clear-corner.js';
import { printedSwatch } from '../src/core/render/printed-swatch.js';
import { paintPhoto } from './support/photo-painter/paint-photo.js';
import type { SceneTruth } from './support/photo-painter/scene-truth.js';
import { SAMPLES, type SampleTolerances } from './support/sample-scenes.js';

const FOLDER = fileURLToPath(new URL('../samples/painted/', import.meta.url));

const readTruth = (name: string): SceneTruth & { tolerances: SampleTolerances } =>
  JSON.parse(readFileSync(`${FOLDER}${name}.truth.json`, 'utf8'));

/** Decoded here, not by the project's own reader: the truth gives the focal length. */
async function readPhoto(name: string, focal35Mm: number): Promise<Photo> {
  const { data, info } = await sharp(`${FOLDER}${name}.jpg`)
    .rotate()
    .removeAlpha()
    .raw()
    .toBuffer({ resolveWithObject: true });
  return {
    picture: raster(info.width, info.height, 3, new Uint8Array(data)),
    photoPerPicture: 1,
    widthPx: info.width,
    heightPx: info.height,
    focal35Mm,
  };
}

/** How dark a place is (255 less luma by Rec. 601, which JPEG keeps at full resolution), px. Bilinear. */
function darknessAt({ width, channels, data }: Raster<Uint8Array>, [x, y]: Point): number {
  const [left, top] = [Math.floor(x - 0.5), Math.floor(y - 0.5)];
  const [ax, ay] = [x - 0.5 - left, y - 0.5 - top];
  const at = (column: number, row: number): number => {
    const i = channels * (row * width + column);
    return 255 - 0.299 * data[i] - 0.587 * data[i + 1] - 0.114 * data[i + 2];
  };
  const above = at(left, top) * (1 - ax) + at(left + 1, top) * ax;
  const below = at(left, top + 1) * (1 - ax) + at(left + 1, top + 1) * ax;
  return above * (1 - ay) + below * ay;
}

/** How wide the rims are about the middles of shells' feet, which are 8 mm wide, mm: the contrast over the steepest slope. */
function rimWidthsMm(feet: readonly Point[], darkness: (place: Point) => number): number[] {
  const [half, step] = [6, 0.04];
  return feet.flatMap(([u, v]) => {
    const row = Array.from({ length: (2 * half) / step }, (_, i) => darkness([u - half + i * step, v]));
    const contrast = row[row.length >> 1] - (row[0] + row[row.length - 1]) / 2;
    // Under the ruler or outside the photo there is no foot.
    if (!(contrast > 80 && Math.abs(row[0] - row[row.length - 1]) < 8)) return [];
    const rises = row.slice(1).map((value, i) => (value - row[i]) / step);
    return [contrast / Math.max(...rises), -contrast / Math.min(...rises)];
  });
}

const measured = new Map<string, Promise<MeasuredCloth>>();

function measure(name: string): Promise<MeasuredCloth> {
  const known = measured.get(name);
  if (known) return known;
  const begun = readPhoto(name, readTruth(name).focal_35mm).then((photo) => {
    const outcome = measureCloth(photo, { kind: 'ruler', unit: 'auto' });
    if (!outcome.ok) throw new Error(`refused: ${outcome.refusal.found}`);
    return outcome.value;
  });
  measured.set(name, begun);
  return begun;
}

describe('the samples', () => {
  it('are those the project can paint again', () => {
    const names = readdirSync(FOLDER)
      .filter((file) => file.endsWith('.jpg'))
      .map((file) => file.replace('.jpg', ''));
    expect(names.sort()).toEqual(SAMPLES.map(({ scene }) => scene.name).sort());
  });

  it('show what their seed paints, with the truth beside them', async () => {
    const [{ scene }] = SAMPLES;
    const painted = paintPhoto(scene);
    expect(readTruth(scene.name)).toMatchObject(JSON.parse(JSON.stringify(painted.truth)));
    const { picture } = await readPhoto(scene.name, scene.camera.focal35Mm);
    let sum = 0;
    for (let i = 0; i < picture.data.length; i++) sum += Math.abs(picture.data[i] - painted.picture.data[i]);
    // What JPEG takes away, in 8-bit levels.
    expect(sum / picture.data.length).toBeLessThan(2.5);
  });

  it.each(SAMPLES.map(({ scene }) => scene.name))('%s is measured within its tolerances', async (name) => {
    const truth = readTruth(name);
    const { model } = await measure(name);
    const found = compareWithTruth(model, truth);
    const { tolerances } = truth;
    expect(found.notes).toEqual([]);
    expect(found.bandsFound).toBe(found.bandsTrue);
    expect(Math.abs(found.repeatPercent ?? Number.NaN)).toBeLessThan(tolerances.repeat_percent);
    expect(found.worstBandMm).toBeLessThan(tolerances.band_width_mm);
    expect(found.sharePoints).toBeLessThan(tolerances.share_points);
    expect(Math.abs(found.tiltDeg ?? Number.NaN)).toBeLessThan(tolerances.tilt_deg);
    expect(found.balancedRight).toBe(true);
  });

  it('a printed swatch is as sharp as the photo', async () => {
    const name = 'shell-wooden-rule';
    const { model, cloth, closeUp } = await measure(name);
    const swatch = printedSwatch(model, cloth(), closeUp);
    if (swatch === null) throw new Error('no swatch');
    const { picture: photo } = await readPhoto(name, readTruth(name).focal_35mm);
    const { repeat, plane, motifs } = model;
    const [acrossMm, alongMm] = [repeat.across_mm ?? 0, repeat.along_mm ?? 0];
    const [{ across_mm, along_mm, extent_mm }] = motifs;
    // The foot of each shell is upright: across it the rim is met square on.
    const footV = along_mm - extent_mm[1] / 2 + 0.7;
    const cells = Array.from({ length: 45 }, (_, k) => [(k % 5) - 2, Math.floor(k / 5) - 4]);
    const feet = cells.map(
      ([i, j]): Point => [across_mm + i * acrossMm, footV + (j + i * (repeat.drop_fraction ?? 0)) * alongMm],
    );
    const photoFromCloth = invert3((plane?.homography ?? []).flat() as unknown as Matrix3);
    const inPhoto = rimWidthsMm(feet, (place) => darknessAt(photo, transformPoint(photoFromCloth, place)));
    const { picture, pxPerMm } = swatch;
    // The swatch, laid side by side without end, begins at a place of its own.
    const [leftMm, lowMm] = clearCorner(model, acrossMm, alongMm, repeat.drop_fraction ?? 0);
    const turn = (mm: number, periodMm: number): number => mm - Math.floor(mm / periodMm) * periodMm;
    const inSwatch = rimWidthsMm(
      feet.filter((_, k) => k < 2),
      ([u, v]) =>
        darknessAt(picture, [
          turn(u - leftMm, 2 * acrossMm) * pxPerMm,
          picture.height - turn(v - lowMm, alongMm) * pxPerMm,
        ]),
    );
    expect(inPhoto.length).toBeGreaterThan(10);
    expect(inSwatch).toHaveLength(4);
    // Single pixels' noise makes the photo's rims seem a little steeper than they are; drawn from the half-size copy it was 1.6.
    expect(median(inSwatch)).toBeLessThan(1.25 * median(inPhoto));
  });
});
