import type { LightSpec } from './scene.js';

/** Light at a photo point relative to the neutral light, without the colour cast. */
export type LightField = (x: number, y: number) => number;

export function lightField(spec: LightSpec, widthPx: number, heightPx: number): LightField {
  const halfDiagonal = Math.hypot(widthPx, heightPx) / 2;
  const perX = spec.gradient[0] / (widthPx / 2);
  const perY = spec.gradient[1] / (heightPx / 2);
  const cx = widthPx / 2;
  const cy = heightPx / 2;
  const loss = spec.vignette / halfDiagonal ** 2;
  const shadows = spec.shadows.map((shadow) => {
    const a = (shadow.angleDeg * Math.PI) / 180;
    return {
      x: shadow.at[0] * widthPx,
      y: shadow.at[1] * heightPx,
      cos: Math.cos(a) / halfDiagonal,
      sin: Math.sin(a) / halfDiagonal,
      perA: 1 / shadow.radii[0],
      perB: 1 / shadow.radii[1],
      depth: shadow.depth,
    };
  });
  const creases = (spec.creases ?? []).map((crease) => {
    const a = (crease.angleDeg * Math.PI) / 180;
    const reach = crease.width * halfDiagonal;
    return {
      x: crease.at[0] * widthPx,
      y: crease.at[1] * heightPx,
      perX: Math.sin(a) / reach,
      perY: Math.cos(a) / reach,
      // The slope of a Gaussian fold is d exp(-d^2 / 2): at most exp(-1/2), at one half-width.
      depth: crease.depth * Math.exp(0.5),
    };
  });
  return (x, y) => {
    const dx = x - cx;
    const dy = y - cy;
    let light = spec.exposure * (1 + perX * dx + perY * dy) * (1 - loss * (dx * dx + dy * dy));
    for (const shadow of shadows) {
      const sx = x - shadow.x;
      const sy = y - shadow.y;
      const a = (sx * shadow.cos + sy * shadow.sin) * shadow.perA;
      const b = (-sx * shadow.sin + sy * shadow.cos) * shadow.perB;
      const far = a * a + b * b;
      light *= 1 - shadow.depth / (1 + far * far * far);
    }
    for (const crease of creases) {
      const d = (x - crease.x) * crease.perX + (y - crease.y) * crease.perY;
      if (d > -5 && d < 5) light *= 1 + crease.depth * d * Math.exp(-0.5 * d * d);
    }
    return Math.max(0, light);
  };
}
