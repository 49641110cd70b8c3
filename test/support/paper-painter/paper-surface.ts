import { mix, ramp } from '../photo-painter/cloth-surface.js';
import { linearFromHex } from '../photo-painter/linear-colour.js';
import { noiseTile } from '../photo-painter/noise-tile.js';
import { softStep } from '../photo-painter/pixel-coverage.js';
import type { SeededRandom } from '../photo-painter/seeded-random.js';
import { nearStrokes, signedDistanceTo, thinned } from './near-polygon.js';
import type { PaperShadow, PaperSheet, Weight } from './paper-scene.js';

/** Lays something over what out holds at (x, y) mm, a pixel being pixelMm wide. */
export type LaidOver = (x: number, y: number, pixelMm: number, out: Float64Array) => void;

/** One piece of paper with its shadow on the ground, its creases and what is drawn on it. */
export function paperSurface(sheet: PaperSheet, shadow: PaperShadow, random: SeededRandom): LaidOver {
  const reach = 3 * shadow.softMm + Math.hypot(...shadow.offsetMm) + 4;
  const depth = signedDistanceTo(sheet.paper, 2.5);
  // Shadows are soft: a coarser line casts them.
  const roughDepth = signedDistanceTo(thinned(sheet.paper, 2), reach);
  const own = linearFromHex(sheet.colour);
  const noise = noiseTile(random);
  const inks = sheet.strokes.map(({ colour }) => linearFromHex(colour));
  const widest = Math.max(0, ...sheet.strokes.map(({ widthMm }) => widthMm));
  const near = nearStrokes(sheet.strokes, widest / 2 + 1.5);
  const filled = sheet.strokes.flatMap(({ filled, points, strength }, k) =>
    filled ? [{ inside: signedDistanceTo(points, 3), ink: inks[k], strength }] : [],
  );
  const creases = sheet.creases.map(({ at, angleDeg, widthMm, depth: change }) => ({
    at,
    nx: -Math.sin((angleDeg * Math.PI) / 180) / widthMm,
    ny: Math.cos((angleDeg * Math.PI) / 180) / widthMm,
    change: change * Math.exp(0.5),
  }));
  const face = new Float64Array(3);
  return (x, y, pixelMm, out) => {
    const d = depth(x, y);
    if (d < 0 && roughDepth(x, y) <= -reach) return;
    const share = ramp(d / pixelMm);
    if (share < 1) {
      // Dark where the paper lies near, and on the side away from the light.
      const lee = roughDepth(x - shadow.offsetMm[0], y - shadow.offsetMm[1]);
      const dark = shadow.depth * softStep(lee, shadow.softMm);
      const contact = 0.25 * shadow.depth * softStep(d + 1, 1.5);
      for (let c = 0; c < 3; c++) out[c] *= (1 - dark) * (1 - contact);
      if (share === 0) return;
    }
    let light =
      1 + sheet.speckle * (noise(x * 0.05, y * 0.05) + noise(x * 0.6, y * 2.2) + 0.7 * noise(x * 3, y * 3));
    for (const { at, nx, ny, change } of creases) {
      const t = (x - at[0]) * nx + (y - at[1]) * ny;
      if (t > -4 && t < 4) light *= 1 + change * t * Math.exp(-0.5 * t * t);
    }
    for (let c = 0; c < 3; c++) face[c] = light * (own[c] * (1 - sheet.clear) + out[c] * sheet.clear);
    near(x, y, (stroke, distanceMm) => {
      const { widthMm, strength } = sheet.strokes[stroke];
      const grit = 1 - 0.25 * Math.abs(noise(x * 2.3 + stroke, y * 2.3));
      mix(face, inks[stroke], strength * grit * ramp((widthMm / 2 - distanceMm) / pixelMm));
    });
    for (const { inside, ink, strength } of filled) mix(face, ink, strength * ramp(inside(x, y) / pixelMm));
    mix(out, face, share);
  };
}

/** A round weight with its shadow. */
export function weightSurface({ at, radiusMm, colour }: Weight): LaidOver {
  const own = linearFromHex(colour);
  const face = new Float64Array(3);
  return (x, y, pixelMm, out) => {
    const r = Math.hypot(x - at[0], y - at[1]);
    if (r > radiusMm + 8) return;
    const shade = 1 - 0.4 * Math.max(0, 1 - Math.max(0, r - radiusMm) / 8) ** 2;
    for (let c = 0; c < 3; c++) out[c] *= shade;
    const round = 0.8 + 0.4 * Math.exp(-(((r / radiusMm - 0.6) / 0.3) ** 2));
    for (let c = 0; c < 3; c++) face[c] = own[c] * round;
    mix(out, face, ramp((radiusMm - r) / pixelMm));
  };
}
