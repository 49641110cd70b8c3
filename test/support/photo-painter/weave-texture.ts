import { noiseTile } from './noise-tile.js';
import type { WeaveSpec } from './scene.js';
import type { SeededRandom } from './seeded-random.js';

const YARNS = 4096;

/**
 * Brightness of the cloth's surface about 1: single threads over and under, threads thicker or thinner than
 * their neighbours, and a slow cloudiness. Detail finer than the pixel is faded out, not aliased.
 */
export function weaveTexture(
  weave: WeaveSpec,
  pxPerMm: number,
  random: SeededRandom,
): (u: number, v: number) => number {
  const { threadMm, relief, slub } = weave;
  const pxPerThread = threadMm * pxPerMm;
  // A pixel averages a wave of period 2 threads by sinc; below 1.5 px a thread nothing is left of it.
  const reliefSeen = relief * Math.max(0, Math.min(1, (pxPerThread - 1.5) / 2));
  const slubSeen = slub * Math.min(1, Math.sqrt(pxPerThread));
  const warp = Float32Array.from({ length: YARNS }, () => random.gaussian() * slubSeen);
  const weft = Float32Array.from({ length: YARNS }, () => random.gaussian() * slubSeen * 0.7);
  const cloud = noiseTile(random);
  const fine = noiseTile(random);
  const perThread = 1 / threadMm;
  return (u, v) => {
    const a = u * perThread;
    const b = v * perThread;
    let shade = 1 + yarn(warp, a) + yarn(weft, b);
    shade += 0.3 * slub * cloud(u * 0.07, v * 0.07);
    if (reliefSeen > 0) {
      shade += 1.5 * relief * 0.2 * fine(a * 0.8, b * 0.8);
      // cos * cos of the over-and-under: bright where a warp thread lies on top.
      shade += reliefSeen * cosPi(a) * cosPi(b);
    }
    return shade;
  };
}

function yarn(table: Float32Array, at: number): number {
  const left = Math.floor(at);
  const t = at - left;
  const here = table[left & (YARNS - 1)];
  return here + t * (table[(left + 1) & (YARNS - 1)] - here);
}

/** cos(pi x) by a parabola: cheap, and the same sign and zeros. */
function cosPi(x: number): number {
  const t = x + 0.5;
  const cell = Math.floor(t);
  const f = t - cell;
  const bump = 4 * f * (1 - f);
  return cell & 1 ? -bump : bump;
}
