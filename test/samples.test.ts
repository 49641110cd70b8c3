import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { compareWithTruth } from '../scripts/benchmark/compare.js';
import { measureCloth } from '../src/core/pipeline/measure-cloth.js';
import type { Photo } from '../src/core/raster/photo.js';
import { raster } from '../src/core/raster/raster.js';
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
    const outcome = measureCloth(await readPhoto(name, truth.focal_35mm), { kind: 'ruler', unit: 'auto' });
    if (!outcome.ok) throw new Error(`refused: ${outcome.refusal.found}`);
    const found = compareWithTruth(outcome.value.model, truth);
    const { tolerances } = truth;
    expect(found.notes).toEqual([]);
    expect(found.bandsFound).toBe(found.bandsTrue);
    expect(Math.abs(found.repeatPercent ?? Number.NaN)).toBeLessThan(tolerances.repeat_percent);
    expect(found.worstBandMm).toBeLessThan(tolerances.band_width_mm);
    expect(found.sharePoints).toBeLessThan(tolerances.share_points);
    expect(Math.abs(found.tiltDeg ?? Number.NaN)).toBeLessThan(tolerances.tilt_deg);
    expect(found.balancedRight).toBe(true);
  });
});
