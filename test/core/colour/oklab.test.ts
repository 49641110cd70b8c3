import { expect, it } from 'vitest';
import { labFromRgb8 } from '../../../src/core/colour/lab.js';
import { oklabFromLab } from '../../../src/core/colour/oklab.js';

// CSS Color Module Level 4: lightness 1 and no chroma for white, and the coordinates of sRGB's primaries (there as oklch, to four
// digits; from memory).
it.each([
  [
    [255, 255, 255],
    [1, 0, 0],
  ],
  [
    [0, 0, 0],
    [0, 0, 0],
  ],
  [
    [255, 0, 0],
    [0.628, 0.2249, 0.1258],
  ],
  [
    [0, 255, 0],
    [0.8664, -0.2339, 0.1795],
  ],
  [
    [0, 0, 255],
    [0.452, -0.0325, -0.3115],
  ],
] as const)('gives %j as Oklab %j', (rgb, expected) => {
  const found = oklabFromLab(labFromRgb8(rgb));
  for (const k of [0, 1, 2]) expect(found[k]).toBeCloseTo(expected[k], 3);
});
