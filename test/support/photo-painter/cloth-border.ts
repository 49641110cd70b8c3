import { mix } from './cloth-surface.js';
import { linearFromHex } from './linear-colour.js';
import { noiseTile } from './noise-tile.js';
import { coverage, softStep } from './pixel-coverage.js';
import type { ClothBorder } from './scene.js';
import type { SeededRandom } from './seeded-random.js';

const SHADOW_MM = 1.6;

/** Lays selvages over the cloth in out and the table beyond its borders; g as for the cloth. */
export type BorderPainter = (u: number, v: number, g: Float64Array, out: Float64Array) => void;

export const onCloth =
  (borders: readonly ClothBorder[]) =>
  (u: number, v: number): boolean =>
    borders.every(({ normalDeg, atMm }) => {
      const a = (normalDeg * Math.PI) / 180;
      return u * Math.cos(a) + v * Math.sin(a) < atMm;
    });

export function borderPainter(borders: readonly ClothBorder[], random: SeededRandom): BorderPainter {
  const own = new Float64Array(3);
  const edges = borders.map((border) => {
    const a = (border.normalDeg * Math.PI) / 180;
    return {
      cos: Math.cos(a),
      sin: Math.sin(a),
      atMm: border.atMm,
      mottle: border.mottle,
      table: linearFromHex(border.tableColour),
      selvage: border.selvage && {
        widthMm: border.selvage.widthMm,
        colour: linearFromHex(border.selvage.colour),
      },
      noise: noiseTile(random),
    };
  });
  return (u, v, g, out) => {
    for (const { cos, sin, atMm, table, mottle, selvage, noise } of edges) {
      const beyond = u * cos + v * sin - atMm;
      if (beyond < -30) continue;
      const gradX = g[0] * cos + g[2] * sin;
      const gradY = g[1] * cos + g[3] * sin;
      if (selvage) mix(out, selvage.colour, coverage(beyond + selvage.widthMm, gradX, gradY));
      const share = coverage(beyond, gradX, gradY);
      if (share <= 0) continue;
      // Boards: a grain drawn out along one way, and a finer cloud.
      const shade =
        (1 + mottle * (noise(u * 0.012, v * 0.4) + 0.6 * noise(u * 0.9, v * 0.9))) *
        (1 - 0.3 * (1 - softStep(beyond - SHADOW_MM, SHADOW_MM)));
      for (let c = 0; c < 3; c++) own[c] = table[c] * shade;
      mix(out, own, share);
    }
  };
}
