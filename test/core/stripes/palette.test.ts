import { describe, expect, it } from 'vitest';
import { ciede2000 } from '../../../src/core/colour/ciede2000.js';
import { labFromLinear } from '../../../src/core/colour/lab.js';
import { paletteOf } from '../../../src/core/stripes/palette.js';
import type { Segment } from '../../../src/core/stripes/segment.js';

type Linear = readonly [number, number, number];

const segment = (linear: Linear, gain = 1): Segment => {
  const lit: [number, number, number] = [linear[0] * gain, linear[1] * gain, linear[2] * gain];
  return { from: 0, to: 20, linear: lit, lab: labFromLinear(lit) };
};

const INDIGO: Linear = [0.023, 0.042, 0.125];
const IVORY: Linear = [0.83, 0.76, 0.6];

describe('paletteOf', () => {
  it('keeps two tones five CIEDE2000 units apart', () => {
    const darker: Linear = [0.62, 0.545, 0.39];
    const lighter: Linear = [0.775, 0.68, 0.492];
    const apart = ciede2000(labFromLinear(darker), labFromLinear(lighter));
    expect(apart).toBeGreaterThan(4.2);
    expect(apart).toBeLessThan(5.2);
    const segments = [0, 1, 2, 3, 4, 5].map((i) => segment(i % 2 ? lighter : darker));
    const { palette, colours } = paletteOf(segments, [0, 1, 0, 1, 0, 1]);
    expect(palette).toHaveLength(2);
    expect(new Set(colours.filter((_, i) => i % 2 === 0))).toHaveLength(1);
  });

  it('takes one dye in light that differs by a tenth for one', () => {
    const segments = [1, 0.97, 0.94, 1.05].flatMap((gain) => [segment(IVORY, gain), segment(INDIGO, gain)]);
    const { palette } = paletteOf(segments, [0, 1, 2, 1, 0, 1, 2, 1]);
    expect(palette).toHaveLength(2);
  });

  it('puts the colour that covers most first', () => {
    const wide = { ...segment(INDIGO), to: 60 };
    const { palette, colours } = paletteOf([segment(IVORY), wide, segment(IVORY)], [0, 1, 0]);
    expect(colours).toEqual([1, 0, 1]);
    expect(palette[0].linear[2]).toBeCloseTo(INDIGO[2], 6);
  });
});
