import { expect, it } from 'vitest';
import { erodeMask } from '../../../src/core/raster/erode-mask.js';
import { seededRandom } from '../../support/photo-painter/seeded-random.js';

it('keeps what has no hole within reach, as a look at every square says', () => {
  const random = seededRandom(2);
  const [width, height] = [23, 17];
  for (const reach of [0, 1, 3]) {
    const mask = Uint8Array.from({ length: width * height }, () => (random.uniform() < 0.97 ? 1 : 0));
    const found = erodeMask(mask, width, height, reach);
    for (let y = 0; y < height; y++) {
      for (let x = 0; x < width; x++) {
        let all = 1;
        for (let j = Math.max(0, y - reach); j <= Math.min(height - 1, y + reach); j++) {
          for (let i = Math.max(0, x - reach); i <= Math.min(width - 1, x + reach); i++)
            all &= mask[j * width + i];
        }
        expect(found[y * width + x], `${x}, ${y} at reach ${reach}`).toBe(all);
      }
    }
  }
});
