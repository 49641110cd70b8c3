import { describe, expect, it } from 'vitest';
import {
  type Lab,
  labFromLinear,
  labFromRgb8,
  labFromXyz,
  linearFromLab,
  linearFromXyz,
  rgb8FromLab,
  whiteXyz,
  type Xyz,
  xyzFromLab,
  xyzFromLinear,
} from '../../../src/core/colour/lab.js';
import { labOfBytes } from '../../../src/core/colour/lab-of-bytes.js';
import {
  encodedFromLinear,
  linearFromEncoded,
  linearFromRgb8,
  type Rgb8,
} from '../../../src/core/colour/srgb.js';

const worstDifference = (a: readonly number[], b: readonly number[]): number =>
  Math.max(...a.map((v, i) => Math.abs(v - b[i])));

describe('XYZ', () => {
  it('has the white of color.js (test/conversions.js)', () => {
    expect(worstDifference(whiteXyz, [0.9504559270516717, 1, 1.0890577507598784])).toBeLessThan(1e-15);
    expect(worstDifference(xyzFromLinear([1, 1, 1]), whiteXyz)).toBeLessThan(1e-15);
  });

  it('agrees with the four-decimal matrix printed in IEC 61966-2-1', () => {
    const columns = [xyzFromLinear([1, 0, 0]), xyzFromLinear([0, 1, 0]), xyzFromLinear([0, 0, 1])];
    const printed = [
      [0.4124, 0.2126, 0.0193],
      [0.3576, 0.7152, 0.1192],
      [0.1805, 0.0722, 0.9505],
    ];
    columns.forEach((column, i) => {
      expect(worstDifference(column, printed[i])).toBeLessThan(6e-5);
    });
  });

  it('agrees with colour-science (colour/models/rgb/tests/test_common.py), which uses that matrix', () => {
    const linear = [0.70573936, 0.19248266, 0.22354169].map(linearFromEncoded) as [number, number, number];
    expect(worstDifference(xyzFromLinear(linear), [0.2065429, 0.12197943, 0.0513714])).toBeLessThan(5e-5);
  });

  // color.js, test/conversions.js; its matrix for P3 is rounded, hence 1e-4.
  it('carries Display P3 red out of the sRGB gamut', () => {
    // First column of the Display P3 matrix, CSS Color 4 sample code.
    const p3Red: Xyz = [608311 / 1250200, 35783 / 156275, 0];
    const encoded = linearFromXyz(p3Red).map(encodedFromLinear);
    expect(worstDifference(encoded, [1.09299, -0.226745, -0.150155])).toBeLessThan(1e-4);
  });
});

describe('CIELAB', () => {
  it('agrees with colour-science (colour/models/tests/test_cie_lab.py) for two whites', () => {
    const xyz: Xyz = [0.07049534, 0.1008, 0.09558313];
    const white = (x: number, y: number): Xyz => [x / y, 1, (1 - x - y) / y];
    const d65 = labFromXyz(xyz, white(0.3127, 0.329));
    const d50 = labFromXyz(xyz, white(0.3457, 0.3585));
    expect(worstDifference(d65, [37.9856291, -22.61920654, 4.19811236])).toBeLessThan(1e-7);
    expect(worstDifference(d50, [37.9856291, -23.62907688, -4.41746615])).toBeLessThan(1e-7);
  });

  // culori, test/datasets/pycolour-srgb-to-labd65.txt (made with colour-science and the four-decimal matrix,
  // which moves a by up to 0.011: hence 0.02).
  it.each([
    [
      [0.78117427, 0.40929635, 0.10986069],
      [54.26884639, 32.96421328, 55.38884741],
    ],
    [
      [0.31348001, 0.23198383, 0.35837762],
      [28.40308724, 15.97270196, -15.75986016],
    ],
    [
      [0.23209242, 0.23086061, 0.24440252],
      [24.95609079, 0.93655596, -2.08030825],
    ],
  ])('agrees with culori for %j', (encoded, published) => {
    const linear = encoded.map(linearFromEncoded) as [number, number, number];
    expect(worstDifference(labFromLinear(linear), published)).toBeLessThan(0.02);
  });

  // Worked from the exact matrix and the formula of CIE 15, to four decimals.
  const worked: [Rgb8, Lab][] = [
    [
      [255, 255, 255],
      [100, 0, 0],
    ],
    [
      [255, 0, 0],
      [53.2371, 80.0901, 67.2033],
    ],
    [
      [0, 255, 0],
      [87.7355, -86.1816, 83.1866],
    ],
    [
      [0, 0, 255],
      [32.3009, 79.1953, -107.8555],
    ],
    [
      [128, 128, 128],
      [53.585, 0, 0],
    ],
    [
      [0, 0, 128],
      [12.9743, 47.5069, -64.6993],
    ],
    [
      [210, 180, 140],
      [74.9751, 5.0183, 24.4281],
    ],
  ];
  it.each(worked)('of %j is %j', (rgb, lab) => {
    expect(worstDifference(labFromRgb8(rgb), lab)).toBeLessThan(5.1e-5);
  });

  it('comes back from XYZ and from 8-bit colours', () => {
    for (let r = 0; r < 256; r += 17) {
      for (let g = 0; g < 256; g += 17) {
        for (let b = 0; b < 256; b += 17) {
          const lab = labFromRgb8([r, g, b]);
          expect(rgb8FromLab(lab)).toEqual([r, g, b]);
          expect(worstDifference(labFromXyz(xyzFromLab(lab)), lab)).toBeLessThan(1e-10);
        }
      }
    }
    const linear = linearFromRgb8([12, 200, 77]);
    expect(worstDifference(linearFromLab(labFromLinear(linear)), linear)).toBeLessThan(1e-12);
  });
});

describe('labOfBytes', () => {
  it('is labFromRgb8 within 0.003 over the whole cube, alpha passed over', () => {
    const colours: Rgb8[] = [];
    for (let r = 0; r < 256; r += 15) {
      for (let g = 0; g < 256; g += 15) {
        for (let b = 0; b < 256; b += 15) colours.push([r, g, b]);
      }
    }
    // Dark neighbours, where the curve bends most.
    for (let v = 0; v < 40; v++) colours.push([v, v, v], [v, 0, 0], [0, v, 0], [0, 0, v]);
    const lab = labOfBytes(Uint8Array.from(colours.flatMap((rgb) => [...rgb, 9])), 4);
    let worst = 0;
    colours.forEach((rgb, i) => {
      worst = Math.max(worst, worstDifference(labFromRgb8(rgb), Array.from(lab.subarray(3 * i, 3 * i + 3))));
    });
    expect(lab).toHaveLength(3 * colours.length);
    expect(worst).toBeLessThan(0.003);
  });
});
