import { mix, ramp } from './cloth-surface.js';
import { linearFromHex } from './linear-colour.js';
import { noiseTile } from './noise-tile.js';
import { coverage, softStep } from './pixel-coverage.js';
import { RULERS, type RulerType, SHEETS } from './ruler-catalogue.js';
import { bodyColour, clearness } from './ruler-material.js';
import { rulerPrint } from './ruler-print.js';
import type { PlacedReference } from './scene.js';
import type { SeededRandom } from './seeded-random.js';

/** A reference lying on the cloth, in its own frame: s along, t up, from its lower left corner, mm. */
export interface ReferenceSurface {
  readonly sizeMm: readonly [number, number];
  /** Two marks, and the true length between them. */
  readonly ends: readonly [readonly [number, number], readonly [number, number]];
  readonly lengthMm: number;
  readonly unit: 'mm' | 'inch' | null;
  /** Lays the reference over what out holds already. g holds ds/dx, ds/dy, dt/dx, dt/dy in mm a px. */
  paintOver(s: number, t: number, g: Float64Array, out: Float64Array): void;
}

export function referenceSurface(placed: PlacedReference, random: SeededRandom): ReferenceSurface {
  const type = placed.type;
  if (type === 'sheet-a4' || type === 'sheet-letter' || type === 'card-id1')
    return sheetSurface(type, random);
  return rulerSurface(type, placed, random);
}

function rulerSurface(
  type: RulerType,
  { wear, gloss }: PlacedReference,
  random: SeededRandom,
): ReferenceSurface {
  const spec = RULERS[type];
  const noise = noiseTile(random);
  const { bodyMm, widthMm, holeAtMm } = spec;
  const body = bodyColour(spec.material, widthMm, noise);
  const print = rulerPrint(spec, wear, noise);
  const clear = clearness(spec.material);
  const ink = linearFromHex(spec.ink);
  const [row] = spec.rows;
  const lengthMm = row.divisions * row.divisionMm;
  const rootT = row.side === 'low' ? row.insetMm : widthMm - row.insetMm;
  const own = new Float64Array(3);
  return {
    sizeMm: [bodyMm, widthMm],
    ends: [
      [row.zeroMm, rootT],
      [row.zeroMm + row.sense * lengthMm, rootT],
    ],
    lengthMm,
    unit: row.unit,
    paintOver: (s, t, g, out) => {
      let share = boxShare(s, t, bodyMm, widthMm, g);
      if (share <= 0) return;
      if (holeAtMm !== null)
        share *= 1 - ramp((2.4 - Math.hypot(s - holeAtMm, t - widthMm / 2)) / Math.hypot(g[0], g[1]));
      body(s, t, own);
      // A clear body catches light along its edges.
      const rim = clear > 0 ? 0.5 * Math.exp(-Math.min(s, t, bodyMm - s, widthMm - t) / 0.5) : 0;
      for (let c = 0; c < 3; c++)
        own[c] = out[c] * (clear - clear * rim) + own[c] * (1 - clear + clear * rim);
      mix(own, ink, print(s, t, g));
      if (gloss) {
        const mirrored = gloss.strength * Math.exp(-(((s - gloss.atMm) / gloss.widthMm) ** 2));
        for (let c = 0; c < 3; c++) own[c] += mirrored;
      }
      mix(out, own, share);
    },
  };
}

function sheetSurface(type: keyof typeof SHEETS, random: SeededRandom): ReferenceSurface {
  const { widthMm, heightMm, cornerMm } = SHEETS[type];
  const noise = noiseTile(random);
  const white = linearFromHex(type === 'card-id1' ? '#dcd6c8' : '#f4f3ee');
  const stripe = linearFromHex('#4b5568');
  const gold = linearFromHex('#b99a4a');
  const own = new Float64Array(3);
  return {
    sizeMm: [widthMm, heightMm],
    ends: [
      [0, heightMm],
      [widthMm, heightMm],
    ],
    lengthMm: widthMm,
    unit: null,
    paintOver: (s, t, g, out) => {
      const pixelMm = Math.hypot(g[0], g[1]);
      const share =
        cornerMm === 0
          ? boxShare(s, t, widthMm, heightMm, g)
          : ramp(
              roundedDepth(s - widthMm / 2, t - heightMm / 2, widthMm / 2, heightMm / 2, cornerMm) / pixelMm,
            );
      if (share <= 0) return;
      const shade = 1 + 0.008 * noise(s * 0.03, t * 0.03) + 0.004 * noise(s * 1.7, t * 1.7);
      for (let c = 0; c < 3; c++) own[c] = white[c] * shade;
      if (type === 'card-id1') {
        mix(own, stripe, boxShare(s, t - 7, widthMm, 4, g));
        mix(own, gold, ramp(roundedDepth(s - 16, t - 30, 6, 4.5, 1.5) / pixelMm));
      }
      mix(out, own, share);
    },
  };
}

function boxShare(s: number, t: number, width: number, height: number, g: Float64Array): number {
  return (
    coverage(s, g[0], g[1]) *
    coverage(width - s, g[0], g[1]) *
    coverage(t, g[2], g[3]) *
    coverage(height - t, g[2], g[3])
  );
}

/** Signed depth inside a box with rounded corners, about its centre. */
function roundedDepth(x: number, y: number, halfWidth: number, halfHeight: number, corner: number): number {
  const dx = Math.abs(x) - halfWidth + corner;
  const dy = Math.abs(y) - halfHeight + corner;
  return corner - Math.hypot(Math.max(dx, 0), Math.max(dy, 0)) - Math.min(Math.max(dx, dy), 0);
}

/** Light left on the cloth beside a body that stands up: 1 far away, darker against its edge. */
export function shadowGain(
  s: number,
  t: number,
  [width, height]: readonly [number, number],
  heightAboveMm: number,
): number {
  const soft = 0.9 + 1.6 * heightAboveMm;
  const depth = Math.min(0.42, 0.16 + 0.4 * heightAboveMm);
  const inside =
    softStep(s + soft * 0.4, soft) *
    softStep(width + soft * 0.4 - s, soft) *
    softStep(t + soft * 0.4, soft) *
    softStep(height + soft * 0.4 - t, soft);
  return 1 - depth * inside;
}
