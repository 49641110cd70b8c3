import type { Fold } from './scene.js';

/** Where the camera stands: the foot of its perpendicular on the cloth, and its height. */
export interface CameraStand {
  readonly footMm: readonly [number, number];
  readonly heightMm: number;
}

/**
 * Moves [u, v] from where the ray meets the flat plane to the place of the cloth that is seen there, and returns the
 * light of its slope about 1. The cloth of a ridge is longer than the plane under it: what lies beyond is drawn in,
 * half from either side.
 */
export type FoldedCloth = (at: Float64Array) => number;

export function foldedCloth(folds: readonly Fold[], { footMm, heightMm }: CameraStand): FoldedCloth {
  const ridges = folds.map((fold) => {
    const a = (fold.angleDeg * Math.PI) / 180;
    return {
      ...fold,
      normal: [-Math.sin(a), Math.cos(a)],
      // The integral of slope^2 / 2 over a whole section: h^2 sqrt(pi) / (4 w).
      drawnInMm: (fold.heightMm ** 2 * Math.sqrt(Math.PI)) / (4 * fold.widthMm),
    };
  });
  return (at) => {
    let light = 1;
    const [u, v] = at;
    for (const { atMm, widthMm, heightMm: high, normal, drawnInMm, lightPerSlope } of ridges) {
      const d = ((u - atMm[0]) * normal[0] + (v - atMm[1]) * normal[1]) / widthMm;
      const beyond = d > 4 ? 1 : d < -4 ? -1 : Math.tanh(1.2 * d);
      let lift = 0;
      if (d > -4 && d < 4) {
        lift = high * Math.exp(-0.5 * d * d);
        light += (lightPerSlope * d * lift) / widthMm;
      }
      const parallax = lift / heightMm;
      at[0] += (footMm[0] - u) * parallax + (normal[0] * beyond * drawnInMm) / 2;
      at[1] += (footMm[1] - v) * parallax + (normal[1] * beyond * drawnInMm) / 2;
    }
    return Math.max(0.2, light);
  };
}
