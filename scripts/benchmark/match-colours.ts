import { type Lab, labFromLinear } from '../../src/core/colour/lab.js';
import { type LinearRgb, linearFromRgb8, rgb8FromHex } from '../../src/core/colour/srgb.js';

export interface SharedColour {
  readonly hex: string;
  readonly share: number;
}

/**
 * For each measured colour the index of the true colour it stands for. The photo's light need not be neutral:
 * a gain per channel is fitted in turn with the assignment. Two measured colours share a true one only when
 * there are more of them than true ones.
 */
export function matchColours(measured: readonly SharedColour[], truth: readonly SharedColour[]): number[] {
  const seen = measured.map(({ hex }) => linearFromRgb8(rgb8FromHex(hex)));
  const dyes = truth.map(({ hex }) => linearFromRgb8(rgb8FromHex(hex)));
  const labs = seen.map(labFromLinear);
  // A dim or coloured light moves every colour: the fit starts from a neutral light and from the one that would give
  // both sides the same mean, and the better end counts.
  const starts: LinearRgb[] = [[1, 1, 1], meanGain(measured, seen, truth, dyes)];
  let best = Number.POSITIVE_INFINITY;
  let found: number[] = [];
  for (const start of starts) {
    let gain = start;
    for (let round = 0; round < 5; round++) {
      const lit = dyes.map((dye) => labFromLinear([dye[0] * gain[0], dye[1] * gain[1], dye[2] * gain[2]]));
      const { owners, cost } = assign(labs, lit, measured);
      if (cost < best) {
        best = cost;
        found = owners;
      }
      gain = [0, 1, 2].map((c) => {
        let over = 0;
        let under = 0;
        owners.forEach((owner, i) => {
          over += measured[i].share * seen[i][c] * dyes[owner][c];
          under += measured[i].share * dyes[owner][c] ** 2;
        });
        return under > 0 && over > 0 ? over / under : 1;
      }) as unknown as LinearRgb;
    }
  }
  return found;
}

function meanGain(
  measured: readonly SharedColour[],
  seen: readonly LinearRgb[],
  truth: readonly SharedColour[],
  dyes: readonly LinearRgb[],
): LinearRgb {
  const mean = (list: readonly SharedColour[], colours: readonly LinearRgb[], c: number): number => {
    const total = list.reduce((sum, { share }) => sum + share, 0);
    return colours.reduce((sum, colour, i) => sum + (total > 0 ? list[i].share / total : 1) * colour[c], 0);
  };
  return [0, 1, 2].map((c) => {
    const gain = mean(measured, seen, c) / mean(truth, dyes, c);
    return Number.isFinite(gain) && gain > 0 ? gain : 1;
  }) as unknown as LinearRgb;
}

/** Cheapest assignment by Lab distance, large colours first: one to one while true colours last. */
function assign(
  measured: readonly Lab[],
  truth: readonly Lab[],
  weights: readonly SharedColour[],
): { readonly owners: number[]; readonly cost: number } {
  const cost = measured.map((a, i) =>
    truth.map((b) => weights[i].share * Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2])),
  );
  const crowded = measured.length > truth.length;
  let best = Number.POSITIVE_INFINITY;
  let owners = measured.map(() => 0);
  const taken = truth.map(() => false);
  const chosen: number[] = [];
  const place = (i: number, sum: number): void => {
    if (sum >= best) return;
    if (i === measured.length) {
      best = sum;
      owners = [...chosen];
      return;
    }
    const order = truth.map((_, j) => j).sort((a, b) => cost[i][a] - cost[i][b]);
    for (const j of order) {
      if (taken[j] && !crowded) continue;
      const before = taken[j];
      taken[j] = true;
      chosen[i] = j;
      place(i + 1, sum + cost[i][j]);
      taken[j] = before;
    }
  };
  place(0, 0);
  return { owners, cost: best };
}
