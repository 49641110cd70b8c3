import { linearFromHex } from './linear-colour.js';
import type { Noise } from './noise-tile.js';
import type { Material } from './ruler-catalogue.js';

/** Fills out with the linear colour of the bare body at (s, t). */
export type BodyColour = (s: number, t: number, out: Float64Array) => void;

/** How much of the cloth below shows through. */
export const clearness = (material: Material): number => (material === 'acrylic' ? 0.88 : 0);

export function bodyColour(material: Material, widthMm: number, noise: Noise): BodyColour {
  const shaded = (hex: string, shade: (s: number, t: number) => number): BodyColour => {
    const [r, g, b] = linearFromHex(hex);
    return (s, t, out) => {
      const gain = shade(s, t);
      out[0] = r * gain;
      out[1] = g * gain;
      out[2] = b * gain;
    };
  };
  switch (material) {
    case 'metal':
      // Brushed along its length, with a band of sheen that drifts.
      return shaded('#a9adb2', (s, t) => {
        const sheen = Math.exp(-(((t / widthMm - 0.42 - 0.1 * noise(s * 0.004, 3)) / 0.3) ** 2));
        return 0.86 + 0.3 * sheen + 0.07 * noise(s * 0.02, t * 7) + 0.05 * noise(s * 0.11, t * 2.3);
      });
    case 'wood':
      return shaded('#c79a5e', (s, t) => {
        const grain = noise(s * 0.018, t * 0.9 + 1.2 * noise(s * 0.006, 9));
        return 1 + 0.13 * grain + 0.07 * noise(s * 0.06, t * 4) + 0.03 * noise(s * 1.5, t * 9);
      });
    case 'plastic':
      return shaded('#eceae3', (s, t) => 1 + 0.012 * noise(s * 0.05, t * 0.05) + 0.04 * (t / widthMm - 0.5));
    case 'tape':
      return shaded('#e2bd33', (s, t) => {
        const bulge = 1 - 0.1 * (2 * (t / widthMm) - 1) ** 2;
        return bulge * (1 + 0.03 * noise(s * 0.08, t * 0.3) + 0.03 * noise(s * 2.2, t * 2.2));
      });
    case 'acrylic':
      return shaded('#dfe6df', () => 1);
    case 'black':
      return shaded('#26282b', (s, t) => 1 + 0.15 * noise(s * 0.04, t * 4) + 0.25 * (t / widthMm));
  }
}
