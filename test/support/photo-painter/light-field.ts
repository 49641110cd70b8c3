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
    return Math.max(0, light);
  };
}
