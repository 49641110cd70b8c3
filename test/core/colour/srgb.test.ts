import { describe, expect, it } from 'vitest';
import {
  byteFromLinear,
  encodedFromLinear,
  hexFromRgb8,
  linearFromByte,
  linearFromEncoded,
  rgb8FromHex,
} from '../../../src/core/colour/srgb.js';

describe('sRGB transfer', () => {
  it('agrees with published values', () => {
    // colour-science, colour/models/rgb/transfer_functions/srgb.py
    expect(Math.abs(encodedFromLinear(0.18) - 0.461356129500442)).toBeLessThan(1e-15);
    // color.js, test/conversions.js
    expect(Math.abs(linearFromEncoded(0.5) - 0.21404114)).toBeLessThan(5e-9);
    // colour-science, colour/models/rgb/tests/test_common.py
    const encoded = [0.70573936, 0.19248266, 0.22354169];
    const linear = [0.4562052, 0.0308107, 0.04091953];
    encoded.forEach((v, i) => {
      expect(Math.abs(linearFromEncoded(v) - linear[i])).toBeLessThan(2e-8);
    });
  });

  it('comes back from linear light, and rises throughout', () => {
    // The two pieces of the standard meet only within 3e-8: hence the tolerance.
    let last = Number.NEGATIVE_INFINITY;
    for (let v = -0.3; v <= 1.3; v += 0.0007) {
      const linear = linearFromEncoded(v);
      expect(Math.abs(encodedFromLinear(linear) - v)).toBeLessThan(1e-7);
      expect(linear).toBeGreaterThan(last);
      last = linear;
    }
  });

  it('gives every 8-bit value back', () => {
    for (let i = 0; i < 256; i++) {
      expect(linearFromByte[i]).toBe(linearFromEncoded(i / 255));
      expect(byteFromLinear(linearFromByte[i])).toBe(i);
    }
    expect(byteFromLinear(-0.2)).toBe(0);
    expect(byteFromLinear(1.2)).toBe(255);
  });
});

describe('hexadecimal colours', () => {
  it('are read and written alike', () => {
    expect(hexFromRgb8([30, 9, 255])).toBe('#1e09ff');
    expect(rgb8FromHex('#1E09ff')).toEqual([30, 9, 255]);
  });

  it('say what was expected', () => {
    expect(() => rgb8FromHex('navy')).toThrow('expected "#rrggbb", received "navy"');
    expect(() => rgb8FromHex('#12345')).toThrow('expected "#rrggbb"');
    expect(() => hexFromRgb8([0, 256, 0])).toThrow('expected 0 to 255, received 256');
    expect(() => hexFromRgb8([0, Number.NaN, 0])).toThrow('received NaN');
  });
});
