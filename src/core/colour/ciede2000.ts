import type { Lab } from './lab.js';

const degree = Math.PI / 180;
const pow25to7 = 25 ** 7;

/** Hue angle in degrees, 0..360; 0 for a neutral colour. */
const hueDeg = (a: number, b: number): number => {
  if (a === 0 && b === 0) return 0;
  const h = Math.atan2(b, a) / degree;
  return h < 0 ? h + 360 : h;
};

/** Second colour's hue less the first's, by the shorter way round. */
const hueDifferenceDeg = (h1: number, h2: number): number => {
  const d = h2 - h1;
  return d > 180 ? d - 360 : d < -180 ? d + 360 : d;
};

/** Mean hue, by the shorter way round. */
const meanHueDeg = (h1: number, h2: number): number => {
  const sum = h1 + h2;
  if (Math.abs(h1 - h2) <= 180) return sum / 2;
  return sum < 360 ? (sum + 360) / 2 : (sum - 360) / 2;
};

/**
 * CIEDE2000 colour difference, kL = kC = kH = 1; about 1 is just visible side by side. Symmetric in its arguments.
 *
 * Source: Sharma, Wu, Dalal, "The CIEDE2000 color-difference formula: implementation notes, supplementary test
 * data, and mathematical observations", Color Research and Application 30(1), 2005, doi 10.1002/col.20070.
 */
export function ciede2000(first: Lab, second: Lab): number {
  const [l1, a1, b1] = first;
  const [l2, a2, b2] = second;

  // Stretch a near the neutral axis, where CIELAB is too tight.
  const chromaMean7 = ((Math.hypot(a1, b1) + Math.hypot(a2, b2)) / 2) ** 7;
  const stretch = 1 + 0.5 * (1 - Math.sqrt(chromaMean7 / (chromaMean7 + pow25to7)));
  const c1 = Math.hypot(a1 * stretch, b1);
  const c2 = Math.hypot(a2 * stretch, b2);
  const h1 = hueDeg(a1 * stretch, b1);
  const h2 = hueDeg(a2 * stretch, b2);

  // A neutral colour has no hue: its difference is nothing, and the mean is the other colour's.
  const neutral = c1 * c2 === 0;
  const deltaHue = neutral ? 0 : 2 * Math.sqrt(c1 * c2) * Math.sin((hueDifferenceDeg(h1, h2) / 2) * degree);
  const hue = neutral ? h1 + h2 : meanHueDeg(h1, h2);
  const lightness = (l1 + l2) / 2;
  const chroma = (c1 + c2) / 2;

  const t =
    1 -
    0.17 * Math.cos((hue - 30) * degree) +
    0.24 * Math.cos(2 * hue * degree) +
    0.32 * Math.cos((3 * hue + 6) * degree) -
    0.2 * Math.cos((4 * hue - 63) * degree);
  const fromMiddle = (lightness - 50) ** 2;
  const sL = 1 + (0.015 * fromMiddle) / Math.sqrt(20 + fromMiddle);
  const sC = 1 + 0.045 * chroma;
  const sH = 1 + 0.015 * chroma * t;

  // The turn of the ellipses in the blue.
  const turn = 30 * Math.exp(-(((hue - 275) / 25) ** 2));
  const chroma7 = chroma ** 7;
  const rT = -Math.sin(2 * turn * degree) * 2 * Math.sqrt(chroma7 / (chroma7 + pow25to7));

  const dL = (l2 - l1) / sL;
  const dC = (c2 - c1) / sC;
  const dH = deltaHue / sH;
  return Math.sqrt(dL * dL + dC * dC + dH * dH + rT * dC * dH);
}
