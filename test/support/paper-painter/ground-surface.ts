import { mix, type PixelPainter } from '../photo-painter/cloth-surface.js';
import { linearFromHex } from '../photo-painter/linear-colour.js';
import { noiseTile } from '../photo-painter/noise-tile.js';
import { lineCoverage } from '../photo-painter/pixel-coverage.js';
import type { SeededRandom } from '../photo-painter/seeded-random.js';
import type { PaperGround } from './paper-scene.js';

/** What the paper lies on, painted as cloth is: a linear colour for each pixel. */
export function groundSurface(ground: PaperGround, random: SeededRandom): PixelPainter {
  if (ground.kind === 'plain') return plain(ground, random);
  if (ground.kind === 'boards') return boards(ground, random);
  if (ground.kind === 'cloth') return cloth(ground, random);
  return mat(ground, random);
}

function plain(
  { colour, mottle }: Extract<PaperGround, { kind: 'plain' }>,
  random: SeededRandom,
): PixelPainter {
  const own = linearFromHex(colour);
  const noise = noiseTile(random);
  return (u, v, _g, out) => {
    const cloud = noise(u * 0.02, v * 0.02) + 0.6 * noise(u * 0.2, v * 0.2) + 0.5 * noise(u * 1.1, v * 1.1);
    for (let c = 0; c < 3; c++) out[c] = own[c] * (1 + mottle * cloud);
  };
}

function boards(
  { colours, widthMm, angleDeg, grain, seamMm }: Extract<PaperGround, { kind: 'boards' }>,
  random: SeededRandom,
): PixelPainter {
  const tones = colours.map(linearFromHex);
  const noise = noiseTile(random);
  const cos = Math.cos((angleDeg * Math.PI) / 180);
  const sin = Math.sin((angleDeg * Math.PI) / 180);
  const offset = random.between(0, widthMm);
  return (u, v, g, out) => {
    const along = u * cos + v * sin;
    const across = -u * sin + v * cos + offset;
    const board = Math.floor(across / widthMm);
    const tone = tones[((board % tones.length) + tones.length) % tones.length];
    const own = 1 + 0.12 * noise(board * 3.7, 11.5);
    const wave = 6 * noise(along * 0.004, board * 5.1);
    const rings = noise(along * 0.012, (across + wave) * 0.5 + 17 * board);
    const fine = noise(along * 0.07, across * 2.1 + 5 * board);
    const pores = noise(along * 0.25, across * 5);
    const shade = own * (1 + grain * (0.6 * rings + 0.4 * fine + 0.25 * pores));
    for (let c = 0; c < 3; c++) out[c] = tone[c] * shade;
    const toSeam = across - Math.round(across / widthMm) * widthMm;
    const gx = -g[0] * sin + g[2] * cos;
    const gy = -g[1] * sin + g[3] * cos;
    const dark = lineCoverage(toSeam, seamMm / 2, gx, gy);
    for (let c = 0; c < 3; c++) out[c] *= 1 - 0.75 * dark;
  };
}

function cloth(
  { colour, threadMm, relief }: Extract<PaperGround, { kind: 'cloth' }>,
  random: SeededRandom,
): PixelPainter {
  const own = linearFromHex(colour);
  const noise = noiseTile(random);
  return (u, v, g, out) => {
    // Threads finer than the pixels leave even colour.
    const shown = Math.max(0, 1 - Math.hypot(g[0], g[1]) / threadMm);
    const weave = Math.sin((2 * Math.PI * u) / threadMm) * Math.sin((2 * Math.PI * v) / threadMm);
    const soft = noise(u * 0.012, v * 0.012) + 0.5 * noise(u * 0.06, v * 0.05);
    const slub = noise(u * 0.03, v / threadMm) + noise(u / threadMm, v * 0.03);
    const shade = 1 + relief * (shown * weave + 0.5 * soft + 0.4 * slub);
    for (let c = 0; c < 3; c++) out[c] = own[c] * Math.max(0.2, shade);
  };
}

function mat(
  { colour, lineColour, cellMm, angleDeg }: Extract<PaperGround, { kind: 'mat' }>,
  random: SeededRandom,
): PixelPainter {
  const own = linearFromHex(colour);
  const ink = linearFromHex(lineColour);
  const noise = noiseTile(random);
  const cos = Math.cos((angleDeg * Math.PI) / 180);
  const sin = Math.sin((angleDeg * Math.PI) / 180);
  return (u, v, g, out) => {
    const shade = 1 + 0.05 * noise(u * 0.03, v * 0.03) + 0.04 * noise(u * 1.4, v * 1.4);
    for (let c = 0; c < 3; c++) out[c] = own[c] * shade;
    const x = u * cos + v * sin;
    const y = -u * sin + v * cos;
    const line = (value: number, pitchMm: number, widthMm: number, gx: number, gy: number): number =>
      lineCoverage(value - Math.round(value / pitchMm) * pitchMm, widthMm / 2, gx, gy);
    const xx = g[0] * cos + g[2] * sin;
    const xy = g[1] * cos + g[3] * sin;
    const yx = -g[0] * sin + g[2] * cos;
    const yy = -g[1] * sin + g[3] * cos;
    for (const [pitchMm, widthMm, strength] of [
      [cellMm, 0.3, 0.6],
      [5 * cellMm, 0.6, 0.9],
    ]) {
      mix(out, ink, strength * line(x, pitchMm, widthMm, xx, xy));
      mix(out, ink, strength * line(y, pitchMm, widthMm, yx, yy));
    }
  };
}
