import sharp from 'sharp';
import { expect, it } from 'vitest';
import { layOver } from '../../../src/core/raster/lay-over.js';
import { seededRandom } from '../../support/photo-painter/seeded-random.js';

it('mixes as sharp composites, to a level', async () => {
  const random = seededRandom(4);
  const bytes = (n: number) => Uint8Array.from({ length: n }, () => Math.floor(256 * random.uniform()));
  const [width, height] = [40, 30];
  const ground = bytes(3 * width * height);
  const over = bytes(4 * width * height);
  for (let i = 3; i < over.length; i += 8) over[i] = i % 16 === 3 ? 0 : 255;
  const outside = await sharp(ground, { raw: { width, height, channels: 3 } })
    .composite([{ input: Buffer.from(over), raw: { width, height, channels: 4 } }])
    .removeAlpha()
    .raw()
    .toBuffer();
  const laid = ground.slice();
  for (let y = 0; y < height; y++) layOver(laid, over, y * width, width);
  for (let i = 0; i < laid.length; i++) expect(Math.abs(laid[i] - outside[i])).toBeLessThanOrEqual(1);
});

it('leaves pixels outside its stretch alone', () => {
  const ground = new Uint8Array(12).fill(9);
  layOver(ground, new Uint8Array(16).fill(255), 1, 2);
  expect([...ground]).toEqual([9, 9, 9, 255, 255, 255, 255, 255, 255, 9, 9, 9]);
});
