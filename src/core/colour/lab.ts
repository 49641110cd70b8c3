import { type LinearRgb, linearFromRgb8, type Rgb8, rgb8FromLinear } from './srgb.js';

/** CIELAB, D65 white (0.3127, 0.3290), 2 degree observer: [L 0..100, a, b]. */
export type Lab = readonly [number, number, number];
/** CIE XYZ, Y = 1 for white. */
export type Xyz = readonly [number, number, number];

/** XYZ of the white: the chromaticity (0.3127, 0.3290) at Y = 1. */
export const whiteXyz: Xyz = [3127 / 3290, 1, 3583 / 3290];

/** Linear sRGB -> XYZ, exact for the primaries and white of IEC 61966-2-1. Source: CSS Color 4, sample code. */
const xyzFromLinearRows = [
  [506752 / 1228815, 87881 / 245763, 12673 / 70218],
  [87098 / 409605, 175762 / 245763, 12673 / 175545],
  [7918 / 409605, 87881 / 737289, 1001167 / 1053270],
] as const;

/** The exact inverse of the above. Source: CSS Color 4, sample code. */
const linearFromXyzRows = [
  [12831 / 3959, -329 / 214, -1974 / 3959],
  [-851781 / 878810, 1648619 / 878810, 36519 / 878810],
  [705 / 12673, -2585 / 12673, 705 / 667],
] as const;

type Rows = readonly [Xyz, Xyz, Xyz];

const apply = (rows: Rows, v: Xyz): Xyz => [
  rows[0][0] * v[0] + rows[0][1] * v[1] + rows[0][2] * v[2],
  rows[1][0] * v[0] + rows[1][1] * v[1] + rows[1][2] * v[2],
  rows[2][0] * v[0] + rows[2][1] * v[1] + rows[2][2] * v[2],
];

export const xyzFromLinear = (linear: LinearRgb): Xyz => apply(xyzFromLinearRows, linear);
export const linearFromXyz = (xyz: Xyz): LinearRgb => apply(linearFromXyzRows, xyz);

/** Where the cube root gives way to a straight line, and that line's slope: CIE 15, as exact fractions. */
const epsilon = 216 / 24389;
const kappa = 24389 / 27;

/** The compression of one tristimulus ratio, white = 1. */
export const labCurve = (ratio: number): number =>
  ratio > epsilon ? Math.cbrt(ratio) : (kappa * ratio + 16) / 116;

const ratioFromCurve = (f: number): number => (f ** 3 > epsilon ? f ** 3 : (116 * f - 16) / kappa);

/** @param white XYZ of the white; the D65 of sRGB unless given. */
export function labFromXyz(xyz: Xyz, white: Xyz = whiteXyz): Lab {
  const fx = labCurve(xyz[0] / white[0]);
  const fy = labCurve(xyz[1] / white[1]);
  const fz = labCurve(xyz[2] / white[2]);
  return [116 * fy - 16, 500 * (fx - fy), 200 * (fy - fz)];
}

/** Inverse of labFromXyz. */
export function xyzFromLab(lab: Lab, white: Xyz = whiteXyz): Xyz {
  const fy = (lab[0] + 16) / 116;
  return [
    ratioFromCurve(fy + lab[1] / 500) * white[0],
    ratioFromCurve(fy) * white[1],
    ratioFromCurve(fy - lab[2] / 200) * white[2],
  ];
}

export const labFromLinear = (linear: LinearRgb): Lab => labFromXyz(xyzFromLinear(linear));
export const linearFromLab = (lab: Lab): LinearRgb => linearFromXyz(xyzFromLab(lab));
export const labFromRgb8 = (rgb: Rgb8): Lab => labFromLinear(linearFromRgb8(rgb));

/** Nearest 8-bit sRGB; colours outside the gamut are clipped channel by channel. */
export const rgb8FromLab = (lab: Lab): Rgb8 => rgb8FromLinear(linearFromLab(lab));
