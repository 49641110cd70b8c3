import { performance } from 'node:perf_hooks';
import { placePieces } from '../../src/core/place/place-pieces.js';
import { drawnPlan } from '../../test/support/drawn-plans.js';
import { exhaustiveCost } from '../../test/support/exhaustive-placing.js';
import { tickingModel } from '../../test/support/seam/models.js';

/** Combinations tried for one plan, at most; plans with more are counted as not tried. */
const MOST_TRIED = 3e6;
/** The grid of the exhaustive search, mm. */
const STEP_MM = 0.5;

/**
 * Plans drawn by chance, each placed and compared with every combination of places on a grid; then larger ones, timed: 8 copies with 12 wishes,
 * and 20 with 30.
 */
export function benchPlace(count: number, seed: number): void {
  const model = tickingModel();
  let tried = 0;
  let dearer = 0;
  let most = 0;
  for (let k = 0; k < count; k++) {
    const { plan, pieces } = drawnPlan(model, seed + k, 1 + (k % 2), 1 + (k % 5));
    const placed = placePieces(plan, pieces, model);
    if (!placed.ok) throw new Error(placed.refusal.found);
    const least = exhaustiveCost(placed.value, STEP_MM, MOST_TRIED);
    if (least === null) continue;
    tried++;
    const over = placed.value.found[0].cost - least;
    most = Math.max(most, over);
    if (over > 1e-6) {
      dearer++;
      console.log(
        `plan ${seed + k}: ${placed.value.found[0].cost.toFixed(4)} found, ${least.toFixed(4)} by trying all`,
      );
    }
  }
  console.log(
    `${count} plans drawn, ${tried} of them tried out on a grid of ${STEP_MM} mm: ${dearer} cost more than the best tried, at most by ${most.toFixed(4)}`,
  );
  for (const [copies, wishes] of [
    [8, 12],
    [20, 30],
  ]) {
    const times: number[] = [];
    for (let k = 0; times.length < 5; k++) {
      const { plan, pieces } = drawnPlan(model, seed + 1000 + k, Math.round(copies / 1.6), wishes);
      if (pieces.reduce((sum, piece) => sum + piece.copies.length, 0) !== copies) continue;
      const from = performance.now();
      placePieces(plan, pieces, model);
      times.push(performance.now() - from);
    }
    times.sort((a, b) => a - b);
    console.log(
      `${copies} copies, ${wishes} wishes: median ${(times[2] / 1000).toFixed(2)} s, longest ${(times[4] / 1000).toFixed(2)} s of ${times.length}`,
    );
  }
}
