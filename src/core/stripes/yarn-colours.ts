import { ciede2000 } from '../colour/ciede2000.js';
import { labFromLinear } from '../colour/lab.js';

type Linear = readonly [number, number, number];

/** A band of one direction of a check, as the mean of its whole length shows it. */
export interface MixedBand {
  /** Linear light. */
  readonly linear: Linear;
  readonly widthMm: number;
}

/** Yarns nearer than this (CIEDE2000) are one dye, dyed and photographed twice. */
export const SAME_YARN = 6;

/**
 * The yarns of a check woven half and half. Where band i of one direction crosses band j of the other the cloth shows
 * (a_i + b_j) / 2 in linear light, so the mean along band i is (a_i + b) / 2 with b the mean of all b_j, and the other way
 * round. That leaves open what may be moved from all a to all b: of the splits that make some yarn of one direction one of
 * the other's, the one is taken that makes most of the cloth of shared yarns; else both directions have the same mean.
 */
export function yarnColours(
  across: readonly MixedBand[],
  along: readonly MixedBand[],
): { across: Linear[]; along: Linear[] } {
  const mean = middle(meanOf(across), meanOf(along));
  const a = across.map(({ linear }) => combine(linear, 2, mean, -1));
  const b = along.map(({ linear }) => combine(linear, 2, mean, -1));
  const moved = (c: Linear) => ({
    across: a.map((yarn) => clamped(combine(yarn, 1, c, 1))),
    along: b.map((yarn) => clamped(combine(yarn, 1, c, -1))),
  });
  const even: Linear = [0, 0, 0];
  let best = even;
  let most = sharedCloth(a, b, across, along, even);
  for (const p of a) {
    for (const q of b) {
      const c = combine(q, 0.5, p, -0.5);
      if (!inGamut(a, c, 1) || !inGamut(b, c, -1)) continue;
      const shared = sharedCloth(a, b, across, along, c);
      if (shared > most + 0.02) {
        most = shared;
        best = c;
      }
    }
  }
  return moved(best);
}

const combine = (p: Linear, x: number, q: Linear, y: number): Linear => [
  x * p[0] + y * q[0],
  x * p[1] + y * q[1],
  x * p[2] + y * q[2],
];
const middle = (p: Linear, q: Linear): Linear => combine(p, 0.5, q, 0.5);
const clamped = (p: Linear): Linear => p.map((v) => Math.min(1, Math.max(0, v))) as unknown as Linear;
const SLACK = 0.03;
const inGamut = (yarns: readonly Linear[], c: Linear, sign: 1 | -1): boolean =>
  yarns.every((yarn) => combine(yarn, 1, c, sign).every((v) => v > -SLACK && v < 1 + SLACK));

function meanOf(bands: readonly MixedBand[]): Linear {
  const total = bands.reduce((sum, { widthMm }) => sum + widthMm, 0);
  return bands.reduce<Linear>((m, { linear, widthMm }) => combine(m, 1, linear, widthMm / total), [0, 0, 0]);
}

/** Part of the yarn whose colour the other direction has, too, 0..1. */
function sharedCloth(
  a: readonly Linear[],
  b: readonly Linear[],
  across: readonly MixedBand[],
  along: readonly MixedBand[],
  c: Linear,
): number {
  const p = a.map((yarn) => labFromLinear([...clamped(combine(yarn, 1, c, 1))]));
  const q = b.map((yarn) => labFromLinear([...clamped(combine(yarn, 1, c, -1))]));
  const part = (own: typeof p, other: typeof p, bands: readonly MixedBand[]): number => {
    const total = bands.reduce((sum, { widthMm }) => sum + widthMm, 0);
    return bands.reduce(
      (sum, { widthMm }, i) =>
        sum + (other.some((lab) => ciede2000(lab, own[i]) < SAME_YARN) ? widthMm / total : 0),
      0,
    );
  };
  return (part(p, q, across) + part(q, p, along)) / 2;
}
